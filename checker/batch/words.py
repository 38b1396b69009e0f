"""The words of a batch that several of its pages share."""

from __future__ import annotations

import re
from collections.abc import Iterable

from checker.batch.model import MISSING, NOT_CHECKED, Mark, Row
from checker.report.words import VERDICT_WORDS
from checker.rules import explain

PLAIN_VERDICTS = {
    "do-not-power": "must not be powered",
    "unreadable": "not wholly read",
    "will-not-work": "will not work",
    "look-first": "to be looked at first",
    "clear": "clear",
    NOT_CHECKED: "not checked",
    MISSING: "missing",
}
"""What is said of a number of lists with a verdict, and of those without one."""

ANOTHER = "ANOTHER CIRCUIT"
"""The stamp of a list that is clear, and not the circuit that was asked for."""

ALIKE = "These lists are alike; that may have good reasons."


def loud(verdict: str) -> str:
    """The verdict as the report heads it."""
    return VERDICT_WORDS.get(verdict, PLAIN_VERDICTS[verdict].upper())


def counted(number: int, one: str, more: str | None = None) -> str:
    """"1 list", "3 lists"."""
    return f"{number} {one if number == 1 else more or one + 's'}"


def points(mark: Mark) -> str:
    """"7.5 of 10"; "to be looked at, of 10" without points."""
    return f"{mark.points:g} of {mark.most:g}" if mark.points is not None else f"by hand, of {mark.most:g}"


def share_alike(likeness: float) -> str:
    """"97%"; 100 only where nothing is different."""
    return f"{min(round(100 * likeness), 100 if likeness >= 1.0 else 99)}%"


def first_sentence(text: str, sentences: int = 1) -> str:
    """The first sentences of a paragraph, without line ends."""
    found = re.split(r"(?<=[.:]) +(?=[A-Z])", " ".join(text.split()))
    return " ".join(found[:sentences])


def meaning(rule: str) -> str:
    """What a rule means, in its own first sentence."""
    return first_sentence(explain(rule).means)


def stamp(row: Row) -> str:
    """The verdict of a row as its page heads it: what is clear by itself need not be what was asked for."""
    return ANOTHER if is_beside_the_point(row) else loud(row.verdict)


def stamp_class(row: Row) -> str:
    """The class name that goes with the stamp: that of a verdict."""
    return "look-first" if is_beside_the_point(row) else row.verdict


def is_beside_the_point(row: Row) -> bool:
    """True for a list that is clear by itself and another circuit than the reference."""
    return row.another and row.verdict == "clear"


def said_of(row: Row) -> str:
    """What stands beside a verdict: the headline, or why there is none; where there is a reference also how far it is from
    that."""
    alike = f"{share_alike(row.likeness or 0.0).replace('%', ' %')} alike"
    if is_beside_the_point(row):
        return f"It is not the circuit asked for ({alike}). By itself it is clear: nothing in it is over its limits"
    if row.verdict == "clear" and row.beside:
        return f"Nothing is over its limits, but it is not the circuit asked for: {row.beside}"
    also = f". It is also another circuit than the one asked for ({alike})" if row.another else ""
    return f"{row.headline or row.problem}{also}"


def found_in_short(row: Row) -> str:
    """What was found, for a row of a table: of a list that is clear only how it differs from the reference."""
    return row.beside if row.verdict == "clear" else said_of(row)


def remarks_of(row: Row) -> tuple[str, ...]:
    """All remarks for whoever marks."""
    return (*row.remarks, *([f"the list says it is by {row.by}"] if row.by else []))


def verdicts_in_words(counts: Iterable[tuple[str, int]], another: int) -> str:
    """"2 must not be powered, 3 clear (1 of them is another circuit than the one asked for)"."""
    of_them = f" ({another} of them {'is' if another == 1 else 'are'} another circuit than the one asked for)"
    return ", ".join(f"{count} {PLAIN_VERDICTS[verdict]}{of_them if another and verdict == 'clear' else ''}"
                     for verdict, count in counts if count)
