"""Sentences of findings: for each rule and case the headline and what follows from it.

A headline is one fact in at most a dozen words, without a period and without advice. The second sentence says what
happens or why. Both speak of the board, never of the model.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeAlias

from checker.rules.base import Found
from checker.sentences import causes, numbers, placing, reading, working
from checker.sentences.words import moved

Sentence: TypeAlias = Callable[[Found], str]

TABLES: tuple[dict[tuple[str, str], tuple[Sentence, Sentence]], ...] = (
    reading.SENTENCES, placing.SENTENCES, causes.SENTENCES, numbers.SENTENCES, working.SENTENCES)
SENTENCES: dict[tuple[str, str], tuple[Sentence, Sentence]] = {
    key: pair for table in TABLES for key, pair in table.items()}


def message_of(found: Found) -> str:
    """The headline of a finding, with the wrong rail named where a move to the right one is proven."""
    message = _pair(found)[0](found)
    if "wrong" in found.facts:
        message += f": {moved(found)} is in {found.facts['from']} instead of {found.facts['to']}"
    return message


def why_of(found: Found) -> str:
    """What follows from it, or ""; for a question, what follows from each answer."""
    return causes.outcomes_of(found, message_of) if found.answers else _pair(found)[1](found)


def _pair(found: Found) -> tuple[Sentence, Sentence]:
    pair = SENTENCES.get((found.rule, found.case)) or SENTENCES.get((found.rule, ""))
    if pair is None:
        raise KeyError(f"no sentence for {found.rule}, case {found.case!r}")
    return pair
