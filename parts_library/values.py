"""Fills the values of a line into an entry: ``1k 1/2W 1%`` into a resistor, ``9V 100mA stall 300mA`` into a motor.

Input: an entry and the tokens that do not name it. Output: the entry with those fields replaced, the names of the fields
that were stated, and a problem for each value that does not fit. Which unit fills which field of which family is one
table, ``SLOTS``.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from math import isclose

import msgspec
from msgspec import Struct

from grammar.quantities import show_quantity
from parts_library.kinds import unreadable
from parts_library.letters import called
from parts_library.lookup import squeezed
from parts_library.schema import (
    Amps,
    AnyEntry,
    Capacitor,
    Farads,
    Forward,
    Fuse,
    Henries,
    Inductor,
    Led,
    Load,
    Ohms,
    Percent,
    Potentiometer,
    Relay,
    Resistor,
    SensorResistor,
    SupplyKind,
    Switch,
    UnitFloat,
    Volts,
    Watts,
    Zener,
)
from parts_library.vocabulary import LABELS, NOISE, SAYS_NOTHING_NEW
from parts_library.words import Token, WordProblem, tokens_of, two_values

# Family -> unit -> the field that such a value fills. "" is a number without a unit.
SLOTS: dict[type, dict[str, str]] = {
    Resistor: {"ohm": "ohms", "": "ohms", "%": "tolerance", "W": "power"},
    Capacitor: {"F": "farads", "": "farads", "V": "voltage", "%": "-"},
    Inductor: {"H": "henries", "": "henries", "ohm": "ohms", "A": "current", "%": "-"},
    Potentiometer: {"ohm": "ohms", "": "ohms", "%": "tolerance", "W": "power"},
    SensorResistor: {"ohm": "ohms", "": "ohms", "W": "power", "%": "-"},
    Zener: {"V": "voltage", "W": "max_power", "%": "tolerance"},
    Led: {"V": "forward", "A": "usual_current"},
    Switch: {"V": "voltage", "A": "current"},
    Fuse: {"A": "current", "V": "-", "ohm": "ohms"},
    Load: {"V": "voltage", "A": "current", "ohm": "ohms", "W": "power", "H": "inductance", "Hz": "-"},
    Relay: {"V": "voltage", "ohm": "ohms", "A": "current", "H": "inductance", "W": "-"},
    SupplyKind: {"V": "voltage", "A": "rated", "ohm": "resistance", "W": "-", "Hz": "-"},
}

_TYPES: dict[str, type[UnitFloat]] = {"V": Volts, "A": Amps, "ohm": Ohms, "F": Farads, "H": Henries, "W": Watts, "%": Percent}
_UNIT_WORDS = {"ohm": "ohms", "V": "volts", "A": "amps", "F": "farads", "H": "henries", "W": "watts", "%": "per cent",
               "": "a number without a unit", "s": "seconds", "J": "joules", "Hz": "hertz", "K/W": "kelvins a watt",
               "degC": "degrees"}
# No part for a breadboard lies outside of these; a value beyond is a slip of the pen (common practice, no source).
_SANE = {"ohms": (0.001, 1e10), "farads": (1e-13, 100.0), "henries": (1e-9, 100.0), "power": (0.01, 1000.0),
         "voltage": (0.1, 1000.0), "current": (1e-6, 100.0)}


class Filled(Struct, frozen=True):
    """An entry with its values; ``stated`` names the fields that the line gave; ``notes`` are plain sentences."""

    entry: AnyEntry
    stated: frozenset[str]
    problems: tuple[WordProblem, ...] = ()
    notes: tuple[str, ...] = ()


def fill_values(entry: AnyEntry, tokens: Sequence[Token], name: str) -> Filled:
    """The entry with the values of ``tokens`` filled in."""
    changes: dict[str, float] = {}
    problems: list[WordProblem] = []
    if isinstance(entry, Potentiometer):
        tokens = [_without_taper(token) for token in tokens]
    for token, label in _labelled(tokens):
        if token.quantity is None:
            if not _says_nothing_new(token):
                problems.append(_odd_word(token, entry))
            continue
        field, problem = _slot(entry, token, label, changes)
        if problem is not None:
            problems.append(problem)
        elif field != "-":
            changes[field] = token.quantity.value
    try:
        filled, notes = _replaced(entry, changes, name)
    except _Contrary as contrary:
        return Filled(entry, frozenset(changes), (*problems, WordProblem(0, "bad-value", str(contrary))))
    return Filled(filled, frozenset(changes), tuple(problems), notes)


def _labelled(tokens: Sequence[Token]) -> list[tuple[Token, str]]:
    """Each token that is no label, with the field that a label gives it. A label stands before its value (``stall 300mA``),
    or in the whole line after it (``100mA running 300mA stall``): the last word tells which."""
    values = [place for place, token in enumerate(tokens) if token.quantity is not None]
    labels = {place: LABELS[token.lowered] for place, token in enumerate(tokens) if token.lowered in LABELS}
    telling = [place for place, field in labels.items() if field]
    after = bool(telling and values and max(telling) > max(values))
    given: dict[int, str] = {}
    for place in telling:
        sides = [value for value in values if (value < place if after else value > place)]
        if sides:
            given[max(sides) if after else min(sides)] = labels[place]
    return [(token, given.get(place, "")) for place, token in enumerate(tokens) if place not in labels]


def _without_taper(token: Token) -> Token:
    """``B10K`` as it is printed on a potentiometer: the letter is the taper of its track, the rest its resistance."""
    match = re.fullmatch(r"[ABCabc](\d+[kKM]?\d*)", token.text)
    return tokens_of([match[1]])[0].at(token.index) if match and token.quantity is None else token


class _Contrary(ValueError):
    """Values that cannot all hold."""


def _says_nothing_new(token: Token) -> bool:
    if token.lowered in NOISE or re.fullmatch(r"\d+mm", token.lowered) or squeezed(token.text) == "":
        return True
    return token.lowered in SAYS_NOTHING_NEW


def _odd_word(token: Token, entry: AnyEntry) -> WordProblem:
    if re.fullmatch(r"\d+([.,]\d+)?V?\s*(-|–|~|\.\.)\s*\d+([.,]\d+)?V", token.text, re.IGNORECASE):
        return WordProblem(token.index, "bad-value", f"{token.text} is a range: write the one voltage that it is rated for")
    if both := two_values(token):
        return both
    if token.failure is not None:
        return unreadable(token)
    return WordProblem(token.index, "bad-value", f"{token.text} says nothing about {called(entry)}")


def capacitor_number(token: Token) -> WordProblem:
    """A number without a unit on a capacitor: a code like 104, or a value whose unit was left out."""
    text = token.text
    if token.is_digits and len(text) == 3 and text[2] != "0":
        return WordProblem(token.index, "bad-value", f"{text} on a capacitor is its code: write code {text}", f"code {text}")
    code = f", or code {text} for what is printed" if token.is_digits and len(text) == 3 else ""
    return WordProblem(token.index, "bad-value", f"{text} on a capacitor has no unit: write {text}uF, {text}nF or {text}pF{code}")


def _pot_number(token: Token) -> WordProblem:
    """Three digits on a potentiometer: trimmers are printed with a code, two figures and the number of noughts."""
    ohms = float(f"{token.text[:2]}e{token.text[2]}")
    message = f"{token.text} on a potentiometer may be its code, {show_quantity(ohms, 'ohm')}"
    return WordProblem(token.index, "bad-value", f"{message}: write code {token.text}, or {token.text}ohm")


def _slot(entry: AnyEntry, token: Token, before: str, changes: dict[str, float]) -> tuple[str, WordProblem | None]:
    assert token.quantity is not None
    quantity = token.quantity
    slots = SLOTS.get(type(entry))
    if slots is None and _said_again(entry, token):
        return "-", None
    if slots is None:
        return "-", WordProblem(token.index, "bad-value", f"{token.text} does not fit: {entry.name} has no value to be stated")
    if isinstance(entry, Capacitor) and quantity.unit == "" and not token.prefix:
        return "-", capacitor_number(token)
    if isinstance(entry, Potentiometer) and token.is_digits and len(token.text) == 3:
        return "-", _pot_number(token)
    if isinstance(entry, Resistor) and re.fullmatch(r"1/[248]|1", token.text) and changes:
        return "-", WordProblem(token.index, "bad-value", f"{token.text} has no unit: write {token.text}W", f"{token.text}W")
    field = slots.get(quantity.unit)
    if quantity.unit == "" and field is not None:
        field = _bare_field(entry, token, field)
    if quantity.unit == "" and field is None and len(slots) and not token.prefix:
        unit = "ohm" if isinstance(entry, Load) and entry.type == "speaker" else next(iter(slots))
        written = f"{token.text}{unit}"
        return "-", WordProblem(token.index, "bad-value", f"{token.text} has no unit: write {written}", written)
    if field is None and token.prefix == "m" and slots.get("") == "ohms":
        message = f"{token.text} is in thousandths of an ohm: write {token.text.replace('m', 'M')}"
        return "-", WordProblem(token.index, "bad-value", message, token.text.replace("m", "M"))
    if field is None:
        message = f"{token.text} does not fit {called(entry)}, which has {_expected(slots)}"
        return "-", WordProblem(token.index, "bad-value", message)
    field = _meant(entry, field, before, quantity.value)
    if problem := _insane(token, field):
        return "-", problem
    if field != "-" and field in changes and changes[field] != quantity.value:
        return "-", WordProblem(token.index, "bad-value", f"{token.text} is a second value for the same thing: one is enough")
    return field, None


def _said_again(entry: AnyEntry, token: Token) -> bool:
    """Whether a value repeats a rating of the entry: ``1N4007 1A``, ``7805 5V``."""
    assert token.quantity is not None
    ratings = [getattr(entry, field) for field in entry.__struct_fields__]
    return any(isinstance(rating, UnitFloat) and rating.unit == token.quantity.unit and isclose(rating, token.quantity.value)
               for rating in ratings)


def _bare_field(entry: AnyEntry, token: Token, field: str) -> str | None:
    """Whether the prefix of a number without a unit fits what the number would be."""
    prefix = token.prefix[:1]
    if field == "ohms":
        return None if (prefix and prefix.lower() in ("p", "n", "u")) or prefix == "m" else field
    if field == "farads":
        return field if prefix.lower() in ("p", "n", "u") and prefix else None
    return field if prefix in ("n", "u", "m") else None


def _meant(entry: AnyEntry, field: str, before: str, value: float) -> str:
    """The field that a value is for, from the word before it and from its size."""
    too_much_for_a_coil = (field == "voltage" and value > 60) or (field == "current" and value >= 1)
    if isinstance(entry, Relay) and (before == "contact" or too_much_for_a_coil):
        return f"contact_{field}"
    if before == "voltage_max" and field == "current" and isinstance(entry, Load) and entry.type == "motor":
        return "stall_current"
    if before and before != "contact" and hasattr(entry, before) and _same_unit(before, field):
        return before
    return field


def _same_unit(field: str, other: str) -> bool:
    ends = {"stall_current": "current", "inrush_current": "current", "voltage_max": "voltage", "voltage_min": "voltage"}
    return ends.get(field, field) == ends.get(other, other)


def _insane(token: Token, field: str) -> WordProblem | None:
    assert token.quantity is not None
    value = token.quantity.value
    if field == "-":
        return None
    if value <= 0:
        what = _UNIT_WORDS[token.quantity.unit or "ohm"]
        hint = "; a plain link is a wire" if field == "ohms" and value == 0 else ""
        found = f"{token.text} is {'zero' if value == 0 else 'negative'}"
        return WordProblem(token.index, "bad-value", f"{found}: more than zero {what} are expected{hint}")
    if field == "tolerance" and value > 0.5:
        return WordProblem(token.index, "bad-value", f"{token.text} is no tolerance: up to 50 % is expected")
    low, high = _SANE.get(field, (0.0, 1e30))
    if not low <= value <= high:
        unit = token.quantity.unit or {"farads": "F", "henries": "H"}.get(field, "ohm")
        return WordProblem(token.index, "bad-value", f"{token.text} is out of all proportion: {show_quantity(low, unit)} to "
                           f"{show_quantity(high, unit)} is expected")
    return None


def _replaced(entry: AnyEntry, changes: dict[str, float], name: str) -> tuple[AnyEntry, tuple[str, ...]]:
    typed: dict[str, object] = {field: _typed(entry, field, value) for field, value in changes.items()
                                if field not in ("forward", "power") or not isinstance(entry, (Led, Load))}
    notes: tuple[str, ...] = ()
    if isinstance(entry, Led):
        typed, notes = _led(entry, changes, typed), ()
    elif isinstance(entry, SensorResistor) and "ohms" in changes:
        scale = changes["ohms"] / entry.ohms
        typed |= {"low": Ohms(entry.low * scale), "high": Ohms(entry.high * scale)}
    elif isinstance(entry, Load):
        _load(entry, changes, typed)
    elif isinstance(entry, Relay) and "voltage" in changes and "ohms" not in changes and changes["voltage"] != entry.voltage:
        typed["ohms"] = None
    elif isinstance(entry, SupplyKind) and "voltage" in changes and changes["voltage"] != entry.voltage:
        typed |= {"fresh": None, "spent": None, "spent_resistance": None}
    return msgspec.structs.replace(entry, **typed), notes


def _typed(entry: AnyEntry, field: str, value: float) -> UnitFloat:
    units = {"ohms": "ohm", "farads": "F", "henries": "H", "voltage": "V", "power": "W", "max_power": "W", "tolerance": "%",
             "inductance": "H", "resistance": "ohm"}
    unit = units.get(field) or ("V" if "voltage" in field else "A")
    return _TYPES[unit](value)


def _led(entry: Led, changes: dict[str, float], typed: dict[str, object]) -> dict[str, object]:
    usual = Amps(changes.get("usual_current", entry.usual_current))
    if "forward" in changes:
        typed["forward"] = (Forward(amps=usual, volts=Volts(changes["forward"])),)
    if usual > entry.current:
        typed["current"] = usual
    return typed


def _load(entry: Load, changes: dict[str, float], typed: dict[str, object]) -> None:
    """Watts over volts are amps; a stated voltage or current sets aside the ratings that went with the usual one."""
    volts = changes.get("voltage", entry.voltage)
    if "power" in changes and volts and "current" not in changes and entry.type != "speaker":
        typed["current"] = Amps(_rounded(changes["power"] / volts))
    if {"voltage", "current", "power"} & set(changes) and "ohms" not in changes and entry.type != "speaker":
        typed["ohms"] = None
    if "voltage" in changes and entry.voltage:
        for field in ("voltage_max", "voltage_min"):
            usual = getattr(entry, field)
            if field not in changes and usual is not None:
                typed[field] = Volts(_rounded(usual * changes["voltage"] / entry.voltage))
    for field in ("stall_current", "inrush_current"):
        usual = getattr(entry, field)
        if field in changes or usual is None:
            continue
        if entry.current and "current" in typed:
            typed[field] = Amps(_rounded(usual / entry.current * float(str(typed["current"]))))
    stall, running = changes.get("stall_current"), typed.get("current", entry.current)
    if stall is not None and isinstance(running, float) and stall < running:
        raise _Contrary(f"the stall current {show_quantity(stall, 'A')} is under the running current "
                        f"{show_quantity(float(running), 'A')}: a motor draws most when it is held still")


def _rounded(value: float) -> float:
    """Nine digits: a ratio of decimal figures without the dust of binary fractions."""
    return float(f"{value:.9g}")


def _expected(slots: dict[str, str]) -> str:
    words = [_UNIT_WORDS[unit] for unit in slots if unit and unit != "%"]
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} or {words[-1]}"
