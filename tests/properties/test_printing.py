"""Printing a statement and reading it again is the identity, for statements made up at random."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from grammar import read
from grammar.layout import laid_out, meaning
from grammar.printer import show
from grammar.syntax_tree import Statement
from tests.properties.statements import PER_STATEMENT


@pytest.mark.parametrize("kind", PER_STATEMENT)
def test_a_printed_statement_reads_back_as_itself(kind: str) -> None:
    @settings(max_examples=40)
    @given(PER_STATEMENT[kind])
    def reads_back(statement: Statement) -> None:
        tree = read(show(statement))

        assert ((), [meaning(statement)]) == (tree.problems, [meaning(one) for one in tree.statements]), show(statement)

    reads_back()


@settings(max_examples=40)
@given(st.lists(st.one_of(list(PER_STATEMENT.values())), min_size=1, max_size=8))
def test_a_list_laid_out_says_the_same_and_is_laid_out_once(statements: list[Statement]) -> None:
    text = "\n".join(show(statement) for statement in statements)

    once = laid_out(text)

    assert [meaning(one) for one in read(text).statements] == [meaning(one) for one in read(once).statements]
    assert once == laid_out(once)
