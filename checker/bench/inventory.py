"""From the syntax tree to the bench: every name gets its entry of the parts library.

Input is a WiringList and a Library; output a Bench and what could not be understood on the way. A line that names an
unknown part leaves a part without entry, so that the rest is still checked.
"""

from __future__ import annotations

from msgspec import Struct, structs

from checker.bench.buttons import with_two_leads
from checker.bench.halves import half_placed
from checker.bench.mishap import Mishap
from checker.bench.model import Bench, BenchPart
from grammar.quantities import QuantityError, read_quantity
from grammar.syntax_tree import (
    Author,
    Board,
    Expect,
    Keep,
    Part,
    Pin,
    PinRole,
    Power,
    Problem,
    Span,
    Statement,
    Supply,
    Title,
    Wire,
    WiringList,
    Word,
)
from parts_library import Identified, Library, identify, identify_supply, pin_named
from parts_library.schema import Chip, Controller

MOST_PARTS, MOST_WIRES = 600, 2000
"""Ten full boards hold fewer. The bound keeps a pasted file of another kind from costing minutes."""

MILLIAMPS_FROM = 10.0
"""A limit of so much without a unit is meant in milliamps: no supply for a breadboard gives ten amps (common practice)."""

UNREADABLE = {"unknown-part": "fault", "bad-value": "fault", "ambiguous-part": "fault",
              "value-contradicts-bands": "look"}
Roles = dict[tuple[str, str], tuple[tuple[str, ...], Span]]


class _Collector(Struct):
    """What is found while the statements are gone through."""

    parts: dict[str, BenchPart]
    mishaps: list[Mishap]
    assumed: list[str]


def lay_out(tree: WiringList, library: Library) -> tuple[Bench, list[Mishap]]:
    """The bench of a list, and the mishaps of reading: problems of the text, unknown parts, names used twice."""
    found = _Collector(parts={}, mishaps=[_of_problem(p) for p in tree.problems], assumed=[])
    tree = _within_bounds(tree, found)
    for statement in tree.statements:
        if isinstance(statement, Part | Supply):
            _add(found, statement, library)
    for name in tree.unread_parts:
        # whatever it is: it agrees with all that is said of it
        found.parts.setdefault(name.text.lower(), BenchPart(name.text, Part(name, (), name.span), None))
    found.parts, taken = with_two_leads(tree, found.parts, library)
    found.assumed.extend(taken)
    for statement in tree.statements:
        if isinstance(statement, Keep):
            for word in (statement.one, statement.other):
                if word.text.lower() not in found.parts:
                    found.mishaps.append(_unknown_name(word.text, word.span, [p.name for p in found.parts.values()][:8]))
    found.mishaps.extend(half_placed(tree, found.parts))
    boards = _boards(tree, found)
    roles, hertz = _roles(tree, found)
    unread = bool(tree.problems) or any(part.entry is None for part in found.parts.values())
    bench = Bench(
        tree=tree, library=library, parts=found.parts, boards=boards,
        wires=tuple(s for s in tree.statements if isinstance(s, Wire)),
        powers=_powers(tree, found), roles=roles, hertz=hertz,
        keeps=tuple(s for s in tree.statements if isinstance(s, Keep)),
        expects=tuple(s for s in tree.statements if isinstance(s, Expect)),
        title=next((s.text for s in tree.statements if isinstance(s, Title)), None),
        by=next((s.text for s in tree.statements if isinstance(s, Author)), None),
        assumed=tuple(found.assumed), unread=unread,
    )
    return bench, found.mishaps


def _within_bounds(tree: WiringList, found: _Collector) -> WiringList:
    """The tree with at most ``MOST_PARTS`` parts and ``MOST_WIRES`` wires; the first one too many is named."""
    kept: list[Statement] = []
    for types, most, words in (((Part, Supply), MOST_PARTS, "parts"), ((Wire,), MOST_WIRES, "wires")):
        over = [s for s in tree.statements if isinstance(s, types)][most:]
        if over:
            message = f"more than {most} {words} are more than one list can hold: from here on they were left out"
            found.mishaps.append(Mishap(rule="bad-value", severity="fault", span=over[0].span,
                                        facts={"case": "problem", "message": message, "suggestion": ""}))
    counts = {"parts": 0, "wires": 0}
    for statement in tree.statements:
        kind = "parts" if isinstance(statement, Part | Supply) else "wires" if isinstance(statement, Wire) else ""
        if kind:
            counts[kind] += 1
        if not kind or counts[kind] <= (MOST_PARTS if kind == "parts" else MOST_WIRES):
            kept.append(statement)
    return structs.replace(tree, statements=tuple(kept))


def _of_problem(problem: Problem) -> Mishap:
    rule = problem.label if problem.label in ("bad-value", "unknown-part", "unknown-point", "name-reused") else "syntax"
    return Mishap(rule=rule, severity="fault", span=problem.span,
                  facts={"case": "problem", "message": problem.message, "suggestion": problem.suggestion or ""})


def _add(found: _Collector, statement: Part | Supply, library: Library) -> None:
    key = statement.name.text.lower()
    if key in found.parts:
        first = found.parts[key]
        found.mishaps.append(Mishap(rule="name-reused", severity="fault", span=statement.name.span,
                                    parts=(statement.name.text,), facts={"line": str(first.span.line)}))
        return
    words = [word.text for word in statement.words]
    if isinstance(statement, Supply):
        identified = identify_supply(words, name=statement.name.text, library=library)
    else:
        identified = identify(words, name=statement.name.text, bands=[band.text for band in statement.bands],
                              code=statement.code.text if statement.code else None, library=library)
    limit = _limit(found, statement)
    found.parts[key] = BenchPart(name=statement.name.text, statement=statement, entry=identified.entry, limit=limit)
    found.assumed.extend(identified.assumed)
    found.mishaps.extend(_word_mishaps(statement, identified))


def _word_mishaps(statement: Part | Supply, identified: Identified) -> list[Mishap]:
    mishaps = []
    for problem in identified.problems:
        span = statement.name.span
        if 0 <= problem.index < len(statement.words):
            span = statement.words[problem.index].span
        mishaps.append(Mishap(
            rule="unknown-part" if problem.label == "ambiguous-part" else problem.label,
            severity=UNREADABLE.get(problem.label, "fault"), span=span, parts=(statement.name.text,),
            facts={"case": "problem", "message": problem.message, "suggestion": problem.suggestion or ""}))
    return mishaps


def _limit(found: _Collector, statement: Part | Supply) -> float | None:
    word: Word | None = statement.limit if isinstance(statement, Supply) else None
    if word is None:
        return None
    try:
        quantity = read_quantity(word.text)
    except QuantityError as error:
        found.mishaps.append(_bad_limit(statement, word, str(error)))
        return None
    if quantity.unit == "" and quantity.value > 0:
        meant = f"{word.text}{'mA' if quantity.value >= MILLIAMPS_FROM else 'A'}"
        found.mishaps.append(_bad_limit(statement, word, f"{word.text} has no unit", meant))
        return None
    if quantity.unit != "A" or quantity.value <= 0:
        found.mishaps.append(_bad_limit(statement, word, "a current limit is a current, such as 500mA"))
        return None
    return quantity.value


def _bad_limit(statement: Part | Supply, word: Word, message: str, suggestion: str = "") -> Mishap:
    return Mishap(rule="bad-value", severity="fault", span=word.span, parts=(statement.name.text,),
                  facts={"case": "problem", "message": message, "suggestion": suggestion})


def _boards(tree: WiringList, found: _Collector) -> dict[str, Board]:
    boards: dict[str, Board] = {}
    for statement in tree.statements:
        if isinstance(statement, Board):
            key = (statement.name or "").lower()
            if key in boards:
                found.mishaps.append(Mishap(rule="name-reused", severity="fault", span=statement.span,
                                            parts=(statement.name or "board",),
                                            facts={"case": "" if statement.name else "board",
                                                   "line": str(boards[key].span.line)}))
                continue
            boards[key] = statement
    return boards


def _powers(tree: WiringList, found: _Collector) -> dict[str, Power]:
    powers: dict[str, Power] = {}
    for statement in tree.statements:
        if isinstance(statement, Power):
            part = found.parts.get(statement.name.text.lower())
            if part is None or (part.entry is not None and not isinstance(part.entry, Controller)):
                controllers = [p.name for p in found.parts.values() if p.is_controller]
                found.mishaps.append(_unknown_name(statement.name.text, statement.name.span, controllers))
            else:
                powers[statement.name.text.lower()] = statement
    return powers


def _roles(tree: WiringList, found: _Collector) -> tuple[Roles, dict[tuple[str, str], float]]:
    """What the program does with each pin, and the frequency in Hz where one is stated."""
    roles: Roles = {}
    hertz: dict[tuple[str, str], float] = {}
    controllers = [p for p in found.parts.values() if p.is_controller]
    for statement in tree.statements:
        if not isinstance(statement, PinRole):
            continue
        for point in statement.pins:
            name, pin = (point.part, point.pin) if isinstance(point, Pin) else ("", point.text)
            part = found.parts.get(name.lower()) if name else (controllers[0] if len(controllers) == 1 else None)
            if part is None:
                found.mishaps.append(_unknown_name(point.text, point.span, [p.name for p in controllers]))
                continue
            if not isinstance(part.entry, Controller | Chip):
                continue
            canonical = pin_named(part.entry, pin)
            if canonical is None:
                found.mishaps.append(Mishap(rule="unknown-point", severity="fault", span=point.span,
                                            parts=(part.name,), facts={"case": "no-such-pin", "pin": pin,
                                                                       "pins": " ".join(part.pins)}))
                continue
            before = roles.get((part.name.lower(), canonical), ((), point.span))[0]
            roles[part.name.lower(), canonical] = (before + statement.roles, point.span)
            if statement.frequency is not None:
                hertz[part.name.lower(), canonical] = read_quantity(statement.frequency.text).value
    _add_unread(roles, found, tree, controllers)
    return roles, hertz


def _add_unread(roles: Roles, found: _Collector, tree: WiringList, controllers: list[BenchPart]) -> None:
    """A pin whose line could not be read is left alone: that it drives would be a guess that may do harm."""
    for point in tree.unread_pins:
        only = controllers[0] if len(controllers) == 1 else None
        part = found.parts.get(point.part.lower()) if isinstance(point, Pin) else only
        if part is not None and isinstance(part.entry, Controller | Chip):
            pin = pin_named(part.entry, point.pin if isinstance(point, Pin) else point.text)
            if pin is not None:
                roles.setdefault((part.name.lower(), pin), (("unused",), point.span))


def _unknown_name(name: str, span: Span, offered: list[str]) -> Mishap:
    return Mishap(rule="unknown-point", severity="fault", span=span,
                  facts={"case": "no-such-part", "name": name, "offered": " ".join(offered)})
