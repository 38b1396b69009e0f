"""What people call a pin: ``emitter``, ``gate``, ``GND.2``, ``pin 9``, ``3.3V``; and which pin of the entry is meant.

Input: an entry and the pin as written. Output: the entry's own name for it, or None with the nearest names from
``near_pins``. Order: the pin's own name, the entry's ``pin_aliases``, the synonyms of its family, its number. A part whose
pins are themselves named by numbers has those and no counted ones; a controller's bare number is a digital pin, as it is
printed.
"""

from __future__ import annotations

import re
from collections.abc import Iterable

from grammar.suggestions import nearest
from parts_library.schema import (
    AnyEntry,
    Bipolar,
    Capacitor,
    Chip,
    Controller,
    Diode,
    Jfet,
    Led,
    LedGroup,
    Load,
    Mosfet,
    Potentiometer,
    Regulator,
    Relay,
    Stepper,
    SupplyKind,
    Switch,
    Thyristor,
    Zener,
)

_PLUS = ("+", "plus", "pos", "positive", "red", "vcc", "v+", "+ve")
_MINUS = ("-", "minus", "neg", "negative", "black", "gnd", "ground", "0v", "v-", "-ve")
_GROUND = ("gnd", "ground", "0v", "vss", "common", "g", "v-")
_SUPPLY = ("vcc", "vdd", "v+", "v", "5v", "+5v", "vs", "+", "power")

# The synonyms of each family, by the pin's own name; common practice, no source.
_BIPOLAR = {"E": ("emitter", "em", "emit"), "B": ("base",), "C": ("collector", "coll", "col")}
_THYRISTOR = {"G": ("gate",), "A": ("anode",), "K": ("cathode", "kathode", "c"),
              "MT1": ("t1", "a1", "main-terminal-1"), "MT2": ("t2", "a2", "main-terminal-2")}
_MOSFET = {"G": ("gate",), "D": ("drain",), "S": ("source", "src")}
_DIODE = {"A": ("anode", "an", "long", *_PLUS), "K": ("cathode", "kathode", "cat", "kat", "c", "band", "short", "flat", *_MINUS)}
_POLES = {"+": _PLUS[1:] + ("anode", "a", "long"), "-": _MINUS[1:] + ("cathode", "k", "stripe", "short")}
_LEADS = {"1": ("a", "left", *_PLUS), "2": ("b", "right", *_MINUS)}
_POT = {"W": ("wiper", "2", "middle", "slider", "centre", "center", "s"), "1": ("a", "left", "cw", "e1"),
        "3": ("b", "right", "ccw", "e2")}
_REGULATOR = {"IN": ("input", "vin", "in+", "vi", "i"), "OUT": ("output", "vout", "vo", "o"),
              "GND": ("ground", "0v", "common", "com", "g"), "ADJ": ("adjust", "adjustment", "vadj", "gnd")}
_RELAY = {"A1": ("coil1", "coil+", "coil", "+", "85"), "A2": ("coil2", "coil-", "-", "86"), "COM": ("common", "c", "30"),
          "NO": ("normally-open", "87"), "NC": ("normally-closed", "87a")}
_SWITCH = {"COM": ("common", "c", "2", "middle", "wiper"), "1": ("a", "nc"), "3": ("b", "no")}
_STEPPER = {"COM": ("common", "+", "red", "vcc", "v+"), "A": ("in1", "blue"), "B": ("in2", "pink"), "C": ("in3", "yellow"),
            "D": ("in4", "orange")}
_SIGNAL = {"SIG": ("signal", "s", "out", "pwm", "data", "dat", "do", "control", "orange", "yellow", "white"),
           "V+": ("vcc", "vdd", "5v", "+5v", "+", "red", "power", "v"), "GND": ("ground", "0v", "-", "brown", "black", "g")}
_LETTERS = {"R": ("red",), "G": ("green",), "B": ("blue",),
            "COM": ("common", "anode", "cathode", "+", "-", "vcc", "gnd", "a", "k")}
_CHIP = {
    **dict.fromkeys(("GND", "VSS"), _GROUND),
    **dict.fromkeys(("VCC", "VDD", "V+", "VS", "5V", "VM"), _SUPPLY),
    "V-": ("gnd", "ground", "vss", "vee", "0v"), "VEE": ("v-", "gnd"), "+": _PLUS[1:], "-": _MINUS[1:],
    "OUT": ("output", "q", "sig", "signal"), "SIG": _SIGNAL["SIG"], "TRIG": ("trigger", "tr"), "ECHO": ("echo",),
    "THR": ("threshold", "thres"), "DIS": ("discharge", "disch"), "DISCH": ("discharge", "dis"), "RESET": ("rst", "mr", "reset"),
    "CTRL": ("control", "cv", "cont"), "CV": ("control", "ctrl", "cont"), "RST": ("reset",), "SDA": ("dat",),
    "SCL": ("sck", "clk"),
    "IN+": ("+", "+in", "plus", "noninverting"), "IN-": ("-", "-in", "minus", "inverting"),
}


def pin_named(entry: AnyEntry, text: str) -> str | None:
    """The entry's own name for the pin that ``text`` means, or None."""
    written = _plain(text)
    return _pin(entry, written, written.lower())


def near_pins(entry: AnyEntry, text: str) -> tuple[str, ...]:
    """Pins of the entry to suggest for a ``text`` that names none: the ones spelled alike, else all of a small part."""
    spellings = {name: pin for pin in entry.pins for name in (pin, *entry.pin_aliases.get(pin, ()), *_synonyms(entry, pin))}
    # Names of one or two letters are all one slip apart: suggesting one of them would be a guess.
    alike = nearest(text, tuple(spellings)) if len(text) > 2 else ()
    near = tuple(dict.fromkeys(spellings[name] for name in alike))
    if near:
        return near[:3]
    return entry.pins if len(entry.pins) <= 8 else ()


def _plain(text: str) -> str:
    stripped = text.strip().replace("−", "-").replace("–", "-").replace("−", "-")
    without = re.sub(r"^(?:pin|leg|lead|terminal)[\s_-]*(?=\S)", "", stripped, flags=re.IGNORECASE)
    return without or stripped


def _pin(entry: AnyEntry, written: str, lowered: str) -> str | None:
    if written in entry.pins:
        return written
    if exact := _only(pin for pin, names in entry.pin_aliases.items() if written in names):
        return exact
    if isinstance(entry, Controller) and (board_pin := _controller_pin(entry, lowered)):
        return board_pin
    return (_only(pin for pin in entry.pins if pin.lower() == lowered)
            or _only(pin for pin, names in entry.pin_aliases.items() if lowered in (name.lower() for name in names))
            or _only(pin for pin in entry.pins if lowered in _synonyms(entry, pin))
            or _counted(entry, lowered)
            or _only(pin for pin in entry.pins if _loose(pin) == _loose(lowered)))


def _only(pins: Iterable[str]) -> str | None:
    found = tuple(dict.fromkeys(pins))
    return found[0] if len(found) == 1 else None


def _loose(name: str) -> str:
    return re.sub(r"[\s_./-]", "", name.lower()) or name.lower()


def _counted(entry: AnyEntry, lowered: str) -> str | None:
    """The pin by its place in numeric order, unless pins are named by numbers or numbers are printed (a controller)."""
    if not lowered.isdecimal() or isinstance(entry, Controller):
        return None
    named_by_number = [pin for pin in entry.pins if pin.isdigit()]
    if named_by_number and not isinstance(entry, (Potentiometer, Switch)):
        return None
    place = int(lowered) - 1
    return entry.pins[place] if 0 <= place < len(entry.pins) else None


def _controller_pin(entry: Controller, lowered: str) -> str | None:
    if match := re.fullmatch(r"(?:d|gpio|io|digital)?(?:\s*pin)?[\s_~-]*(\d+)~?", lowered):
        return _present(entry, f"D{int(match[1])}")
    if match := re.fullmatch(r"(?:a|analog|analogue)[\s_-]*(\d+)", lowered):
        return _present(entry, f"A{int(match[1])}")
    if re.fullmatch(r"(?:gnd|ground|0v|g|-|minus)[\s_.-]*\d*", lowered):
        return _present(entry, "GND")
    for pin, names in _CONTROLLER.items():
        if lowered in names:
            return _present(entry, pin)
    return None


_CONTROLLER = {"5V": ("5v", "+5v", "5 v", "5.0v", "vcc", "5"), "3V3": ("3v3", "3.3v", "3.3", "3,3v", "+3v3", "+3.3v", "3v"),
               "VIN": ("vin", "v_in", "raw", "v-in"), "RESET": ("reset", "rst", "res"), "D0": ("rx", "rxd"), "D1": ("tx", "txd")}


def _present(entry: Controller, pin: str) -> str | None:
    return pin if pin in entry.pins else None


def _synonyms(entry: AnyEntry, pin: str) -> tuple[str, ...]:
    names = _family(entry).get(pin, ())
    if isinstance(entry, Chip):
        names += _SUPPLY if pin == entry.supply else _GROUND + ("-",) if pin == entry.ground else ()
    return names


def _family(entry: AnyEntry) -> dict[str, tuple[str, ...]]:
    if set(entry.pins) == {"1", "2"} and not isinstance(entry, Switch):
        return _LEADS
    for kinds, table in _TABLES:
        if isinstance(entry, kinds):
            return table
    return _CHIP


_TABLES: tuple[tuple[tuple[type, ...], dict[str, tuple[str, ...]]], ...] = (
    ((Bipolar,), _BIPOLAR),
    ((Mosfet, Jfet), _MOSFET),
    ((Thyristor,), _THYRISTOR),
    ((Diode, Zener, Led), _DIODE),
    ((Capacitor, Load, SupplyKind), _POLES),
    ((Potentiometer,), _POT),
    ((Regulator,), _REGULATOR),
    ((Relay,), _RELAY),
    ((Switch,), _SWITCH),
    ((Stepper,), _STEPPER),
    ((LedGroup,), _LETTERS),
)
