"""What a supply is, from the words on its line: ``9V``, ``4xAA``, ``bench-supply 12V``, ``230V``.

Input: the words of a ``supply`` line. Output: ``Identified`` with a SupplyKind. A bare voltage is a source with 0.1 ohm
inside; a battery, adapter or port named in words is an entry of the library, with its own resistance and limit.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import TYPE_CHECKING

from msgspec.structs import replace

from parts_library.assumptions import assumed_of, completed
from parts_library.kinds import find_kind
from parts_library.schema import AnyEntry, Ohms, SupplyKind, Volts
from parts_library.values import fill_values
from parts_library.words import Identified, Token, WordProblem, tokens_of

if TYPE_CHECKING:
    from parts_library.loader import Library

BARE_RESISTANCE = Ohms(0.1)
"""The resistance inside a supply of which only the voltage is said (DESIGN.md, section 2)."""

MAINS_FROM = 90.0
"""Volts from which a supply of which only the voltage is said is taken as mains: the lowest public mains is 100 V."""

# Words beside a bare voltage that name no library kind of their own.
_PLAIN = {"supply", "source", "power", "psu", "dc", "v", "regulated", "dc-supply", "power-supply", "volts"}
_ALTERNATING = {"ac", "vac", "~"}
_CAPACITY = re.compile(r"(?i)\d+([.,]\d+)?\s*m?[aw]h")
"""How long a battery lasts, which decides nothing here."""
_CELLS = re.compile(r"(?i)([1-9]\d?)\s*[x×*]?\s*(aaa|aa)(?:[\s-]*(?:cells?|batter(?:y|ies)|pack|holder))*")


def identify_supply(words: Sequence[str], library: Library, *, name: str = "the supply") -> Identified:
    """What the supply of a ``supply`` line is. ``words`` are kind and values, the limit not among them."""
    tokens = _tokens(words)
    alternating = any(token.lowered in _ALTERNATING or re.search(r"(?i)v\s*ac$", token.text) for token in tokens)
    told = [token for token in tokens if token.lowered not in _PLAIN | _ALTERNATING and not _CAPACITY.fullmatch(token.text)]
    if told and all(token.quantity is not None or token.failure is not None for token in told):
        return _bare(told, alternating, name, library)
    kind = find_kind(told or tokens, "", _with_packs(library.supplies, told)) if told or tokens else None
    if kind is None:
        return Identified(None, problems=(WordProblem(0, "unknown-part", "a supply needs its voltage, as in 9V", "9V"),))
    if kind.entry is None or not isinstance(kind.entry, SupplyKind):
        return Identified(None, problems=(kind.problem or _no_supply(told, kind.word),), kind_word=kind.word)
    rest = [token for token in told if token.index not in kind.used]
    filled = fill_values(kind.entry, rest, name)
    done, missing = completed(filled, name)
    problems = (*filled.problems, *missing)
    entry = done.entry
    if isinstance(entry, SupplyKind) and alternating:
        entry = _alternating(entry)
    return Identified(None, (), problems, kind.word) if problems else Identified(entry, assumed_of(done, name), (), kind.word)


def _tokens(words: Sequence[str]) -> tuple[Token, ...]:
    """The words as tokens, with ``4xAA``, ``4 AA``, ``4 x AA cells`` as the library names them: ``aa-pack-4``."""
    for taken in range(min(4, len(words)), 0, -1):
        match = _CELLS.fullmatch(" ".join(words[:taken]))
        if match is not None:
            count, size = int(match[1]), match[2].lower()
            tokens = tokens_of([f"{size}-pack-{count}" if count > 1 else size, *words[taken:]])
            return tuple(token.at(token.index + taken - 1) if token.index else token for token in tokens)
    return tokens_of(words)


def _with_packs(supplies: Library, told: Sequence[Token]) -> Library:
    """The supplies, and a pack of as many cells as asked for (``5xAA``) made from the single cell."""
    made: dict[str, AnyEntry] = {}
    for token in told:
        match = re.fullmatch(r"(aaa|aa)-pack-([1-9]\d?)", token.lowered)
        cell = supplies.entries.get(match[1]) if match else None
        if match and isinstance(cell, SupplyKind) and not supplies.index.exactly(token.text):
            made[token.lowered] = _pack(cell, token.lowered, int(match[2]))
    return type(supplies)({**supplies.entries, **made}, supplies.packages) if made else supplies


def _pack(cell: SupplyKind, name: str, count: int) -> SupplyKind:
    """``count`` cells in series: voltages and resistances add up, the current ratings stay."""
    def times(value: float | None) -> float | None:
        return None if value is None else type(value)(float(f"{value * count:.9g}"))

    scaled = {field: times(getattr(cell, field)) for field in ("voltage", "fresh", "spent", "resistance", "spent_resistance")}
    return replace(cell, name=name, say=f"{count} cells in series, each: {cell.say}", aliases=(), **scaled)


def _bare(told: Sequence[Token], alternating: bool, name: str, library: Library) -> Identified:
    plain = SupplyKind(name="supply", say="a source of voltage", package="off-board", pins=("+", "-"), chemistry="source",
                       resistance=BARE_RESISTANCE, from_memory=("resistance",))
    filled = fill_values(plain, told, name)
    done, missing = completed(filled, name)
    problems = (*filled.problems, *missing)
    entry = done.entry
    assert isinstance(entry, SupplyKind)
    if alternating or (entry.voltage is not None and entry.voltage >= MAINS_FROM):
        entry = _alternating(entry)
    assumed = () if problems else assumed_of(done, name)
    return Identified(None if problems else entry, assumed, problems)


def _alternating(entry: SupplyKind) -> SupplyKind:
    """Alternating voltage is marked as the chemistry ``ac``; from the lowest mains voltage on it is mains."""
    return replace(entry, chemistry="ac", mains=(entry.voltage or Volts(0.0)) >= MAINS_FROM)


def _no_supply(told: Sequence[Token], word: str | None) -> WordProblem:
    return WordProblem(told[0].index, "unknown-part", f"{word or told[0].text} is no supply: give its voltage, as in 9V", "9V")
