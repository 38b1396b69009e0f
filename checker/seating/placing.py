"""What the places alone show: holes that no board has, holes that two leads share, a line that is there twice.

Input is the bench with the seats chosen for each part and the boards as they are looked at; output mishaps.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from msgspec import structs

from checker.bench.mishap import Mishap
from checker.bench.model import Bench
from checker.seating.boards import COLUMNS, ROWS, BoardPlan, Plans, Strip, name_of, plan_for
from checker.seating.model import Seat, Spot
from grammar.syntax_tree import Hole, Part, PlacedIn, Rail, Supply, Wire

_Used = tuple[Spot, str, Part | Supply | Wire]


def spots_used(bench: Bench, choices: Mapping[str, Sequence[Seat]]) -> Iterator[_Used]:
    """Every hole and rail that is used, with the part's name ("" for a wire) and the statement. Legs come first, so that a
    wire's end in the hole of a leg is what is out of place."""
    for key, part in bench.parts.items():
        if key in choices:
            for spot in choices[key][0].legs.values():
                yield spot, part.name, part.statement
        elif isinstance(part.statement, Supply):
            for point in part.statement.terminals:
                if isinstance(point, Hole | Rail):
                    yield point, part.name, part.statement
    for wire in bench.wires:
        for point in wire.points:
            if isinstance(point, Hole | Rail):
                yield point, "", wire


# ── holes that no board has ───────────────────────────────────────────────────────────────────────────────────────


def outside(bench: Bench, choices: Mapping[str, Sequence[Seat]], plans: Plans) -> Iterator[Mishap]:
    """One mishap for each board: a list that names the wrong size has all its holes beyond the end for one cause."""
    beyond: dict[str, list[_Used]] = {}
    for used in spots_used(bench, choices):
        spot, plan = used[0], plan_for(plans, used[0])
        if plan is None:
            yield Mishap(rule="unknown-point", severity="fault", span=spot.span, points=(name_of(spot),),
                         facts={"case": "which-board", "board": spot.board or "",
                                "offered": " ".join(b.name or "" for b in bench.boards.values())})
        elif not (plan.has_rail(spot) if isinstance(spot, Rail) else plan.has_hole(spot)):
            beyond.setdefault(plan.name, []).append(used)
    for name, found in beyond.items():
        yield _outside_one(bench, choices, plans[name], found)


def _outside_one(bench: Bench, choices: Mapping[str, Sequence[Seat]], plan: BoardPlan, found: Sequence[_Used]) -> Mishap:
    """At its place where it is one, else at the line of the board, with the size on which all would be."""
    spots = [spot for spot, _, _ in found]
    points = tuple(dict.fromkeys(name_of(spot) for spot in spots))
    board = bench.boards.get(plan.name)
    size = _size_for(bench, choices, plan)
    facts = {"size": plan.size, "rows": str(plan.rows), "rails": "yes" if plan.has_rails else "no", "fits": size,
             "last": str(max(spot.row or 1 for spot in spots)),
             "only": "rails" if all(isinstance(spot, Rail) for spot in spots) and not plan.has_rails else ""}
    if len(points) == 1 or board is None:
        return Mishap(rule="outside-board", severity="fault", span=spots[0].span, points=points[:1],
                      parts=(found[0][1],) if found[0][1] else (), facts=facts)
    return Mishap(rule="outside-board", severity="fault", span=board.span, points=points, facts={**facts, "case": "size"})


def _size_for(bench: Bench, choices: Mapping[str, Sequence[Seat]], plan: BoardPlan) -> str:
    """The smallest larger board that has all the holes and rails that the list puts on this one, or ""."""
    spots = [spot for spot, _, _ in spots_used(bench, choices) if plan_for({plan.name: plan}, spot) is not None]
    for size in ("half", "full"):
        larger = BoardPlan(plan.name, size, plan.split)
        fits = all(larger.has_rail(spot) if isinstance(spot, Rail) else larger.has_hole(spot) for spot in spots)
        if ROWS[size] > plan.rows and fits:
            return size
    return ""


# ── holes that two leads share ────────────────────────────────────────────────────────────────────────────────────


def taken(bench: Bench, choices: Mapping[str, Sequence[Seat]], plans: Plans) -> Iterator[Mishap]:
    """Each lead in a hole that has one already; a wire that is there twice is told as such, at its second line."""
    holder: dict[tuple[str, str, int], tuple[str, Part | Supply | Wire]] = {}
    repeated: set[int] = set()
    for spot, name, statement in spots_used(bench, choices):
        plan = plan_for(plans, spot)
        if isinstance(spot, Rail) or statement.span.line in repeated:
            continue
        where = (plan.name if plan else (spot.board or "").lower(), spot.column, spot.row)
        if where not in holder:
            holder[where] = (name, statement)
            continue
        other, first = holder[where]
        if isinstance(statement, Wire) and isinstance(first, Wire) and first is not statement and _same_ends(first, statement):
            repeated.add(statement.span.line)
            yield Mishap(rule="hole-taken", severity="fault", span=statement.span, points=(name_of(spot),),
                         facts={"case": "repeated", "line": str(statement.span.line), "first_line": str(first.span.line)})
            continue
        yield Mishap(rule="hole-taken", severity="fault", span=spot.span, points=(name_of(spot),),
                     parts=tuple(n for n in (name, other) if n),
                     facts={"first_line": str(first.span.line), "other": other, "name": name})


def _same_ends(one: Wire, other: Wire) -> bool:
    first, second = (sorted(name_of(p) if isinstance(p, Hole | Rail) else p.text.casefold() for p in wire.points)
                     for wire in (one, other))
    return first == second


# ── a hole that stands twice on one part ──────────────────────────────────────────────────────────────────────────


def with_lonely_strip(bench: Bench, choices: Mapping[str, Sequence[Seat]], plans: Plans,
                      mishaps: Sequence[Mishap]) -> list[Mishap]:
    """Where the hole of one leg is not known, and one end or leg of the list is alone in its strip: a free hole of that
    strip is what was likely meant, and is told."""
    twice = [mishap for mishap in mishaps if mishap.facts.get("case") == "hole-twice"]
    holes = [hole for mishap in twice[:1] for hole in _holes_in(bench, mishap.parts[0])]
    doubled = next((hole for hole in holes if name_of(hole) == twice[0].points[0]), None)
    strips = _by_strip(bench, choices, plans)
    own = {plan.strip(hole) for hole in holes if (plan := plan_for(plans, hole)) is not None}
    lonely = [found[0] for strip, found in strips.items() if len(found) == 1 and strip not in own]
    if len(twice) != 1 or len(lonely) != 1 or doubled is None:
        return list(mishaps)
    facts = {**twice[0].facts, "suggestion": _beside(lonely[0], doubled.column), "beside": name_of(lonely[0])}
    return [structs.replace(mishap, facts=facts) if mishap is twice[0] else mishap for mishap in mishaps]


def _holes_in(bench: Bench, name: str) -> list[Hole]:
    statement = bench.parts[name.lower()].statement
    place = statement.place if isinstance(statement, Part) else None
    return [point for point in place.points if isinstance(point, Hole)] if isinstance(place, PlacedIn) else []


def _by_strip(bench: Bench, choices: Mapping[str, Sequence[Seat]], plans: Plans) -> dict[Strip, list[Hole]]:
    strips: dict[Strip, list[Hole]] = {}
    for spot, _, _ in spots_used(bench, choices):
        plan = plan_for(plans, spot)
        if isinstance(spot, Hole) and plan is not None:
            strips.setdefault(plan.strip(spot), []).append(spot)
    return strips


def _beside(hole: Hole, wanted: str) -> str:
    """A free hole of the strip that holds only ``hole``: in the column that was wanted, else in the next one."""
    columns = COLUMNS[:5] if hole.column <= "e" else COLUMNS[5:]
    free = [column for column in columns if column != hole.column]
    column = wanted if wanted in free else free[0]
    return f"{hole.board}:{column}{hole.row}" if hole.board else f"{column}{hole.row}"
