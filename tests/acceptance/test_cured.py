"""Lists whose cause or fix was wrong once. Each says in its ``#:`` lines the verdict, the first rule and how many findings there
are besides notes, and the first fix, if there is one that can be proven."""

from __future__ import annotations

from pathlib import Path

import pytest

from checker import check

LISTS = sorted((Path(__file__).parent / "cured").glob("*.legs"))


def announced(text: str) -> tuple[str, str, int, str | None]:
    """Verdict, first rule, number of findings and first fix that a list announces."""
    said = [line.removeprefix("#:").strip() for line in text.splitlines() if line.startswith("#:")]
    verdict, rule, count = said[0].split(", ")
    return verdict, rule, int(count), said[1] if len(said) > 1 else None


@pytest.mark.parametrize("path", LISTS, ids=lambda path: path.stem)
def test_the_cause_comes_first_with_the_fix_that_a_hand_would_make(path: Path) -> None:
    text = path.read_text("utf-8")

    report = check(text)

    grave = [finding for finding in report.findings if finding.severity != "note"]
    fix = grave[0].fixes[0].say if grave[0].fixes else None
    assert announced(text) == (report.verdict, grave[0].rule, len(grave), fix)
