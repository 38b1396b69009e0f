"""The words of a batch that several of its pages share."""

from __future__ import annotations

import re

from checker.batch.model import MISSING, NOT_CHECKED, Mark, Row
from checker.report.words import VERDICT_WORDS
from checker.rules import explain

PLAIN_VERDICTS = {
    "do-not-power": "do not power",
    "unreadable": "could not read all of it",
    "will-not-work": "will not work",
    "look-first": "look first",
    "clear": "clear",
    NOT_CHECKED: "not checked",
    MISSING: "missing",
}
"""Verdicts as a class page and a table say them, and what stands there without one."""

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


def first_sentence(text: str, sentences: int = 1) -> str:
    """The first sentences of a paragraph, without line ends."""
    found = re.split(r"(?<=[.:]) +(?=[A-Z])", " ".join(text.split()))
    return " ".join(found[:sentences])


def meaning(rule: str) -> str:
    """What a rule means, in its own first sentence."""
    return first_sentence(explain(rule).means)


def said_of(row: Row) -> str:
    """What stands beside a verdict: the headline, or why there is none."""
    return row.headline or row.problem


_CAPITALS = {"led": "LED", "pwm": "PWM"}


def title_of(rule: str) -> str:
    """The name of a rule as a heading: "LED reversed"."""
    words = " ".join(_CAPITALS.get(word, word) for word in rule.split("-"))
    return words[:1].upper() + words[1:]
