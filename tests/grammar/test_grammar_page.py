"""The page of the language is true: lists are read, refused lists are refused, rules are those of the grammar."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

import grammar
from grammar import read

FOLDER = Path(grammar.__file__).parent
PAGE = (FOLDER / "LANGUAGE.md").read_text(encoding="utf-8")
RULES = (FOLDER / "legs.lark").read_text(encoding="utf-8").splitlines()


def blocks(kind: str) -> list[str]:
    """The fenced blocks of a kind."""
    return re.findall(rf"^```{kind}\n(.*?)^```$", PAGE, re.DOTALL | re.MULTILINE)


@pytest.mark.parametrize("text", blocks("legs"))
def test_a_list_on_the_page_is_read_without_a_problem(text: str) -> None:
    assert () == read(text).problems


@pytest.mark.parametrize("text", blocks("legs-refused"))
def test_a_refused_list_on_the_page_gives_one_problem(text: str) -> None:
    assert len(read(text).problems) == 1


@pytest.mark.parametrize("rule", "".join(blocks("lark")).splitlines())
def test_a_rule_on_the_page_is_a_rule_of_the_grammar(rule: str) -> None:
    assert rule in RULES


def test_every_statement_of_the_grammar_is_on_the_page() -> None:
    start = next(line for line in RULES if line.startswith("start:"))
    statements = set(re.findall(r"\w+", start)) - {"start", "bare_part", "kind_first", "bare_wire"}

    assert statements <= {rule.split(":")[0] for rule in "".join(blocks("lark")).splitlines()}
