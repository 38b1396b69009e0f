"""One row of a card: a quantity in words with its value.

Input: numbers with a unit. Output: a ``Rating``, with the text that people read made once, for every format.
"""

from __future__ import annotations

from msgspec import Struct

from grammar.quantities import show_quantity
from parts_library.schema import Level, UnitFloat

Value = UnitFloat | Level | float


class Rating(Struct, frozen=True, kw_only=True):
    """``what`` it is, ``said`` its value in words with unit. ``limit`` where it is never to be passed. ``unit`` is that
    of ``least``, ``usual`` and ``most`` in SI units, "%" a fraction, "" a bare number; a level that is partly volts and
    partly a share of the supply has words only."""

    what: str
    said: str
    limit: bool = False
    unit: str = ""
    least: float | None = None
    usual: float | None = None
    most: float | None = None


def rating(what: str, *, limit: bool, least: Value | None = None, usual: Value | None = None,
           most: Value | None = None) -> Rating:
    """A row from what is known of a quantity; at least one of the three must be."""
    values = [each for each in (least, usual, most) if each is not None]
    if any(isinstance(each, Level) for each in values):
        return Rating(what=what, said=" to ".join(map(_shown, values)), limit=limit)
    unit = next((each.unit for each in values if isinstance(each, UnitFloat)), "")
    return Rating(what=what, said=_said(least, usual, most, plain=limit), limit=limit, unit=unit,
                  least=_number(least), usual=_number(usual), most=_number(most))


def _said(least: Value | None, usual: Value | None, most: Value | None, *, plain: bool) -> str:
    """``plain`` for limits: that they are the most is said by their heading."""
    if least is not None and most is not None:
        return f"{_shown(least)} to {_shown(most)}" + (f", usually {_shown(usual)}" if usual is not None else "")
    words = [_shown(usual)] if usual is not None else []
    words += [f"at least {_shown(least)}"] if least is not None else []
    words += [_shown(most) if plain else f"at most {_shown(most)}"] if most is not None else []
    return ", ".join(words)


def _number(value: Value | None) -> float | None:
    return float(value) if isinstance(value, float) else None


def _shown(value: Value) -> str:
    if isinstance(value, Level):
        share = f"{show_quantity(value.share, '%')} of the supply" if value.share else ""
        volts = show_quantity(value.volts, "V") if value.volts or not share else ""
        return " and ".join(word for word in (share, volts) if word)
    unit = value.unit if isinstance(value, UnitFloat) else ""
    # what it is says "for each watt" already
    return f"{float(value):g} °C" if unit == "K/W" else show_quantity(float(value), unit)
