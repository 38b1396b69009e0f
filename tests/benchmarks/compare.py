"""What a comparison costs: 10, 30, 100 and 300 parts; the same circuit, one difference, ten, and two that have little in common.

Run it with ``python -m tests.benchmarks.compare``. Times are printed with their ratio to the first column of the same run,
reading and wiring up the list, so that two machines can be set side by side.
"""

from __future__ import annotations

from random import Random
from time import process_time

from checker.comparing import Comparison, compare
from checker.survey import Wired, wire_up
from parts_library import load_library

SIZES = (10, 30, 100, 300)
STAGE_PARTS = 5
PINS = 12


def greenhouse(parts: int, chance: Random) -> list[str]:
    """A made-up list of about so many parts: vents driven by transistors, each with a lamp that shows it."""
    lines = ["supply PACK 9V"]
    for number in range(max(1, parts // STAGE_PARTS)):
        if number % PINS == 0:
            lines += [f"part U{number // PINS + 1} controller-5v", f"wire U{number // PINS + 1}.GND to PACK.-"]
        u, n = f"U{number // PINS + 1}", str(number + 1)
        ohms = chance.choice(("220", "330", "470", "1k"))
        lines += [
            f"part Q{n} 2N2222A", f"part RB{n} {ohms}", f"part M{n} motor 9V 100mA", f"part DX{n} 1N4001", f"part RL{n} 1k",
            f"wire {u}.D{number % PINS + 2} to RB{n}.1", f"wire RB{n}.2 to Q{n}.B", f"wire Q{n}.E to PACK.-",
            f"wire Q{n}.C to M{n}.1", f"wire M{n}.2 to PACK.+", f"wire DX{n}.A to Q{n}.C", f"wire DX{n}.K to PACK.+",
            f"wire RL{n}.1 to RB{n}.{chance.choice('12')}", f"wire RL{n}.2 to PACK.-",
        ]
    return lines


def shuffled(lines: list[str], chance: Random) -> list[str]:
    return chance.sample(lines, len(lines))


def changed(lines: list[str], times: int, chance: Random) -> list[str]:
    """So many wires with one end at the end of another wire."""
    lines = list(lines)
    wires = [number for number, line in enumerate(lines) if line.startswith("wire")]
    for number in chance.sample(wires, times):
        other = lines[chance.choice(wires)].split()[3]
        lines[number] = f"{' '.join(lines[number].split()[:3])} {other}"
    return lines


def wired(lines: list[str]) -> Wired:
    return wire_up("\n".join(lines), load_library())


def timed(reference: Wired, given: Wired) -> tuple[float, Comparison]:
    start = process_time()
    comparison = compare(reference, given)
    return process_time() - start, comparison


def main() -> None:
    wired(greenhouse(10, Random(0)))
    print(f"{'parts':>5} {'read':>9} {'same':>14} {'1 wire':>14} {'10 wires':>14} {'another':>14}")
    for size in SIZES:
        chance = Random(size)
        lines = greenhouse(size, chance)
        start = process_time()
        reference = wired(lines)
        read = process_time() - start
        others = [shuffled(lines, chance), changed(shuffled(lines, chance), 1, chance),
                  changed(shuffled(lines, chance), min(10, size), chance), greenhouse(size, Random(size + 1))]
        row = []
        for other in others:
            seconds, found = timed(reference, wired(other))
            told = sum(one.counts for one in found.differences)
            row.append(f"{seconds * 1000:6.0f} ms {told:3d}{'+' if found.bounded else ' '}")
        print(f"{size:5d} {read * 1000:6.0f} ms " + " ".join(f"{cell:>14}" for cell in row))


if __name__ == "__main__":
    main()
