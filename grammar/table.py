"""The parser of ``legs.lark``, made ahead of time so that a cold start need not build it.

Output: a lark parser, from the table ``legs.table`` where that fits, else built from ``legs.lark``. The table fits when it
is whole and was made from this very grammar by this version of lark, which its first line says. After a change to
``legs.lark`` the table is written anew with::

    python -m grammar.table
"""

from __future__ import annotations

import zlib
from pathlib import Path
from typing import TYPE_CHECKING, Any

import msgspec

if TYPE_CHECKING:
    from lark import Lark

_FOLDER = Path(__file__).parent
GRAMMAR = _FOLDER / "legs.lark"
TABLE = _FOLDER / "legs.table"


def parser(table: Path = TABLE) -> Lark:
    """The parser, from ``table`` where it fits, else built from the grammar: one or the other reads the same language."""
    grammar = GRAMMAR.read_text(encoding="utf-8")
    try:
        first_line, _, rest = table.read_text(encoding="utf-8").partition("\n")
        if first_line == _first_line(grammar, rest):
            return _loaded(msgspec.json.decode(rest))
        return build(grammar)
    except Exception:  # whatever is wrong with the table, the grammar itself is at hand
        return build(grammar)


def build(grammar: str) -> Lark:
    """The parser built from the text of the grammar."""
    from lark import Lark

    return Lark(grammar, parser="lalr", lexer="contextual", propagate_positions=True, maybe_placeholders=False)


def text_of(grammar: str) -> str:
    """The text of the table for a grammar, the same on every run: a line that says what it fits, then JSON, one line a
    terminal, a rule and a state."""
    import json

    from lark.grammar import Rule
    from lark.lexer import TerminalDef

    data, memo = build(grammar).memo_serialize([TerminalDef, Rule])
    lalr = data["parser"]["parser"]
    states = _in_order(lalr)
    lalr.update(tokens={}, states={})
    fields = [f'"data": {json.dumps(data)}', _by_lines("memo", memo), _by_lines("states", states)]
    rest = "{\n" + ",\n".join(fields) + "\n}\n"
    return _first_line(grammar, rest) + "\n" + rest


def _in_order(lalr: dict[str, Any]) -> dict[int, dict[str, Any]]:
    """The states with the names of their tokens, numbered from the first one on as they are met; lark's own numbers
    change from run to run. Start and end of ``lalr`` are numbered with them."""
    names, states = lalr["tokens"], lalr["states"]
    numbers: dict[int, int] = {state: number for number, state in enumerate(lalr["start_states"].values())}
    ordered: dict[int, dict[str, Any]] = {}
    for state in (waiting := list(numbers)):
        actions = sorted((names[token], *action) for token, action in states[state].items())
        for _, is_reduce, target in actions:
            if not is_reduce and target not in numbers:
                numbers[target] = len(numbers)
                waiting.append(target)
        ordered[numbers[state]] = {
            name: [is_reduce, target if is_reduce else numbers[target]] for name, is_reduce, target in actions
        }
    for ends in ("start_states", "end_states"):
        lalr[ends] = {rule: numbers[state] for rule, state in lalr[ends].items()}
    return ordered


def _first_line(grammar: str, rest: str) -> str:
    """What the table fits: the version of lark, and numbers that change with the grammar and with the table itself."""
    from lark import __version__

    return f"lark {__version__}, grammar {zlib.crc32(grammar.encode()):08x}, table {zlib.crc32(rest.encode()):08x}"


def _by_lines(name: str, rows: dict[int, Any]) -> str:
    import json

    lines = (f'"{number}": {json.dumps(row, ensure_ascii=False)}' for number, row in rows.items())
    return f'"{name}": {{\n' + ",\n".join(lines) + "\n}"


def _loaded(table: dict[str, Any]) -> Lark:
    from lark import Lark

    from grammar.one_by_one import Lexer

    table["data"]["options"]["_plugins"] = {"ContextualLexer": Lexer}
    lalr = table["data"]["parser"]["parser"]
    lalr["states"] = _by_number(table["states"])
    lalr["tokens"] = {name: name for actions in table["states"].values() for name in actions}
    return Lark.load({"data": table["data"], "memo": _by_number(table["memo"])})


def _by_number(rows: dict[str, Any]) -> dict[int, Any]:
    """The rows under the numbers that JSON wrote as text."""
    return {int(number): row for number, row in rows.items()}


if __name__ == "__main__":
    TABLE.write_text(text_of(GRAMMAR.read_text(encoding="utf-8")), encoding="utf-8")
