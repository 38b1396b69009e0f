"""Ends and legs in other holes of their strips: five joined holes on either side of the channel.

Input: a text and a source of chance. Output: a text. Where no hole is free the statements stay as they are.
"""

from __future__ import annotations

from random import Random
from typing import Any

from grammar.syntax_tree import Hole, Part, PlacedAcross, PlacedIn, Statement, Supply, Wire
from tests.properties.lists import statements_of, written
from tests.properties.moving import hole_at
from tests.properties.points import COLUMNS, points_in, with_points


def in_other_holes(text: str, chance: Random) -> str:
    """The ends of wires, the leads of supplies and the legs of two-legged parts in other free holes of their strips. Both
    legs of a part go by the same number of columns, so that they still reach."""
    statements = list(statements_of(text))
    names = {s.name.text.lower() for s in statements if isinstance(s, Part | Supply)}
    taken = {point.text.lower() for point in points_in(statements) if isinstance(point, Hole)} | covered(statements) | names
    for number in chance.sample(range(len(statements)), len(statements)):
        statement = statements[number]
        if isinstance(statement, Wire | Supply):
            statements[number] = with_points(statement, lambda one: _free(one, taken, chance))
        elif isinstance(statement, Part) and isinstance(statement.place, PlacedIn) and len(statement.place.points) == 2:
            statements[number] = _legs_moved(statement, taken, chance)
    return written(statements)


def covered(statements: list[Statement]) -> set[str]:
    """The holes under chips and buttons, and those of their legs."""
    holes = set()
    for part in (s for s in statements if isinstance(s, Part)):
        place = part.place
        if isinstance(place, PlacedAcross):
            prefix = f"{place.board}:".lower() if place.board else ""
            holes |= {f"{prefix}{column}{row}" for row in range(place.first_row, place.last_row + 1) for column in COLUMNS
                      if place.left_column <= column <= place.right_column}
    return holes


def _free(one: Any, taken: set[str], chance: Random) -> Any:
    if not isinstance(one, Hole):
        return one
    half = COLUMNS[:5] if one.column in COLUMNS[:5] else COLUMNS[5:]
    free = [new for column in half if (new := hole_at(one, column, one.row)).text.lower() not in taken]
    new = chance.choice(free) if free else one
    taken.add(new.text.lower())
    return new


def _legs_moved(part: Part, taken: set[str], chance: Random) -> Part:
    legs = [point for point in points_in(part.place) if isinstance(point, Hole)]
    fitting = [step for step in range(-4, 5) if step and legs and all(_in_its_strip(leg, step, taken) for leg in legs)]
    if not fitting:
        return part
    step = chance.choice(fitting)

    def moved(one: Any) -> Any:
        return hole_at(one, COLUMNS[COLUMNS.index(one.column) + step], one.row) if isinstance(one, Hole) else one

    part = with_points(part, moved)
    taken |= {point.text.lower() for point in points_in(part.place)}
    return part


def _in_its_strip(leg: Hole, step: int, taken: set[str]) -> bool:
    index = COLUMNS.index(leg.column)
    return 0 <= index + step <= 9 and (index + step) // 5 == index // 5 and hole_at(
        leg, COLUMNS[index + step], leg.row).text.lower() not in taken
