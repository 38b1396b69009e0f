"""What ``expect`` says: a subject, a verb, a bound in SI units, and the conditions under which it holds."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from grammar.points import Line, Unreadable, columns, read_point
from grammar.quantities import Quantity, QuantityError, read_quantity
from grammar.syntax_tree import Bound, Condition, Expect
from grammar.trees import clauses_of, extent, statement_span, tokens_of

if TYPE_CHECKING:
    from lark import Token, Tree

_VERBS = {
    "draws": "carries", "takes": "carries", "gets": "carries", "current": "carries", "voltage": "at", "power": "dissipates",
    "is at": "at", "is": "at", "=": "at", "to be": "at", "to be at": "at",
    "lights": "lit", "light": "lit", "run": "runs", "running": "runs", "turns": "runs", "spins": "runs",
    "stops": "stopped", "still": "stopped",
}  # fmt: skip
_UNIT_OF_VERB = {"carries": "A", "at": "V", "drops": "V", "dissipates": "W"}
_VERB_OF_UNIT = {"A": "carries", "V": "at", "W": "dissipates"}
_UNIT_NAMES = {"A": "amps", "V": "volts", "W": "watts"}
_NOTHING = {"V": 0.1, "A": 0.0005, "W": 0.001}
"""Volts, amps and watts either way of an expected nothing, of which ten percent would be no room at all: what a jumper drops
under load, what no LED shows, what no hand feels (common practice, no source)."""

_OF_ANY_UNIT = ("", "is", "=", "to be")
"""Verbs that leave to the unit what is meant: ``LED1 = 14mA`` is its current."""

_ABOUT = 0.1
"""``about X`` allows ten percent either way."""


def build_expect(tree: Tree[Token], line: Line) -> Expect:
    """The statement ``expect``. Raises Unreadable for a value without sense or in another unit than the verb's."""
    tokens = [child for child in tree.children if isinstance(child, str)]
    clauses = list(clauses_of(tree))
    subject = read_point(tokens[0], line)
    conditions = tuple(_condition(clause, line) for clause in clauses if clause.data == "condition")
    span = statement_span(tree, line)
    if tokens[-1].type == "STATE_VERB":
        return Expect(subject, _state_verb(str(tokens[-1])), span, None, conditions)
    bound_tree = next(clause for clause in clauses if clause.data != "condition")
    verb_token = tokens[1] if len(tokens) > 1 else None
    said = " ".join(verb_token.lower().split()) if verb_token else ""
    said = re.sub(r"^(current|voltage|power) .*", r"\1", said)
    bound, verb = _bound(bound_tree, said, line)
    return Expect(subject, verb, span, bound, conditions)


def _state_verb(said: str) -> str:
    words = re.sub(r"^(is|stays|to be|to|should be|should) ", "", " ".join(said.lower().split()))
    word = words.removesuffix(" up")
    return _VERBS.get(word, word)


def _condition(tree: Tree[Token], line: Line) -> Condition:
    subject, *rest = tokens_of(tree)
    span = statement_span(tree, line)
    point = read_point(subject, line)
    if rest[0].type == "QUANTITY":
        _amount(str(rest[0]), rest[0])
        return Condition(point, "at", span, line.token_word(rest[0]))
    return Condition(point, "-".join(rest[0].lower().split()), span)


def _bound(tree: Tree[Token], verb: str, line: Line) -> tuple[Bound, str]:
    tokens = tokens_of(tree)
    first, last = tokens[0], tokens[-1]
    start, end = extent(tree)
    high = _amount(str(last), last)
    low = _amount(_with_unit_of(str(first), str(last)), first) if len(tokens) > 1 else high
    by_unit = _VERB_OF_UNIT.get(high.unit, "at")
    verb = by_unit if verb in _OF_ANY_UNIT else _VERBS.get(verb, verb)
    unit = _UNIT_OF_VERB[verb]
    for token, quantity in ((last, high), (first, low)):
        if quantity.unit == "" and unit != "":
            raise Unreadable("bound-without-unit", *columns(token), suggestion=_with_unit(token, first, unit), before=verb,
                             unit=_UNIT_NAMES[unit])
        if quantity.unit != unit:
            raise Unreadable("bound-unit", *columns(token), unit=_UNIT_NAMES[unit], before=verb)
    if low.value > high.value:
        raise Unreadable("bound-empty", start, end, suggestion=f"{last} to {first}")
    lowest, highest = _ends(str(tree.data), low.value, high.value, unit)
    return Bound(lowest, highest, unit, line.text[start:end], line.span(start, end)), verb


def _with_unit(token: Token, first: Token, unit: str) -> str:
    """``15`` as it was meant: with the unit of the other bound; else amps of one or more are milliamps, on a breadboard."""
    other = re.search(r"[^\d.,+-].*$", first)
    if other and read_quantity(str(first)).unit == unit:
        return f"{token}{other[0].strip()}"
    amount = read_quantity(str(token))
    return f"{token}mA" if unit == "A" and amount.value >= 1 else f"{token}{unit}"


def _ends(form: str, low: float, high: float, unit: str) -> tuple[float | None, float | None]:
    match form:
        case "under":
            return None, high
        case "over":
            return low, None
        case "about":
            room = abs(low) * _ABOUT or _NOTHING[unit]
            return low - room, high + room
        case _:
            return low, high


def _with_unit_of(first: str, last: str) -> str:
    """``80 to 120mA``: the first value has the unit of the second."""
    if not re.fullmatch(r"[+-]?[\d.,]+", first):
        return first
    unit = re.search(r"[^\d.,+-].*$", last)
    return first + (unit[0].strip() if unit else "")


def _amount(text: str, token: Token) -> Quantity:
    try:
        return read_quantity(text)
    except QuantityError as error:
        raise Unreadable(
            "value-unreadable", *columns(token), suggestion=error.suggestion, reason=error.reason
        ) from None
