"""Correct lists of any size in three styles, for measuring what a check costs: branches on rails, one long chain,
transistor stages on controller pins.

Input: how many parts. Output: the text of a list with about so many parts on as many full boards as they need.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

ROWS = 63
FEED_ROW = 62
PINS = tuple(f"D{number}" for number in range(2, 14))


class Bench:
    """Hands out free strips on ever more boards, whose rails are joined to those of the first."""

    def __init__(self, heading: str) -> None:
        self.lines = [heading, "board B1 full rails joined"]
        self.boards = 1
        self._strips = self._on_board()

    def strips(self, count: int) -> list[tuple[str, str, int]]:
        """Board, letters and row of so many strips in one column of strips, one below the other."""
        while True:
            found = [strip for strip, _ in zip(self._strips, range(count))]
            if len(found) == count and len({strip[:2] for strip in found}) == 1:
                return found
            if len(found) < count:
                self._add_board()

    def rail(self, sign: str) -> str:
        """A rail of the board that is in use."""
        return f"B{self.boards}:L{sign}"

    def say(self, *lines: str) -> None:
        self.lines.extend(lines)

    def text(self) -> str:
        return "\n".join(self.lines) + "\n"

    def _on_board(self) -> Iterator[tuple[str, str, int]]:
        return ((f"B{self.boards}", letters, row) for letters in ("abcde", "fghij") for row in range(1, FEED_ROW))

    def _add_board(self) -> None:
        self.boards += 1
        self.lines.insert(1, f"board B{self.boards} full rails joined")
        self.say(*(f"wire B{self.boards - 1}:L{sign}{ROWS - 1} to B{self.boards}:L{sign}1" for sign in "+-"))
        self._strips = self._on_board()


def hole(strip: tuple[str, str, int], number: int) -> str:
    """The hole of a strip with this number, 0 to 4."""
    board, letters, row = strip
    return f"{board}:{letters[number]}{row}"


def branches(parts: int) -> str:
    """A resistor and an LED from plus to minus, again and again."""
    bench = Bench('title "Model village, street lamps"')
    bench.say("supply PS wall-adapter-5v on B1:L+1 B1:L-1")
    for number in range(1, max(parts // 2, 1) + 1):
        top, middle, bottom = bench.strips(3)
        bench.say(
            f"part R{number} 1k in {hole(top, 1)} {hole(middle, 1)}",
            f"part LED{number} led red in {hole(middle, 2)} {hole(bottom, 2)} long {hole(middle, 2)}",
            f"wire red {bench.rail('+')} to {hole(top, 0)}",
            f"wire black {bench.rail('-')} to {hole(bottom, 0)}",
        )
    return bench.text()


def chain(parts: int) -> str:
    """Resistors in one row from plus to minus."""
    bench = Bench('title "Voltage ladder"')
    bench.say("supply PS 9V limit 1A on B1:L+1 B1:L-1")
    strip = bench.strips(1)[0]
    bench.say(f"wire red B1:L+2 to {hole(strip, 0)}")
    for number in range(1, parts + 1):
        following = bench.strips(1)[0]
        if following[:2] == strip[:2]:
            start = strip
        else:
            start = following
            following = bench.strips(1)[0]
            bench.say(f"wire {hole(strip, 4)} to {hole(start, 4)}")
        bench.say(f"part R{number} 100 in {hole(start, 1 + number % 2)} {hole(following, 1 + number % 2)}")
        strip = following
    bench.say(f"wire black {bench.rail('-')} to {hole(strip, 0)}")
    return bench.text()


def stages(parts: int) -> str:
    """Pins that switch transistors: a base resistor, the transistor, an LED with its resistor; every fifth stage a motor
    with its diode instead."""
    bench = Bench('title "Fairground, rides and lamps"')
    bench.say("supply PS bench-supply 5V limit 20A on B1:L+1 B1:L-1")
    number = 0
    while number * 4 < parts:
        controller, pin = f"U{number // len(PINS) + 1}", PINS[number % len(PINS)]
        number += 1
        if pin == PINS[0]:
            bench.say(f"part {controller} controller-5v", f"wire black {controller}.GND to {bench.rail('-')}")
        emitter, base, collector, resistor, load = bench.strips(5)
        bench.say(
            f"pin {controller}.{pin} output",
            f"wire {controller}.{pin} to {hole(resistor, 0)}",
            f"part RB{number} 1k in {hole(resistor, 1)} {hole(base, 1)}",
            f"part Q{number} PN2222A in {hole(emitter, 2)} {hole(base, 2)} {hole(collector, 2)} flat faces a as E B C",
            f"wire black {bench.rail('-')} to {hole(emitter, 0)}",
            *_load(bench, number, collector, load),
        )
    return bench.text()


def _load(bench: Bench, number: int, collector: tuple[str, str, int], load: tuple[str, str, int]) -> list[str]:
    if number % 5 == 0:
        return [
            f"part M{number} motor 5V 30mA stall 90mA",
            f"wire M{number}.1 to {hole(collector, 4)}",
            f"wire M{number}.2 to {bench.rail('+')}",
            f"part D{number} 1N4001 anode {hole(collector, 3)}, cathode {hole(load, 3)}",
            f"wire red {bench.rail('+')} to {hole(load, 0)}",
        ]
    return [
        f"part RL{number} 330 in {bench.rail('+')} {hole(load, 3)}",
        f"part LED{number} led green in {hole(load, 1)} {hole(collector, 1)} long {hole(load, 1)}",
    ]


STYLES: dict[str, Callable[[int], str]] = {"branches": branches, "chain": chain, "stages": stages}
