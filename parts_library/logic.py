"""Logic functions of gates, as the parts library writes them: ``!(1A & 1B)``, ``IN1``, ``1A ^ 1B``.

Input: the expression and the levels of the inputs as boolean arrays; output the output's level. ``!`` binds closest, then
``&``, ``^``, ``|``.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any, TypeAlias

Bools: TypeAlias = Any
"""What ``!``, ``&``, ``^`` and ``|`` work on element by element: boolean arrays of numpy, or plain integers."""

_TOKEN = re.compile(r"\s*([!&|^()]|[^\s!&|^()]+)")


def evaluate(expression: str, level_of: Callable[[str], Bools]) -> Bools:
    """The value of an expression; ``level_of`` gives the level of a pin at each point. ValueError for a malformed one."""
    tokens = _TOKEN.findall(expression)
    value, rest = _either(tokens, level_of)
    if rest:
        raise ValueError(f"{expression!r} does not end where it should")
    return value


def pins_of(expression: str) -> tuple[str, ...]:
    """The pins that an expression names."""
    return tuple(dict.fromkeys(token for token in _TOKEN.findall(expression) if token not in "!&|^()"))


def _either(tokens: list[str], level_of: Callable[[str], Bools]) -> tuple[Bools, list[str]]:
    value, tokens = _one_of(tokens, level_of)
    while tokens and tokens[0] == "|":
        other, tokens = _one_of(tokens[1:], level_of)
        value = value | other
    return value, tokens


def _one_of(tokens: list[str], level_of: Callable[[str], Bools]) -> tuple[Bools, list[str]]:
    value, tokens = _both(tokens, level_of)
    while tokens and tokens[0] == "^":
        other, tokens = _both(tokens[1:], level_of)
        value = value ^ other
    return value, tokens


def _both(tokens: list[str], level_of: Callable[[str], Bools]) -> tuple[Bools, list[str]]:
    value, tokens = _single(tokens, level_of)
    while tokens and tokens[0] == "&":
        other, tokens = _single(tokens[1:], level_of)
        value = value & other
    return value, tokens


def _single(tokens: list[str], level_of: Callable[[str], Bools]) -> tuple[Bools, list[str]]:
    if not tokens:
        raise ValueError("an input is missing")
    if tokens[0] == "!":
        value, rest = _single(tokens[1:], level_of)
        return ~value, rest
    if tokens[0] == "(":
        value, rest = _either(tokens[1:], level_of)
        if not rest or rest[0] != ")":
            raise ValueError("a bracket is not closed")
        return value, rest[1:]
    return level_of(tokens[0]), tokens[1:]
