"""The table made ahead of time is in step with the grammar, and the grammar does where the table does not fit."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path
from zlib import crc32

import lark
import pytest

from grammar.table import GRAMMAR, TABLE, build, parser, text_of
from tests.grammar.test_grammar_spellings import SPELLINGS

RULES = GRAMMAR.read_text(encoding="utf-8")
WRITTEN = TABLE.read_text(encoding="utf-8")
FIRST_LINE, REST = WRITTEN.split("\n", maxsplit=1)
MADE_BY = FIRST_LINE.split(",")[0].removeprefix("lark ")
LINES = [line for canonical, spellings in SPELLINGS.items() for text in (canonical, *spellings[:2]) for line in text.split("\n")]


def test_the_table_was_made_from_this_grammar() -> None:
    assert f"grammar {crc32(RULES.encode()):08x}" in FIRST_LINE, "python -m grammar.table"


def test_the_table_is_what_would_be_made_now() -> None:
    # Another version of lark makes another table; it does not use this one.
    if lark.__version__ == MADE_BY:
        assert WRITTEN == text_of(RULES), "python -m grammar.table"


def test_the_table_and_the_grammar_give_the_same_trees(monkeypatch: pytest.MonkeyPatch) -> None:
    built = build(RULES)
    monkeypatch.setattr("grammar.table.build", pytest.fail)
    monkeypatch.setattr("lark.__version__", MADE_BY)
    loaded = parser()

    for line in LINES:
        assert _outcome(built, line) == _outcome(loaded, line), line


def test_every_terminal_is_a_pattern() -> None:
    # The lexer of the table settles nothing between a pattern and a word in quotes that it would match as well.
    assert {"re"} == {terminal.pattern.type for terminal in parser().terminals}


def _outcome(made: lark.Lark, line: str) -> str:
    try:
        return made.parse(line).pretty()
    except lark.exceptions.UnexpectedInput as error:
        return f"{type(error).__name__} at {error.pos_in_stream}"


UNFIT = [
    ("missing", None),
    ("empty", ""),
    ("nothing but a first line", FIRST_LINE + "\n"),
    ("cut short", WRITTEN[:5000]),
    ("by another lark", WRITTEN.replace(f"lark {MADE_BY}", "lark 0.0.1", 1)),
    ("of another grammar", WRITTEN.replace(", grammar ", ", grammar 0", 1)),
    ("with another state", WRITTEN.replace('"WORD"', '"WIRD"', 1)),
    ("no text", "\x00\x01"),
]


@pytest.mark.parametrize(("name", "text"), UNFIT, ids=[name for name, _ in UNFIT])
def test_where_the_table_does_not_fit_the_grammar_is_built(name: str, text: str | None, tmp_path: Path) -> None:
    table = tmp_path / "legs.table"
    if text is not None:
        table.write_text(text, encoding="utf-8")

    assert "wire" in parser(table).parse("wire a5 to b7").pretty()


def test_the_documented_command_writes_the_same_table_on_every_run() -> None:
    code = "from grammar.table import GRAMMAR, text_of; print(text_of(GRAMMAR.read_text(encoding='utf-8')), end='')"
    texts = {
        subprocess.run(
            [sys.executable, "-X", "utf8", "-c", code],
            check=True,
            capture_output=True,
            env={"PYTHONPATH": ":".join(sys.path), "PYTHONHASHSEED": seed},
        ).stdout
        for seed in ("1", "2")
    }

    assert 1 == len(texts)
