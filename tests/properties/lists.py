"""The lists that the properties are asked of, as they ship and with one slip of the hand in them.

Input: the folders of lists and a source of chance. Output: texts. A slip makes findings of most rules, so that what must
not change is asked of wrong lists too, and not of correct ones only.
"""

from __future__ import annotations

from pathlib import Path
from random import Random

from hypothesis import strategies as st
from msgspec import structs

from grammar import read
from grammar.printer import show
from grammar.syntax_tree import Hole, MarkAt, Part, Rail, Statement, Wire
from tests.properties.points import with_points

ROOT = Path(__file__).parents[2]
FOLDERS = (ROOT / "checker" / "examples", ROOT / "tests" / "clear", ROOT / "tests" / "faults" / "circuits")
LISTS = {f"{folder.name}/{path.stem}": path.read_text(encoding="utf-8")
         for folder in FOLDERS for path in sorted(folder.glob("*.legs"))}
SMALL_LIST = 15
"""Statements of a list whose fixes are found in well under a second."""


def statements_of(text: str) -> tuple[Statement, ...]:
    return read(text).statements


def written(statements: tuple[Statement, ...] | list[Statement]) -> str:
    """The statements as a text, one a line, without comments."""
    return "\n".join(show(statement) for statement in statements) + "\n"


SMALL = {name: text for name, text in LISTS.items() if len(statements_of(text)) <= SMALL_LIST}


@st.composite
def any_list(draw: st.DrawFn, lists: dict[str, str] = LISTS, *, always_slipped: bool = False) -> str:
    """A list of the folders, as it is or with one slip."""
    text = lists[draw(st.sampled_from(sorted(lists)))]
    slip = draw(st.integers(0 if not always_slipped else 1, 400))
    return slipped(text, Random(slip)) if slip > 120 or always_slipped else written(statements_of(text))


# ── one slip of the hand ──────────────────────────────────────────────────────────────────────────────────────────


def slipped(text: str, chance: Random) -> str:
    """The list with one slip: a leg or an end in another hole, on another rail, a mark at the other leg, a wire left out."""
    statements = list(statements_of(text))
    slips = [(number, slip) for number, statement in enumerate(statements) for slip in _SLIPS if _fits(slip, statement)]
    if not slips:
        return written(statements)
    number, slip = chance.choice(slips)
    changed = slip(statements[number], chance)
    statements[number:number + 1] = [changed] if changed is not None else []
    return written(statements)


def _fits(slip: object, statement: Statement) -> bool:
    if slip is _left_out:
        return isinstance(statement, Wire)
    if slip is _mark_at_the_other_leg:
        return isinstance(statement, Part) and len(_marked(statement)) == 1 and len(_legs(statement)) == 2
    kind = Rail if slip is _other_rail else Hole
    return isinstance(statement, Wire) and any(isinstance(point, kind) for point in statement.points)


def _one_row_off(statement: Statement, chance: Random) -> Statement:
    assert isinstance(statement, Wire)
    number = chance.choice([n for n, point in enumerate(statement.points) if isinstance(point, Hole)])
    hole = statement.points[number]
    assert isinstance(hole, Hole)
    row = hole.row + (1 if hole.row == 1 else chance.choice((-1, 1)))
    points = list(statement.points)
    points[number] = structs.replace(hole, row=row, text=f"{hole.column}{row}")
    return structs.replace(statement, points=tuple(points))


def _other_rail(statement: Statement, chance: Random) -> Statement:
    return with_points(statement, lambda point: structs.replace(point, sign="-" if point.sign == "+" else "+")
                       if isinstance(point, Rail) else point)


def _left_out(statement: Statement, chance: Random) -> None:
    return None


def _marked(part: Part) -> list[MarkAt]:
    return [mark for mark in part.marks if isinstance(mark, MarkAt)]


def _legs(part: Part) -> tuple[object, ...]:
    return getattr(part.place, "points", ())


def _mark_at_the_other_leg(statement: Statement, chance: Random) -> Statement:
    assert isinstance(statement, Part)
    mark = _marked(statement)[0]
    other = [leg for leg in _legs(statement) if getattr(leg, "text", "").lower() != mark.point.text.lower()]
    return structs.replace(statement, marks=(structs.replace(mark, point=other[0]),)) if other else statement


_SLIPS = (_one_row_off, _other_rail, _left_out, _mark_at_the_other_leg)
