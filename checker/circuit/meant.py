"""What a lone word in a wire may mean: ``VCC``, ``GND``, ``+``, ``left``; and how a hole is written that is a name as well.

Input is the bench and the word; output the spellings to offer. Nothing is taken for meant.
"""

from __future__ import annotations

import re

from checker.bench.model import Bench
from grammar.syntax_tree import Rail, Supply
from parts_library import pin_named

_PLUS = re.compile(r"\+|plus|positive|vcc|vdd|v\+|\+?\d+([.,]\d+)?v\d*|power|red", re.IGNORECASE)
_MINUS = re.compile(r"-|minus|negative|gnd|ground|vss|v-|0v|earth|black|blue", re.IGNORECASE)
_TURNED = re.compile(r"([+-])([lr])(\d*)", re.IGNORECASE)
_RAIL_AND_MORE = re.compile(r"([lr][+-]\d*)[^\w+-]+", re.IGNORECASE)
_SIDE = re.compile(r"(l|r)(eft|ight)?", re.IGNORECASE)


def meant_by(bench: Bench, word: str) -> tuple[str, ...]:
    """Pins of parts off the board that are called so; else rails that the word may mean, best first."""
    owners = tuple(f"{part.name}.{pin}" for part in bench.parts.values() if part.entry is not None and not part.placed
                   and (pin := pin_named(part.entry, word)) and not word.isdigit())
    if owners and not (len(owners) > 1 and all(owner.split(".")[1] in "+-" for owner in owners)):
        on_rails = _of_supplies(bench, word)
        return on_rails if on_rails and all(_is_supply(bench, owner) for owner in owners) else owners
    if turned := _TURNED.fullmatch(word):
        return (f"{turned[2].upper()}{turned[1]}{turned[3]}",)
    if more := _RAIL_AND_MORE.fullmatch(word):
        return (more[1].upper(),)
    if side := _SIDE.fullmatch(word):
        return tuple(f"{side[1].upper()}{sign}" for sign in "+-")
    return _of_supplies(bench, word)


def _is_supply(bench: Bench, owner: str) -> bool:
    part = bench.part(owner.split(".")[0])
    return part is not None and isinstance(part.statement, Supply)


def _of_supplies(bench: Bench, word: str) -> tuple[str, ...]:
    """The rails on which the supplies have the pole that the word speaks of."""
    pole = 0 if _PLUS.fullmatch(word) else 1 if _MINUS.fullmatch(word) else None
    if pole is None:
        return ()
    ends = [part.statement.terminals[pole] for part in bench.parts.values()
            if isinstance(part.statement, Supply) and len(part.statement.terminals) == 2]
    rails = tuple(dict.fromkeys(f"{end.side}{end.sign}" for end in ends if isinstance(end, Rail)))
    return rails or tuple(f"{side}{'+-'[pole]}" for side in "LR")


def row_first(word: str) -> str:
    """``d1`` as ``1d``, which is always a hole; "" for a word that is no hole."""
    match = re.fullmatch(r"([a-j])-?(\d{1,2})", word, re.IGNORECASE)
    return f"{match[2]}{match[1].lower()}" if match else ""
