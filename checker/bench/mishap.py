"""A mishap: what was found before any physics, on the way from the text to legs in holes."""

from __future__ import annotations

from msgspec import Struct

from grammar.syntax_tree import Span


class Mishap(Struct, frozen=True):
    """Something about the placement that physics cannot see: a hole that is taken, legs that do not reach, a mark that
    the package does not have. ``rule`` and ``facts`` are turned into a finding by the rules."""

    rule: str
    severity: str
    span: Span
    parts: tuple[str, ...] = ()
    points: tuple[str, ...] = ()
    facts: dict[str, str] = {}
