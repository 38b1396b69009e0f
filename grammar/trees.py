"""Small readings of lark's trees that every builder needs: tokens, clauses, spans, names."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from grammar.points import Line, Unreadable, columns
from grammar.quantities import is_quantity
from grammar.syntax_tree import Span

if TYPE_CHECKING:
    from lark import Token, Tree


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


def check_name(token: Token) -> Token:
    """The token where it can be a name. Raises Unreadable for a value (``9V``) and for ``L`` and ``R``."""
    if token.upper() in ("L", "R"):
        raise Unreadable("name-is-reserved", *columns(token), suggestion=f"{token}1")
    if token[0].isdecimal() and is_quantity(str(token)):
        raise Unreadable("name-is-value", *columns(token))
    if "." in token:
        raise Unreadable("name-has-a-dot", *columns(token), suggestion=token.replace(".", "-").strip("-"))
    return token
