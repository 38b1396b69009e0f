"""Which reading of the list the sheet is for: the one in which the least is wrong, since that is how the board is meant.

Input: a surveyed list. Output: the same list with what it leaves open written into it, surveyed anew, and what that is in
words. A list with one reading is handed back as it is.
"""

from __future__ import annotations

from msgspec import Struct

from checker.fixes.draft import Draft, applied
from checker.judge import find_all
from checker.report.model import SEVERITIES
from checker.rules.case import Case
from checker.seating.model import Reading
from checker.sentences.words import listed
from checker.survey import Survey, survey
from grammar.syntax_tree import Part
from parts_library import Library


class Settled(Struct, frozen=True):
    """A survey with one reading, and ``supposed``: what is taken to be so ("the longer leg is at c12"), "" for nothing."""

    surveyed: Survey
    supposed: str = ""


def settled(surveyed: Survey, library: Library) -> Settled:
    """The list in its best reading; where that cannot be written down, as it is."""
    if len(surveyed.operatings) < 2:
        return Settled(surveyed)
    reading = _best(surveyed)
    parts = _in_question(surveyed)
    words = listed([*(reading.seats[key].words for key in parts), *_rails(surveyed, reading)])
    wanted = {key: reading.seats[key].legs for key in parts}
    again, = survey([applied(surveyed.bench.tree.lines, _written(surveyed, reading, parts).edits())], library)
    first = again.seated.readings[0]
    same = again.operatings and all(first.seats[key].legs == wanted[key] for key in parts if key in first.seats)
    return Settled(again if same else surveyed, words)


def _best(surveyed: Survey) -> Reading:
    """The reading whose worst finding is the mildest; of equals the list's own."""
    mildest, best = -1, surveyed.operatings[0]
    for operating in surveyed.operatings:
        worst = min((found.rank for found in find_all(Case(operating))), default=len(SEVERITIES))
        if worst > mildest:
            mildest, best = worst, operating
    return best.circuit.reading


def _in_question(surveyed: Survey) -> list[str]:
    """The parts that sit otherwise in some reading, in the order of the list."""
    differing = {key for reading in surveyed.seated.readings for key in reading.differs}
    return [key for key in surveyed.bench.parts if key in differing]


def _rails(surveyed: Survey, reading: Reading) -> list[str]:
    """What the reading says about rails that may be split; nothing where all readings agree."""
    if len({tuple(plan.split for plan in one.plans.values()) for one in surveyed.seated.readings}) < 2:
        return []
    split = any(plan.split for plan in reading.plans.values())
    return ["the rails are split in the middle" if split else "the rails run through"]


def _written(surveyed: Survey, reading: Reading, parts: list[str]) -> Draft:
    """The list with the marks and claims of the reading in place of its own."""
    draft = Draft(surveyed.bench.tree.lines)
    for key in parts:
        statement, answer = surveyed.bench.parts[key].statement, reading.seats[key].answer
        if not isinstance(statement, Part) or statement.place is None or not answer:
            continue
        said = [*statement.marks, *([statement.claim] if statement.claim is not None else [])]
        if answer == "measured" and statement.claim is not None:
            draft.add_words(statement.claim.span, answer)
            continue
        for one in said:
            draft.replace(one.span, "")
        draft.add_words(statement.place.span, answer)
    for words in _rails(surveyed, reading):
        for board in surveyed.bench.boards.values():
            draft.add_words(board.span, "rails split" if "split" in words else "rails joined")
    return draft
