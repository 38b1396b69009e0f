"""Small readings of lark's trees that every builder needs: tokens, clauses, spans, names."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import TYPE_CHECKING

from grammar.points import Line, Unreadable, columns
from grammar.quantities import is_quantity, read_quantity
from grammar.syntax_tree import Span

if TYPE_CHECKING:
    from lark import Token, Tree


_NAME = re.compile(r"[A-Z][A-Z_]*\d*")


def tokens_of(tree: Tree[Token]) -> list[Token]:
    """All tokens below a tree, in the order of the line."""
    tokens: list[Token] = []
    for child in tree.children:
        if isinstance(child, str):
            tokens.append(child)
        else:
            tokens += tokens_of(child)
    return tokens


def clauses_of(tree: Tree[Token]) -> Iterator[Tree[Token]]:
    """The clauses (rules) directly below a statement."""
    for child in tree.children:
        if not isinstance(child, str):
            yield child


def parts_of(tree: Tree[Token]) -> Iterator[tuple[str, list[Token]]]:
    """The clauses directly below a statement, each as the name of its rule and its tokens."""
    for clause in clauses_of(tree):
        yield str(clause.data), tokens_of(clause)


def extent(tree: Tree[Token]) -> tuple[int, int]:
    """Start and end column of a tree, from 0, keywords included."""
    return tree.meta.start_pos, tree.meta.end_pos


def statement_span(tree: Tree[Token], line: Line) -> Span:
    """The span of a whole statement or clause."""
    return line.span(*extent(tree))


def check_name(token: Token, after: Token | None = None, usual: str = "") -> Token:
    """The token where it can be a name. Raises Unreadable for a value (``9V``) and for ``L`` and ``R``. ``after`` is the word
    behind it, which may be the name; ``usual`` a name to offer."""
    if token.upper() in ("L", "R"):
        raise Unreadable("name-is-reserved", *columns(token), suggestion=f"{token}1")
    if token[0].isdecimal() and is_quantity(str(token)):
        if after is not None and _NAME.fullmatch(after):
            raise Unreadable("name-is-value", columns(token)[0], columns(after)[1], suggestion=f"{after} {token}", value=token)
        offered = usual or _usual_name(token)
        raise Unreadable("name-is-value", *columns(token), suggestion=f"{offered} {token}" if offered else None, value=token)
    if "." in token:
        raise Unreadable("name-has-a-dot", *columns(token), suggestion=token.replace(".", "-").strip("-"))
    return token


def _usual_name(value: Token) -> str:
    """R1 for ohms, C1 for farads; "" for what says nothing of the part."""
    quantity = read_quantity(str(value))
    if quantity.unit in ("F", "") and quantity.value < 1e-3:
        return "C1"
    return "R1" if quantity.unit in ("ohm", "") and len(value) > 1 else ""
