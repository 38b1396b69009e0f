"""From lark's tree of one line to one statement.

Input: the tree and the line as given. Output: a ``Statement`` on line 1, or ``Unreadable``. One function a statement;
``grammar.part_builder`` has the clauses of a part, ``grammar.expectations`` what ``expect`` says.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import TYPE_CHECKING

from grammar.expectations import build_expect
from grammar.part_builder import build_bare_part, build_kind_first, build_part
from grammar.points import Line, Unreadable, columns, read_place, read_point
from grammar.quantities import QuantityError, is_quantity, read_quantity
from grammar.stray_words import is_place
from grammar.suggestions import correction
from grammar.syntax_tree import (
    Author,
    Board,
    Keep,
    PinRole,
    Point,
    Power,
    Statement,
    Supply,
    Title,
    Wire,
    Word,
)
from grammar.trees import check_name, parts_of, statement_span, tokens_of
from grammar.two_wires import check_two_wires
from grammar.ways_out import dashed

if TYPE_CHECKING:
    from lark import Token, Tree

_COLOURS = {"gray": "grey", "purple": "violet"}
_SIZES = {"170": "mini", "400": "half", "830": "full", "17": "mini", "30": "half", "63": "full"}
"""The holes of a board: 17 rows of ten; 30 rows of ten and four rails of 25; 63 rows of ten and four rails of 50. Or its rows."""
_AROUND_A_SIZE = ("with", "and", "of", "size", "sized", "board", "breadboard")
_PLUS_POLES = ("plus", "positive", "+", "red")
_LEADS_TO_A_PLACE = ("on", "to", "at", "in", "between", "plus", "minus", "positive", "negative", "+", "-", "red", "black")
_MOST = ("max", "maximum")
_BEFORE_THE_LAST = ("to", "into", "onto", "and", "->", "-->", "=>", "→", "-", "--")
_ROLE_WORDS = ("analog", "input", "output", "pwm")


def build_statement(tree: Tree[Token], line: Line) -> Statement:
    """The statement of one line. ``tree`` is the whole tree (rule ``start``). Raises Unreadable."""
    statement = tree.children[0]
    assert not isinstance(statement, str), "start always holds one rule"
    return _BUILDERS[str(statement.data)](statement, line)


def _free_text(tree: Tree[Token], line: Line) -> str:
    keyword, text = tokens_of(tree)
    start = columns(text)[0]
    end = start + len(text.rstrip())
    said = _unquoted(line.text[start:end].strip())
    if not said:
        raise Unreadable("title-empty", start, end, before=keyword.strip(" :="))
    return said


def _unquoted(text: str) -> str:
    """The text without its quotes, or, after a closing quote, without the full stop that follows it."""
    if text[:1] in '"“”„«' and (match := re.fullmatch(r'["“”„«](.*)["“”»][\s.;,]*', text)):
        return match[1].strip()
    return text.strip('"“”„«» ').rstrip(",; ")


def _title(tree: Tree[Token], line: Line) -> Title:
    return Title(_free_text(tree, line), statement_span(tree, line))


def _author(tree: Tree[Token], line: Line) -> Author:
    return Author(_free_text(tree, line), statement_span(tree, line))


def _board(tree: Tree[Token], line: Line) -> Board:
    keyword, *tokens = tokens_of(tree)
    sizes = {_size(token): token for token in tokens if token.type == "SIZE"}
    names = [token for token in tokens if token.type == "NAME" and not (sizes and token.lower() in _AROUND_A_SIZE)]
    rails = [token for token in tokens if token.type == "RAILS"]
    if len(sizes) != 1 or len(names) > 1:
        wrong = (names or list(sizes.values())[1:] or [keyword])[-1]
        raise Unreadable("board-size-expected", *columns(wrong))
    if names:
        check_name(names[0])
    said = rails[-1].lower() if rails else ""
    joint = "split" if "split" in said else "joined" if "joined" in said else None
    return Board(next(iter(sizes)), statement_span(tree, line), str(names[0]) if names else None, joint)


def _size(token: Token) -> str:
    """mini, half or full: in a word, by the number of holes or of rows."""
    size = re.sub(r"[- ].*|size.*", "", token.lower())
    return _SIZES.get(size[:3], size)


def _supply(tree: Tree[Token], line: Line) -> Supply:
    tokens_before = [child for child in tree.children if isinstance(child, str)]
    *kind, _, name = tokens_before
    _check_supply_name(name, line, tree)
    words: list[Word] = [line.token_word(token) for token in kind]
    stray: list[Token] = []
    limit: Word | None = None
    terminals: list[Point] = []
    poles: dict[bool, Point] = {}
    for rule, tokens in parts_of(tree):
        _check_pair_of_rails(tokens)
        if rule == "supply_value" and is_place(tokens[0]):
            stray.append(tokens[0])
        elif rule == "supply_value":
            _check_supply_word(tokens[0], first=not words)
            words.append(line.token_word(tokens[0]))
        elif rule == "limit":
            limit = _limit(tokens[1], line)
        elif rule == "terminals":
            terminals += [read_point(token, line) for token in tokens]
        else:
            poles[tokens[0].lower().removeprefix("and ").split()[0] in _PLUS_POLES] = read_point(tokens[1], line)
    if not words:
        raise Unreadable("kind-missing", *columns(name))
    if stray and (len(stray) != 2 or terminals or poles):
        raise Unreadable("hole-astray", *columns(stray[0]))
    terminals += [read_place(token, line) for token in stray]
    if not terminals and len(poles) == 2:
        terminals = [poles[True], poles[False]]
    elif poles:
        raise Unreadable("placed-twice" if terminals else "pole-alone", *columns(name))
    return Supply(line.token_word(name), tuple(words), statement_span(tree, line), limit, tuple(terminals))


def _check_supply_name(name: Token, line: Line, tree: Tree[Token]) -> None:
    """``9V battery on L+ L-``: what stands where the name is due leads on to the rails. ``supply 9V PACK``: the name comes
    after the value."""
    after = line.text[columns(name)[1] :]
    if name in _LEADS_TO_A_PLACE and re.match(r"\s*(\w+\s+){0,4}([lr] ?[+-]|rail|(left|right) )", after, re.IGNORECASE):
        raise Unreadable("name-expected", *columns(name))
    values = [tokens[0] for rule, tokens in parts_of(tree) if rule == "supply_value"]
    check_name(name, values[0] if values else None, "PACK")


def _check_pair_of_rails(tokens: list[Token]) -> None:
    """``on the left rails``: which of the two is plus has to be written."""
    pair = next((token for token in tokens if token.type == "UNCLEAR_RAIL" and token.lower().endswith("rails")), None)
    if pair is not None and (side := next((s for s in ("left", "right") if pair.lower().startswith(s)), None)):
        letter = side[0].upper()
        raise Unreadable("rail-unclear", *columns(pair), suggestion=f"{letter}+ {letter}-")


def _check_supply_word(token: Token, *, first: bool) -> None:
    near = "limit" if token.lower() in _MOST else correction(token, ("limit",))
    if not first and token.isalpha() and near:
        raise Unreadable("misspelt", *columns(token), suggestion=near)


def _limit(token: Token, line: Line) -> Word:
    try:
        read_quantity(str(token))
    except QuantityError as error:
        raise Unreadable(
            "value-unreadable", *columns(token), suggestion=error.suggestion, reason=error.reason
        ) from None
    return line.token_word(token)


def _wire(tree: Tree[Token], line: Line) -> Wire:
    tokens = tokens_of(tree)
    colours = [token for token in tokens if token.type == "COLOUR"]
    ends = [token for token in tokens if token.type != "COLOUR"]
    check_two_wires(ends, line)
    if len(ends) > 2 and ends[0].type == "DESIGNATOR" and is_quantity(str(ends[1])):
        if astray := dashed(line.text, columns(ends[1])[0]):
            raise astray
    if ends[0].type == "WORD" and ends[0].lower() in _BEFORE_THE_LAST:
        raise Unreadable("first-end-missing", *columns(ends[0]))
    points = tuple(read_point(token, line) for token in ends)
    if len(points) < 2:
        one, _, other = ends[0].partition("/")
        raise Unreadable("wire-has-one-end", *columns(ends[0]), suggestion=f"{one} to {other}" if one and other else None)
    colour = colours[0].lower() if colours else None
    return Wire(points, statement_span(tree, line), _COLOURS.get(colour, colour) if colour else None)


def _power(tree: Tree[Token], line: Line) -> Power:
    _, name, *ways = tokens_of(tree)
    said = tuple(dict.fromkeys(way.lower() for way in ways))
    return Power(line.token_word(check_name(name)), said, statement_span(tree, line))


def _pin_role(tree: Tree[Token], line: Line) -> PinRole:
    tokens = tokens_of(tree)
    points = tuple(read_point(token, line) for token in tokens if token.type not in ("ROLE", "QUANTITY"))
    roles = [role for token in tokens if token.type == "ROLE" for role in _role(token)]
    frequencies = [_frequency(token, roles, line) for token in tokens if token.type == "QUANTITY"]
    return PinRole(points, tuple(dict.fromkeys(roles)), statement_span(tree, line), next(iter(frequencies), None))


def _bare_role(tree: Tree[Token], line: Line) -> PinRole:
    """``U1.D9 output``, without ``pin``. ``U1.D9 high`` could as well say what is expected, and is asked back."""
    role = _pin_role(tree, line)
    if set(role.roles) <= {"high", "low"}:
        raise Unreadable("first-word-missing", *columns(tokens_of(tree)[0]), suggestion=f"pin {role.pins[0].text}",
                         word="pin", what="says what the program does")
    return role


def _frequency(token: Token, roles: list[str], line: Line) -> Word:
    """How often a pin pulses. A number without unit is refused: it may as well be meant as the width of the pulses."""
    try:
        quantity = read_quantity(str(token))
    except QuantityError:
        raise Unreadable("frequency-unit", *columns(token)) from None
    if quantity.unit != "Hz" or quantity.value <= 0:
        raise Unreadable("frequency-unit", *columns(token))
    if "pwm" not in roles:
        raise Unreadable("frequency-without-pwm", *columns(token))
    return line.token_word(token)


def _role(token: Token) -> tuple[str, ...]:
    """``digital input``, ``with its pull-up on``: the roles that the words of one token say."""
    said = token.lower().replace("analogue", "analog")
    if said.startswith("analog") and "output" in said:
        raise Unreadable("misspelt", *columns(token), suggestion="pwm")
    roles = tuple(role for role in _ROLE_WORDS if role in said)
    if re.search(r"pull[-_ ]?up", said):
        return (*(role for role in roles if role == "input"), "pullup")
    return ("pwm",) if "pwm" in roles else roles or ("unused" if said.endswith("used") else said,)


def _keep(tree: Tree[Token], line: Line) -> Keep:
    _, one, other = tokens_of(tree)
    return Keep(line.token_word(one), line.token_word(other), statement_span(tree, line))


_BUILDERS: dict[str, Callable[[Tree[Token], Line], Statement]] = {
    "title": _title,
    "author": _author,
    "board": _board,
    "supply": _supply,
    "supply_first": _supply,
    "part": build_part,
    "bare_part": build_bare_part,
    "kind_first": build_kind_first,
    "wire": _wire,
    "bare_wire": _wire,
    "power": _power,
    "pin_role": _pin_role,
    "bare_role": _bare_role,
    "keep": _keep,
    "expect": build_expect,
}
