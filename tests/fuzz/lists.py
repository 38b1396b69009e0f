"""A structured fuzzer of whole lists: ``python -m tests.fuzz.lists [--count N] [--seed S] [--slow SECONDS]``.

Shipped and tested lists are mutated as hands mutate them (lines lost, doubled, moved; parts turned; holes, values, kinds and
pins exchanged for others of the language; characters mistyped) and checked. None may crash, and each finding must have a place
in the text and a sentence. Prints how many there were, the slowest, and the mutated lists that broke something.
"""

from __future__ import annotations

import argparse
import random
import re
import sys
import time
import traceback
from collections.abc import Callable, Iterator
from pathlib import Path

from checker import check
from checker.report.model import Finding, Report

ROOT = Path(__file__).parents[2]
HOLE = re.compile(r"\b[a-j]\d{1,2}\b")
VALUE = re.compile(r"\b\d+(?:\.\d+)?(?:k|M|R|V|mA|A|uF|nF)?\b")
KINDS = ("resistor", "led red", "diode", "1N4148", "2N3904", "IRLZ44N", "7805", "motor 5V 100mA", "NE555", "button", "relay 5V",
         "servo", "pot 10k", "seven-segment", "PC817", "LM358", "solenoid 12V 300mA", "MCR100-6", "2N5457", "buzzer 5V", "100nF",
         "220uF 16V electrolytic", "rgb-led common-anode", "ULN2003A", "controller-3v3", "stepper 5V", "zener 5V1", "74HC595")
VALUES = ("0", "1", "-5", "0.1", "4k7", "1M", "100000k", "9V", "0V", "1000V", "5A", "1uF", "1e9", "NaN", "50%", "3,3V")
MARKS = ("flat faces a", "flat faces row 1", "band a5", "long c10", "notch row 10", "tab faces j", "measured", "as E B C",
         "turned")
LETTERS = "abcdefghij0123456789+-.:@# \t\"ΩµLRUQD,"


def seeds() -> list[str]:
    """Every list of the project."""
    folders = (ROOT / "checker" / "examples", ROOT / "tests")
    return [path.read_text("utf-8") for folder in folders for path in sorted(folder.rglob("*.legs"))]


def mutated(seed: int, texts: list[str]) -> str:
    """One list after one to eight mutations."""
    chance = random.Random(seed)
    lines = chance.choice(texts).split("\n")
    for _ in range(chance.randint(1, 8)):
        lines = chance.choice(MUTATIONS)(lines, chance, texts) or [""]
    return "\n".join(lines)


def _line(change: Callable[[str, random.Random], str]) -> Callable[[list[str], random.Random, list[str]], list[str]]:
    """A mutation of one line."""

    def mutation(lines: list[str], chance: random.Random, texts: list[str]) -> list[str]:
        at = chance.randrange(len(lines))
        return [*lines[:at], change(lines[at], chance), *lines[at + 1:]]

    return mutation


def _swapped_in(pattern: re.Pattern[str], new: Callable[[random.Random], str]) -> Callable[[str, random.Random], str]:
    def change(line: str, chance: random.Random) -> str:
        found = list(pattern.finditer(line))
        if not found:
            return line
        match = chance.choice(found)
        return line[:match.start()] + new(chance) + line[match.end():]

    return change


def _mistyped(line: str, chance: random.Random) -> str:
    at = chance.randrange(len(line) + 1)
    return line[:at] + chance.choice(LETTERS) + line[at + chance.randint(0, 2):]


def _another_kind(line: str, chance: random.Random) -> str:
    words = line.split()
    return " ".join([*words[:2], chance.choice(KINDS), *words[3:]]) if words[:1] == ["part"] else line


def _moved(lines: list[str], chance: random.Random, texts: list[str]) -> list[str]:
    kept = list(lines)
    kept.insert(chance.randrange(len(kept) + 1), kept.pop(chance.randrange(len(kept))))
    return kept


def _crossed(lines: list[str], chance: random.Random, texts: list[str]) -> list[str]:
    """Half of this list, half of another."""
    others = chance.choice(texts).split("\n")
    return lines[:chance.randrange(len(lines) + 1)] + others[chance.randrange(len(others)):]


MUTATIONS: tuple[Callable[[list[str], random.Random, list[str]], list[str]], ...] = (
    lambda lines, chance, texts: [line for number, line in enumerate(lines) if number != chance.randrange(len(lines))],
    lambda lines, chance, texts: lines + [chance.choice(lines)],
    _moved,
    _crossed,
    _line(_mistyped),
    _line(_mistyped),
    _line(_another_kind),
    _line(_swapped_in(HOLE, lambda chance: f"{chance.choice('abcdefghij')}{chance.randint(1, 64)}")),
    _line(_swapped_in(HOLE, lambda chance: chance.choice(("L+", "L-", "R+12", "U1.D9", "@node", "GND")))),
    _line(_swapped_in(VALUE, lambda chance: chance.choice(VALUES))),
    _line(lambda line, chance: f"{line} {chance.choice(MARKS)}"),
)


def complaints(report: Report) -> Iterator[str]:
    """What is wrong with a report, whatever the list."""
    most = max(len(report.lines), 1)
    for finding in _all(report.findings):
        if not 1 <= finding.span.line <= finding.span.end_line <= most or finding.span.column < 1:
            yield f"{finding.rule} lies outside the text"
        if not finding.message:
            yield f"{finding.rule} has no sentence"


def _all(findings: tuple[Finding, ...]) -> Iterator[Finding]:
    for finding in findings:
        yield finding
        yield from _all(finding.consequences)


def main() -> int:
    """Fuzz a number of lists; the status is 1 where something broke or hung."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--count", type=int, default=2_000)
    asked.add_argument("--seed", type=int, default=0)
    asked.add_argument("--slow", type=float, default=2.0, help="CPU seconds from which a list counts as hanging")
    said = asked.parse_args()
    texts, broken, slowest, slow = seeds(), 0, (0.0, -1), []
    for seed in range(said.seed, said.seed + said.count):
        text = mutated(seed, texts)
        began = time.process_time()
        try:
            problems = list(complaints(check(text)))
        except Exception:
            problems = [traceback.format_exc()[-800:]]
        spent = time.process_time() - began
        slowest = max(slowest, (spent, seed))
        if spent > said.slow:
            slow.append(seed)
            print(f"seed {seed}: {spent:.1f} s", flush=True)
        if problems:
            broken += 1
            print(f"seed {seed}: {problems[0]}", flush=True)
    print(f"{said.count} lists, {broken} broke something, {len(slow)} over {said.slow} s, the slowest {slowest[0]:.2f} s "
          f"(seed {slowest[1]})")
    return 1 if broken or slow else 0


if __name__ == "__main__":
    sys.exit(main())
