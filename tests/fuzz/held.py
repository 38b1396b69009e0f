"""What must hold for any bytes that are read as a list."""

from __future__ import annotations

from grammar.layout import laid_out, meaning
from grammar.reader import decode, read


def held(content: bytes) -> None:
    """Raises AssertionError where the reader breaks a promise on these bytes."""
    tree = read(content)
    for problem in tree.problems:
        assert problem.message, problem
        assert 1 <= problem.span.line <= max(len(tree.lines), 1), problem
        assert problem.span.column >= 1 and problem.span.end_column > problem.span.column, problem
    for statement in tree.statements:
        assert 1 <= statement.span.line <= len(tree.lines), statement
    text = decode(content)
    after = laid_out(text)
    again = read(after)
    assert [meaning(one) for one in tree.statements] == [meaning(one) for one in again.statements], text
    assert after == laid_out(after), text
