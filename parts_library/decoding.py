"""Turns one TOML table into a struct of ``schema``; whatever does not fit becomes one plain sentence.

Input: a table as ``tomllib`` gives it, and the struct it should fill. Output: the struct. msgspec does the decoding; this
module reads quantities for it (``"40V"``), and words its errors for someone who writes a parts file, not a program.
"""

from __future__ import annotations

import re
from functools import cache
from typing import Any, get_args

import msgspec

from grammar.quantities import QuantityError, read_quantity
from grammar.suggestions import nearest
from parts_library import schema
from parts_library.schema import AnyEntry, Level, UnitFloat


class FieldError(ValueError):
    """A field that does not fit. ``field`` is its path in the entry, ``reason`` a clause."""

    def __init__(self, field: str, reason: str, *, allowed: str = "", found: str = "") -> None:
        super().__init__(f"{field}: {reason}")
        self.field = field
        self.reason = reason
        self.allowed = allowed
        self.found = found


# What each unit measures, and how a value of it is written.
_WORDS = {"V": ("voltage", "40V"), "A": ("current", "200mA"), "ohm": ("resistance", "4k7"), "F": ("capacitance", "100nF"),
          "H": ("inductance", "1mH"), "W": ("power", "625mW"), "s": ("time", "4us"), "J": ("energy", "20mJ"),
          "degC": ("temperature", "150degC"), "K/W": ("thermal resistance", "200K/W"), "%": ("percentage", "5%")}

_PLAIN_TYPES = {"str": "a text in quotes", "int": "a number", "float": "a number", "array": "a list in brackets",
                "object": "a table", "bool": "true or false", "null": "nothing"}


def decode_record(table: dict[str, Any], form: Any) -> Any:
    """The table as a struct of type ``form`` (a Struct or the union AnyEntry). Raises FieldError."""
    try:
        return msgspec.convert(_with_levels(table), form, dec_hook=_read_unit)
    except msgspec.ValidationError as error:
        raise _worded(str(error), table, form) from error


def _read_unit(expected: type, found: Any) -> Any:
    if not issubclass(expected, UnitFloat):
        raise NotImplementedError(expected)
    noun, example = _WORDS[expected.unit]
    if not isinstance(found, str):
        raise TypeError(f"{found!r} has no unit; write it like \"{example}\"")
    try:
        quantity = read_quantity(found)
    except QuantityError as error:
        raise ValueError(f"'{found}' is no {noun}; write it like {example}") from error
    bare_ohms = expected.unit == "ohm" and quantity.unit == ""
    if quantity.unit != expected.unit and not bare_ohms:
        raise ValueError(f"'{found}' is no {noun}; write it like {example}")
    return expected(quantity.value)


_LEVEL_FIELDS = frozenset({"low_max", "high_min"})


def _with_levels(value: Any) -> Any:
    """Writes each logic level (``"2V"``, ``"70%"``) out as the table that ``Level`` is, for decoding."""
    if isinstance(value, list):
        return [_with_levels(item) for item in value]
    if not isinstance(value, dict):
        return value
    return {key: _level(key, item) if key in _LEVEL_FIELDS else _with_levels(item) for key, item in value.items()}


def _level(field: str, found: Any) -> dict[str, float] | Level:
    if isinstance(found, dict):
        return {key: float(item) for key, item in found.items()}
    try:
        quantity = read_quantity(found) if isinstance(found, str) else None
    except QuantityError:
        quantity = None
    if quantity is None or quantity.unit not in ("V", "%"):
        raise FieldError(field, f"{found!r} is no logic level; write it like 2V, or 70% of the supply",
                         allowed="2V or 70%", found=str(found))
    return {"volts": quantity.value} if quantity.unit == "V" else {"share": quantity.value}


def _worded(message: str, table: dict[str, Any], form: Any) -> FieldError:
    text, _, path = message.partition(" - at `")
    field = path.rstrip("`").removeprefix("$").removeprefix(".")
    if match := re.match(r"Object contains unknown field `(.*)`", text):
        return _unknown_field(match[1], field, table, form)
    if match := re.match(r"Object missing required field `(.*)`", text):
        return _missing_field(match[1], field)
    if match := re.match(r"Expected `(.*)`, got `(.*)`", text):
        wanted = " or ".join(_PLAIN_TYPES.get(word.strip(), word.strip()) for word in match[1].split("|")
                             if word.strip() != "null")
        got = _PLAIN_TYPES.get(match[2], match[2])
        return FieldError(field, f"must be {wanted}, and is {got}", allowed=wanted, found=got)
    if match := re.match(r"Invalid (?:enum )?value '(.*)'", text):
        return _wrong_word(match[1], field, table, form)
    return FieldError(field, text, found=text)


def _unknown_field(name: str, path: str, table: dict[str, Any], form: Any) -> FieldError:
    allowed = _field_names(_struct_at(path, table, form))
    near = nearest(name, allowed)
    hint = f"; nearest is {near[0]}" if near else f"; there are {', '.join(allowed)}" if len(allowed) <= 8 else ""
    return FieldError(f"{path}.{name}" if path else name, f"is no field of it{hint}", allowed=", ".join(allowed), found=name)


def _missing_field(name: str, path: str) -> FieldError:
    field = f"{path}.{name}" if path else name
    if field == "kind":
        return FieldError(field, f"is missing; it is one of {', '.join(_kinds())}", allowed=", ".join(_kinds()), found="nothing")
    return FieldError(field, "is missing", allowed="a value", found="nothing")


def _wrong_word(found: str, field: str, table: dict[str, Any], form: Any) -> FieldError:
    allowed = tuple(_kinds()) if field == "kind" else _literal_words(field, table, form)
    near = nearest(found, allowed)
    hint = f"; nearest is {near[0]}" if near else f"; it is one of {', '.join(allowed)}" if allowed else ""
    return FieldError(field, f"'{found}' is not known here{hint}", allowed=", ".join(allowed), found=found)


@cache
def _kinds() -> dict[str, type]:
    return {str(form.__struct_config__.tag): form for form in get_args(AnyEntry)}


def _struct_at(path: str, table: dict[str, Any], form: Any) -> Any:
    """The struct type that a path such as ``gain[0]`` leads to."""
    found: Any = _kinds().get(table.get("kind", ""), schema.Entry) if form is AnyEntry else form
    for name in re.findall(r"[^.\[\]]+", path):
        if name.isdigit() or name == "...":
            continue
        hint = _hints(found).get(name)
        found = next((part for part in _parts_of(hint) if isinstance(part, type) and issubclass(part, msgspec.Struct)), found)
    return found


@cache
def _hints(form: type) -> dict[str, Any]:
    return {field.name: field.type for field in msgspec.structs.fields(form)}


def _parts_of(hint: Any) -> list[Any]:
    return [hint, *(inner for argument in get_args(hint) for inner in _parts_of(argument))]


def _field_names(form: type) -> tuple[str, ...]:
    return tuple(_hints(form))


def _literal_words(field: str, table: dict[str, Any], form: Any) -> tuple[str, ...]:
    parent, _, name = field.rpartition(".")
    hint = _hints(_struct_at(parent, table, form)).get(re.sub(r"\[.*", "", name))
    return tuple(part for part in _parts_of(hint) if isinstance(part, str))
