"""Lists with slips of the fingers: whatever is typed, there is a report, and every finding's place lies in the text."""

from __future__ import annotations

import random

import pytest

from checker import check
from checker.examples import names, text_of

NONSENSE = ("board half\nsupply P 0V on L+ L-\npart R1 -220 in a5 a9\npart R2 1kk in b5 b9\npart Q1 2N3904 in c1 c2\n"
            "part Z1 frobnic in d1 d2\npart R3 100 in e1 e1\nwire L+5 to a5\nwire a9 to L-9\n")
SEEDS = range(60)
LETTERS = "abcdejLRUQ0159+-.: \n#\"Ωµ"


def slipped(seed: int) -> str:
    """A shipped list with a few lines lost, doubled or exchanged, and a few characters mistyped."""
    chance = random.Random(seed)
    lines = text_of(chance.choice(names())).split("\n")
    for _ in range(chance.randint(0, 3)):
        at = chance.randrange(len(lines))
        lines[at:at + 1] = chance.choice([[], [lines[at]] * 2, [lines[chance.randrange(len(lines))]]])
        lines = lines or [""]
    text = "\n".join(lines)
    for _ in range(chance.randint(0, 6)):
        at = chance.randrange(len(text) + 1)
        text = text[:at] + chance.choice(LETTERS) + text[at + chance.randint(0, 2):]
    return text


@pytest.mark.parametrize("text", [NONSENSE, *map(slipped, SEEDS)], ids=["nonsense", *map(str, SEEDS)])
def test_there_is_a_report_with_places_in_the_text(text: str) -> None:
    report = check(text)
    lines = max(len(report.lines), 1)

    assert report.verdict and report.headline
    assert [] == [f for f in report.findings if not 1 <= f.span.line <= f.span.end_line <= lines]
    assert [] == [f for f in report.findings if f.span.column < 1]
    assert [] == [f for f in report.findings if not f.message or f.message.endswith(".")]
