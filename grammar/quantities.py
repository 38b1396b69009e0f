"""Quantities as people write them: ``4k7``, ``4,7 kΩ``, ``0.1uF``, ``1/4W``, ``±5%``, ``200K/W``; and back to print.

Input: the text of one quantity. Output: its value in SI units with a canonical unit (``UNITS``). This is the only place
of the project where a quantity is read or printed for people. A percentage is kept as a fraction. The unit is "" where
none was written (``4k7``, ``100n``): what such a number means is decided by whoever knows the part.
"""

from __future__ import annotations

import re
from decimal import Decimal
from functools import lru_cache
from math import floor, inf, isinf, isnan, log10

from msgspec import Struct

UNITS = ("V", "A", "ohm", "F", "H", "W", "Hz", "s", "J", "%", "K/W", "degC", "")
"""The canonical units; the last one is a bare number."""


class Quantity(Struct, frozen=True):
    """A value in SI units (a percentage as a fraction), its canonical unit, and the text it was read from."""

    value: float
    unit: str
    text: str


class QuantityError(ValueError):
    """A text that is no quantity. ``reason`` is a plain clause, ``suggestion`` a spelling that would be read."""

    def __init__(self, text: str, reason: str, suggestion: str | None = None) -> None:
        super().__init__(f"{text!r} {reason}" + (f"; write {suggestion}" if suggestion else ""))
        self.text = text
        self.reason = reason
        self.suggestion = suggestion


# Spellings that are told apart by case stand in _EXACT_UNITS; all others are compared in lower case.
_EXACT_UNITS = {"K/W": "K/W", "S": "s"}
_UNITS = {
    "V": "v volt volts vdc vac",
    "A": "a amp amps ampere amperes",
    "ohm": "ohm ohms ω r",
    "F": "f farad farads",
    "H": "h henry henries henrys",
    "W": "w watt watts",
    "Hz": "hz hertz",
    "s": "s sec secs second seconds",
    "J": "j joule joules",
    "%": "% percent",
    "K/W": "k/w c/w °c/w degc/w",
    "degC": "c °c degc celsius",
}
_UNIT_OF = {spelling: unit for unit, spellings in _UNITS.items() for spelling in spellings.split()} | _EXACT_UNITS

_PREFIXES = {"p": -12, "n": -9, "u": -6, "m": -3, "k": 3, "M": 6, "G": 9}
_PREFIX_WORDS = {
    "pico": "p", "nano": "n", "micro": "u", "milli": "m", "kilo": "k", "mega": "M", "meg": "M", "giga": "G",
}  # fmt: skip
_OTHER_CASE = {"P": "p", "N": "n", "U": "u", "K": "k"}
_MILLI_IN_CAPITALS = frozenset({"V", "A", "H", "W", "s", "J"})
"""Units of which nobody has millions on a breadboard: ``220MA`` is typed with the shift key held, and is 220 mA."""

_NUMBER = r"(?P<sign>[+-]|\+/?-|±)?\s*(?P<number>\d+\s*/\s*\d+|(?:\d+(?:[.,]\d*)?|[.,]\d+)(?:[eE][+-]?\d+)?)"
_PLAIN = re.compile(_NUMBER + r"\s*(?P<rest>[^\d.,]*)", re.ASCII)
_LETTER_AS_POINT = re.compile(
    r"(?P<sign>[+-])?(?P<whole>\d*)(?P<letter>meg|[pnumkMGKUNPRrVvAWw])(?P<part>\d+)"
    r"\s*(?P<rest>\D*)",
    re.ASCII,
)
_THOUSANDS = re.compile(r"[1-9]\d{0,2}(,\d{3})+")
_POINT_OR_THOUSANDS = re.compile(r"[1-9]\d{0,2}(\.\d00)+")
"""``1.000 ohm`` and ``4.700 ohm``: nobody writes thousandths of an ohm that are none, and half of Europe writes thousands so."""
_ALIKE = str.maketrans({
    "\u00b5": "u", "\u03bc": "u", "\u03a9": "ω", "\u2126": "ω", "\u2212": "-", "\u2013": "-", "\u00a0": " ",
    "\u202f": " ", "\u2009": " ", "º": "°",
})  # fmt: skip
_VULGAR = {"¼": "1/4", "½": "1/2", "⅛": "1/8", "¾": "3/4"}


@lru_cache(maxsize=8192)
def read_quantity(text: str) -> Quantity:
    """Read one quantity.

    Returns the value in SI units; ``5%`` is 0.05. Negative values are read too: whether they make sense is for the
    caller. ``m`` is milli and ``M`` mega, a lone ``K`` is kilo; a letter may stand for the point, as in the codes
    of IEC 60062. Raises QuantityError with a reason, and a suggestion where there is a likely spelling.
    """
    plain = text.strip().translate(_ALIKE)
    for sign, fraction in _VULGAR.items():
        plain = plain.replace(sign, fraction)
    if not plain or len(plain) > 40:
        raise QuantityError(text, "is no quantity: a number with a unit is expected", None)
    if match := _LETTER_AS_POINT.fullmatch(plain):
        return _letter_as_point(text, match)
    if match := _PLAIN.fullmatch(plain):
        return _plain(text, match)
    raise QuantityError(text, "is no quantity: a number with a unit is expected", _mended(plain))


def is_quantity(text: str) -> bool:
    """Whether the text can be read as a quantity."""
    try:
        read_quantity(text)
    except QuantityError:
        return False
    return True


def _plain(text: str, match: re.Match[str]) -> Quantity:
    power, unit = _power_and_unit(text, match["number"], match["rest"].strip())
    sign = match["sign"] or ""
    if len(sign) > 1 or sign == "±":
        if unit != "%":
            raise QuantityError(text, "has ± in front, which only a tolerance in percent can have", None)
        sign = ""
    if power == 0 and unit in ("ohm", "") and _POINT_OR_THOUSANDS.fullmatch(match["number"]):
        raise QuantityError(text, "could be thousands or a decimal point", text.strip().replace(".", ""))
    return _quantity(text, sign, _number(text, match["number"]), power, unit)


def _letter_as_point(text: str, match: re.Match[str]) -> Quantity:
    """``4k7``, ``3V3``, ``R47``: the letter is the decimal point, and the prefix or the unit."""
    letter, rest = match["letter"], match["rest"].strip()
    number = f"{match['whole'] or '0'}.{match['part']}"
    if not match["whole"] and letter not in "Rr":
        raise QuantityError(text, "is no quantity: a number comes first", f"0{match[0]}")
    power, unit = _power_and_unit(text, number, letter)
    if rest:
        power_after, unit_after = _power_and_unit(text, number, rest)
        if power_after or (unit and unit != unit_after):
            reason = f"has both {letter} and {rest}: one of them is enough"
            raise QuantityError(text, reason, match[0].removesuffix(match["rest"]))
        unit = unit_after
    return _quantity(text, match["sign"] or "", Decimal(number), power, unit)


def _number(text: str, number: str) -> Decimal:
    if "/" in number:
        over, under = number.split("/")
        if int(under) == 0:
            raise QuantityError(text, "divides by zero", None)
        return Decimal(int(over)) / Decimal(int(under))
    if _THOUSANDS.fullmatch(number):
        reason = "could be thousands or a decimal comma"
        raise QuantityError(text, reason, text.strip().replace(",", ""))
    return Decimal(number.replace(",", "."))


def _quantity(text: str, sign: str, number: Decimal, power: int, unit: str) -> Quantity:
    """Decimal until here, so that 100n and 0.1u are the same float."""
    try:
        value = float(number.scaleb(power - 2 if unit == "%" else power))
    except ArithmeticError:
        value = inf
    if isinf(value):
        raise QuantityError(text, "is too large", None)
    return Quantity(-value if sign == "-" else value, unit, text)


def _power_and_unit(text: str, number: str, rest: str) -> tuple[int, str]:
    """The power of ten of the prefix and the canonical unit of what follows the number (``kΩ``, ``mA``, nothing)."""
    if (unit := _unit(rest)) is not None:
        return 0, unit
    for prefix, after in _prefix_splits(rest):
        unit = _unit(after)
        if unit is None or unit in ("%", "K/W", "degC"):
            continue
        if prefix == "M" and unit == "F":
            raise QuantityError(text, "is millions of farads as written", f"{number}uF")
        if prefix == "M" and unit in _MILLI_IN_CAPITALS:
            return _PREFIXES["m"], unit
        if prefix == "m" and unit == "Hz":
            return _PREFIXES["M"], unit
        return _PREFIXES[prefix], unit
    raise _unit_not_known(text, number, rest)


def _unit(word: str) -> str | None:
    word = re.sub(r"\s*([AD]C)$", "", word, flags=re.IGNORECASE) if word[:1] in "vV" and word else word
    if word == "":
        return ""
    return _EXACT_UNITS.get(word) or _UNIT_OF.get(word.lower())


def _prefix_splits(rest: str) -> list[tuple[str, str]]:
    """Every way to take a prefix off: first a word (``meg``, ``kilo``), then a letter."""
    low = rest.lower()
    splits = [(letter, rest[len(word) :].strip()) for word, letter in _PREFIX_WORDS.items() if low.startswith(word)]
    letter = _OTHER_CASE.get(rest[:1], rest[:1])
    if letter in _PREFIXES:
        splits.append((letter, rest[1:].strip()))
    return splits


def _unit_not_known(text: str, number: str, rest: str) -> QuantityError:
    splits = _prefix_splits(rest)
    if splits and _prefix_splits(splits[-1][1]):
        return QuantityError(text, "has two prefixes: one is enough", f"{number}{rest[0]}")
    return QuantityError(text, f"has a unit that is not known: {rest}", _mended(text.strip()))


def _mended(text: str) -> str | None:
    """The letters O and l typed for 0 and 1 set right (``22O``, ``1OOk``, ``l0k``), a unit or a point too many taken out
    (``1k5k``, ``2.2.k``)."""
    swapped = re.sub(r"(?<![A-Za-z])[oO](?=[.,]?\d)|(?<=\d)[oO]+(?![hH])", lambda match: "0" * len(match[0]), text)
    swapped = re.sub(r"(?<![A-Za-z])[lI](?=\d)|(?<=\d)[lI](?=\d|$)", "1", swapped)
    swapped = re.sub(r"(?<=\d)\.(?=[A-Za-z])", "", swapped) if re.match(r"\d+[.,]\d+\.[A-Za-z]", swapped) else swapped
    if swapped != text and (_LETTER_AS_POINT.fullmatch(swapped) or _PLAIN.fullmatch(swapped)) and is_quantity(swapped):
        return swapped
    return None


_STEPS = ((1e9, "G"), (1e6, "M"), (1e3, "k"), (1.0, ""), (1e-3, "m"), (1e-6, "µ"), (1e-9, "n"), (1e-12, "p"))
_PRINTED = {"ohm": "Ω", "degC": "°C"}
_NO_PREFIX = ("%", "K/W", "degC")


def show_quantity(value: float, unit: str) -> str:
    """Print a value in SI units for people: at most three significant digits and an SI prefix (``98 mA``, ``4.7 kΩ``).

    Volts stay volts down to 0.1 V, farads are printed in µF up to 1 F, as they are on the part. Values below a
    thousandth of a pico-unit print as 0. ``unit`` is one of UNITS.
    """
    if isnan(value):
        return "unknown"
    if isinf(value):
        return "infinite" if value > 0 else "minus infinite"
    printed = _PRINTED.get(unit, unit)
    if unit == "%":
        value *= 100
    if unit in _NO_PREFIX:
        return f"{_three_digits(value)} {printed}"
    step, prefix = _step(abs(value), unit)
    return f"{_three_digits(value / step)} {prefix}{printed}".strip()


def _step(size: float, unit: str) -> tuple[float, str]:
    if size < 1e-15 or (not unit and size < 1):
        return 1.0, ""
    if (unit == "V" and 0.09995 <= size < 1) or (unit == "Hz" and size < 1):
        return 1.0, ""
    if unit == "F" and 0.9995e-3 <= size < 0.9995:
        return 1e-6, "µ"
    # 0.9995 so that a value that rounds up to 1000 of one step is printed as 1 of the next.
    return next((step for step in _STEPS if size >= 0.9995 * step[0]), _STEPS[-1])


def _three_digits(value: float) -> str:
    if abs(value) < 1e-15:
        return "0"
    decimals = 2 - floor(log10(abs(value)) + 1e-12)
    rounded = round(value, decimals)
    return f"{rounded:.{max(decimals, 0)}f}".rstrip("0").rstrip(".") if decimals > 0 else f"{rounded:.0f}"
