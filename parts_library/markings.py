"""What is printed on a part: colour bands, capacitor codes, and the preferred values they come in.

Input: colours or a code as read from the part. Output: ohms, picofarads and tolerances as plain floats. The tables are
those of IEC 60062 (marking codes for resistors and capacitors) and IEC 60063 (preferred number series), transcribed from
memory of the standards. Written here because the direction in which bands are read, and where a code stops making
sense, must end in a question to the reader rather than in a guess.
"""

from __future__ import annotations

import math
import re
from bisect import bisect_left
from collections.abc import Sequence

from msgspec import Struct

# IEC 60062, colour code of significant digits.
DIGIT_COLOURS = ("black", "brown", "red", "orange", "yellow", "green", "blue", "violet", "grey", "white")

# IEC 60062, colour code of the multiplier, as a power of ten.
MULTIPLIER_EXPONENTS = {**{colour: exponent for exponent, colour in enumerate(DIGIT_COLOURS)},
                        "gold": -1, "silver": -2, "pink": -3}

# IEC 60062:2016, colour code of the tolerance, as a fraction (orange, yellow and grey since that edition).
TOLERANCES = {"silver": 0.10, "gold": 0.05, "red": 0.02, "brown": 0.01, "green": 0.005, "blue": 0.0025,
              "violet": 0.001, "orange": 0.0005, "yellow": 0.0002, "grey": 0.0001}

# IEC 60062, colour code of the temperature coefficient, in parts per million a kelvin.
TEMPERATURE_COEFFICIENTS = {"black": 250, "brown": 100, "red": 50, "orange": 15, "yellow": 25, "green": 20, "blue": 10,
                            "violet": 5, "grey": 1}

# Spellings and shortenings that people write; the three-letter ones are those of IEC 60757.
COLOUR_SYNONYMS = {"gray": "grey", "purple": "violet", "gry": "grey", "vio": "violet", "blk": "black", "bk": "black",
                   "brn": "brown", "bn": "brown", "rd": "red", "org": "orange", "og": "orange", "ylw": "yellow",
                   "yel": "yellow", "ye": "yellow", "grn": "green", "gn": "green", "blu": "blue", "bu": "blue",
                   "gy": "grey", "wht": "white", "wh": "white", "gd": "gold", "gld": "gold", "sr": "silver",
                   "slv": "silver", "pk": "pink", "vt": "violet"}

# IEC 60062, letter code of a symmetrical tolerance in per cent.
TOLERANCE_LETTERS = {"E": 0.00005, "L": 0.0001, "P": 0.0002, "W": 0.0005, "B": 0.001, "C": 0.0025, "D": 0.005, "F": 0.01,
                     "G": 0.02, "H": 0.03, "J": 0.05, "K": 0.10, "M": 0.20, "N": 0.30}

# IEC 60062, letter code of the tolerance in picofarads, for capacitors under 10 pF.
PICOFARAD_LETTERS = {"B": 0.1, "C": 0.25, "D": 0.5, "F": 1.0, "G": 2.0}

# IEC 60062, asymmetrical tolerances; the wider side is what a check needs.
ASYMMETRIC_LETTERS = {"Q": 0.30, "S": 0.50, "T": 0.50, "Z": 0.80}

# The rated-voltage code printed before a capacitor's value (1H104, 2A104J): a digit for the decade and a letter.
# Common practice among makers, no standard at hand.
VOLTAGE_LETTERS = {"A": 1.0, "C": 1.6, "D": 2.0, "E": 2.5, "G": 4.0, "H": 5.0, "J": 6.3, "K": 8.0}

_UNIT_PICOFARADS = {"P": 1.0, "R": 1.0, "N": 1e3, "U": 1e6, "µ": 1e6}
# N and P would read as nano and pico; nobody sells such capacitors for a breadboard (common practice, no source).
_LETTERS = "".join(sorted((set(TOLERANCE_LETTERS) | set(ASYMMETRIC_LETTERS)) - {"N", "P"}))
_CODE = re.compile(rf"(?:(?P<volts>[0-3][ACDEGHJK]))?(?P<value>[1-9]\d\d?|\d*[RPNUµ]\d*|\d)(?P<tolerance>[{_LETTERS}])?$")

# IEC 60063, tables of the series E3 to E24 (two figures), from memory.
E24 = (10, 11, 12, 13, 15, 16, 18, 20, 22, 24, 27, 30, 33, 36, 39, 43, 47, 51, 56, 62, 68, 75, 82, 91)
E12 = E24[::2]
E6 = E24[::4]
E3 = E24[::8]
# IEC 60063: E48, E96 and E192 are the rounded powers 10 to the n/96 (three figures).
E96 = tuple(round(100 * 10 ** (step / 96)) for step in range(96))
SERIES: dict[str, tuple[int, ...]] = {"E3": E3, "E6": E6, "E12": E12, "E24": E24, "E96": E96}


class MarkingError(ValueError):
    """A marking that says nothing under IEC 60062; the message is one plain sentence without a period."""


class BandReading(Struct, frozen=True):
    """What bands say: ``ohms``, ``tolerance`` as a fraction, ``coefficient`` in ppm a kelvin (six bands).

    ``from_other_end`` is what they would say read the other way round, where that too is a usual value and the
    spacing of the bands alone tells which end is first."""

    ohms: float
    tolerance: float
    coefficient: int | None = None
    from_other_end: float | None = None


class CodeReading(Struct, frozen=True):
    """What a capacitor's code says: ``picofarads``, ``tolerance`` as a fraction, ``volts`` it is rated for."""

    picofarads: float
    tolerance: float | None = None
    volts: float | None = None


def colour_named(word: str) -> str | None:
    """The colour that ``word`` means in the code, or None: ``Gray`` is grey, ``purple`` violet."""
    lowered = word.strip().lower()
    colour = COLOUR_SYNONYMS.get(lowered, lowered)
    return colour if colour in MULTIPLIER_EXPONENTS else None


def read_bands(colours: Sequence[str]) -> BandReading:
    """Reads 3, 4, 5 or 6 bands from the first to the last. Raises MarkingError."""
    named = [_known_colour(colour) for colour in colours]
    if not 3 <= len(named) <= 6:
        raise MarkingError(f"a resistor has 3 to 6 bands, here are {len(named)}")
    ohms, tolerance, coefficient = _read_in_order(named)
    return BandReading(ohms, tolerance, coefficient, _other_end(named, ohms))


def resistance_from_bands(colours: Sequence[str]) -> tuple[float, float]:
    """Ohms and tolerance (a fraction) of 3 to 6 colour bands. Raises MarkingError."""
    reading = read_bands(colours)
    return reading.ohms, reading.tolerance


def bands_for(ohms: float, tolerance: float) -> tuple[str, ...]:
    """The bands that a resistor of ``ohms`` and ``tolerance`` (a fraction) carries: four where two figures and 5 % or
    more say it, else five; three at 20 %. Raises MarkingError where no bands say it."""
    figures = 2 if tolerance >= 0.05 and _has_figures(ohms, 2) else 3
    if ohms <= 0 or not _has_figures(ohms, figures):
        raise MarkingError(f"{ohms:g} ohm has no colour code")
    exponent = math.floor(math.log10(ohms) + 1e-9) - (figures - 1)
    digits = str(round(ohms / 10.0**exponent))
    multiplier = _key_of(MULTIPLIER_EXPONENTS, exponent)
    last = _key_of(TOLERANCES, tolerance)
    if multiplier is None or (last is None and not math.isclose(tolerance, 0.2)):
        raise MarkingError(f"{ohms:g} ohm with {tolerance * 100:g} % has no colour code")
    return (*(DIGIT_COLOURS[int(digit)] for digit in digits), multiplier, *((last,) if last else ()))


def read_code(code: str) -> CodeReading:
    """Reads a capacitor's code: ``104``, ``104K``, ``4R7``, ``4n7``, ``n47``, ``p47``, ``2A104J``. Raises MarkingError."""
    text = code.strip().replace("μ", "µ").upper().replace("Μ", "µ")
    match = _CODE.match(text)
    picofarads = _picofarads(match["value"]) if match else None
    if match is None or not picofarads:
        raise MarkingError(f"'{code}' is no capacitor code; one looks like 104, 104K or 4n7")
    letter, volts = match["tolerance"], match["volts"]
    rated = round(10.0 ** int(volts[0]) * VOLTAGE_LETTERS[volts[1]], 6) if volts else None
    return CodeReading(picofarads, _tolerance(letter, picofarads) if letter else None, rated)


def capacitance_from_code(code: str) -> tuple[float, float | None]:
    """Picofarads and tolerance (a fraction, None where unmarked) of a capacitor's code. Raises MarkingError."""
    reading = read_code(code)
    return reading.picofarads, reading.tolerance


def nearest_preferred(ohms: float, series: str) -> float:
    """The value of ``series`` ("E6", "E12", "E24", "E96") whose ratio to ``ohms`` is nearest to one."""
    if ohms <= 0:
        raise ValueError("only a positive value has a preferred one near it")
    values = SERIES[series]
    decade = 10.0 ** math.floor(math.log10(ohms)) / values[0]
    ladder = [value * decade for value in (*values, values[0] * 10)]
    place = bisect_left(ladder, ohms)
    around = ladder[max(place - 1, 0): place + 1]
    return float(f"{min(around, key=lambda value: abs(math.log(value / ohms))):.6g}")


def is_preferred(ohms: float, series: str) -> bool:
    """Whether ``ohms`` is a value of the series."""
    return ohms > 0 and math.isclose(nearest_preferred(ohms, series), ohms, rel_tol=1e-6)


def _known_colour(word: str) -> str:
    colour = colour_named(word)
    if colour is None:
        raise MarkingError(f"'{word}' is no colour of the resistor code")
    return colour


def _read_in_order(colours: Sequence[str]) -> tuple[float, float, int | None]:
    figures = 2 if len(colours) <= 4 else 3
    value = 0
    for colour in colours[:figures]:
        if colour not in DIGIT_COLOURS:
            raise MarkingError(f"{colour} is no digit; read the bands from the other end")
        value = value * 10 + DIGIT_COLOURS.index(colour)
    ohms = float(f"{value}e{MULTIPLIER_EXPONENTS[colours[figures]]}")
    if len(colours) == 3:
        return ohms, 0.2, None
    last = colours[figures + 1]
    if last not in TOLERANCES:
        raise MarkingError(f"{last} is no tolerance; read the bands from the other end")
    if len(colours) < 6:
        return ohms, TOLERANCES[last], None
    if colours[5] not in TEMPERATURE_COEFFICIENTS:
        raise MarkingError(f"{colours[5]} is no temperature coefficient; read the bands from the other end")
    return ohms, TOLERANCES[last], TEMPERATURE_COEFFICIENTS[colours[5]]


def _other_end(colours: Sequence[str], ohms: float) -> float | None:
    try:
        other, _, _ = _read_in_order(list(reversed(colours)))
    except MarkingError:
        return None
    usual = "E24" if len(colours) <= 4 else "E96"
    both = is_preferred(other, usual) or is_preferred(other, "E24")
    return other if both and not math.isclose(other, ohms) else None


def _has_figures(ohms: float, figures: int) -> bool:
    return ohms > 0 and math.isclose(float(f"{ohms:.{figures - 1}e}"), ohms, rel_tol=1e-9)


def _key_of(table: dict[str, int] | dict[str, float], wanted: float) -> str | None:
    return next((key for key, value in table.items() if math.isclose(value, wanted, abs_tol=1e-12)), None)


def _picofarads(value: str) -> float | None:
    letter = re.search(r"[RPNUµ]", value)
    if letter is not None:
        digits = value.replace(letter[0], ".")
        return None if digits == "." else float(f"{float(digits) * _UNIT_PICOFARADS[letter[0]]:.9g}")
    if len(value) < 3:
        return float(value)
    exponent = {8: -2, 9: -1}.get(int(value[2]), int(value[2]))
    return float(f"{value[:2]}e{exponent}")


def _tolerance(letter: str, picofarads: float) -> float:
    if picofarads < 10 and letter in PICOFARAD_LETTERS:
        return PICOFARAD_LETTERS[letter] / picofarads
    return TOLERANCE_LETTERS.get(letter) or ASYMMETRIC_LETTERS[letter]
