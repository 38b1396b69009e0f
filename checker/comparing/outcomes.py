"""What became of expectations, as text to read and as JSON.

Input: the behaviour of each list with the names of the files. Output: a verdict and a line for each expectation.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

import msgspec

from checker.comparing.behaviour import Behaviour, Outcome
from checker.report.page import Page
from checker.report.prose import prose, prose_width
from checker.report.words import file_name
from checker.version import VERSION

_WORDS = {True: "met", False: "missed", None: "open"}


class Judgement(msgspec.Struct, frozen=True):
    """The behaviour of one list, with the names of its file and of that of the expectations."""

    file: str
    expectations: str
    behaviour: Behaviour


def render(name: str, judgements: Sequence[Judgement], page: Page) -> str:
    """The judgements in the format ``name``, a key of ``FORMATS``; one object each in JSON, an array of several."""
    return FORMATS[name](judgements, page)


def _terminal(judgements: Sequence[Judgement], page: Page) -> str:
    width = prose_width(page)
    return "\n".join("\n".join(_one(judgement, width)) + "\n" for judgement in judgements)


def _one(judgement: Judgement, width: int) -> Iterator[str]:
    outcomes = judgement.behaviour.outcomes
    verdict = "DOES WHAT IS EXPECTED" if judgement.behaviour.all_met else "DOES NOT DO WHAT IS EXPECTED"
    yield from (verdict, "=" * len(verdict))
    met = sum(outcome.met is True for outcome in outcomes)
    yield from prose(f"{file_name(judgement.file)}: {met} of {len(outcomes)} expectations met, from "
                     f"{file_name(judgement.expectations)}", width)
    if judgement.behaviour.unread:
        yield from prose("Not all of it could be read: what could was judged.", width)
    yield ""
    for outcome in outcomes:
        yield from prose(outcome.text, width, f"{_WORDS[outcome.met] + ':':8}")
        yield from prose(f"{outcome.say}{_state(outcome)}", width, " " * 8)


def _state(outcome: Outcome) -> str:
    switched = [f"{name} {option}" for name, option in outcome.state.items()]
    return f" ({', '.join(switched[:4])})" if switched else ""


def _json(judgements: Sequence[Judgement], page: Page) -> str:
    objects = [{"legwise": VERSION, "file": one.file, "expectations": one.expectations, "met": one.behaviour.all_met,
                "unread": one.behaviour.unread, "outcomes": one.behaviour.outcomes} for one in judgements]
    return msgspec.json.format(msgspec.json.encode(objects if page.several else objects[0]), indent=2).decode("utf-8") + "\n"


FORMATS: dict[str, Callable[[Sequence[Judgement], Page], str]] = {"terminal": _terminal, "json": _json}
"""The formats of judgements, each a function of them and the page."""
