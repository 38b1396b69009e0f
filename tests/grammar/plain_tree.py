"""A tree in one short line, without spans, for tables of tests: ``Wire(points=[a5 b7], colour=red)``."""

from __future__ import annotations

from msgspec import Struct

from grammar import read
from grammar.syntax_tree import Bare, Hole, Node, Pin, Rail, Span, Word


def plain(node: object) -> str:
    """A node without spans. A Word is its text in quotes, a Bare has a question mark, defaults are left out."""
    match node:
        case Word():
            return repr(node.text)
        case Hole():
            return f"{_board(node.board)}{node.column}{node.row}"
        case Rail():
            return f"{_board(node.board)}{node.side}{node.sign}{node.row or ''}"
        case Pin():
            return f"{node.part}.{node.pin}"
        case Bare():
            return f"?{node.text}"
        case Node():
            return f"@{node.name}"
        case Struct():
            return f"{type(node).__name__}({', '.join(_fields(node))})"
        case tuple():
            return f"[{' '.join(plain(member) for member in node)}]"
        case _:
            return str(node)


def _board(name: str | None) -> str:
    return f"{name}:" if name else ""


def _fields(node: Struct) -> list[str]:
    values = ((field, getattr(node, field)) for field in node.__struct_fields__)
    said = ((field, value) for field, value in values if not isinstance(value, Span) and value not in (None, (), False))
    # The words of a bound are its spelling, not its meaning.
    return [f"{field}={plain(value)}" for field, value in said if (type(node).__name__, field) != ("Bound", "text")]


def statements(text: str) -> list[str]:
    """Every statement of a list in plain form; fails on any problem."""
    wiring_list = read(text)
    assert [problem.message for problem in wiring_list.problems] == []
    return [plain(statement) for statement in wiring_list.statements]


def labels(text: str) -> list[str]:
    """The labels of the problems of a list."""
    return [problem.label for problem in read(text).problems]
