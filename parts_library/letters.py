"""Whether a part's name agrees with what was found: C1 is a capacitor, R1 a resistor, Q1 a transistor.

Input: the name of a part and an entry. Output: agreement, or the plain name of the family that the letters stand for. Only
names made of known letters and a number can disagree; PUMP, HEATER and X1 agree with anything. The letters are those of
IEC 81346-2 and IEEE 315 practice, widened by what people write (common practice).
"""

from __future__ import annotations

import re

from parts_library.schema import (
    AnyEntry,
    Bipolar,
    Capacitor,
    Chip,
    Controller,
    Diode,
    Fuse,
    Inductor,
    Jfet,
    Led,
    LedGroup,
    Load,
    Mosfet,
    Potentiometer,
    Regulator,
    Relay,
    Resistor,
    SensorResistor,
    Stepper,
    SupplyKind,
    Switch,
    Thyristor,
    Zener,
)

# What each family is called in a sentence.
_CALLED: dict[type, str] = {
    Bipolar: "a transistor", Mosfet: "a MOSFET", Jfet: "a junction FET", Thyristor: "a thyristor",
    Diode: "a diode", Zener: "a zener diode", Led: "an LED",
    LedGroup: "a group of LEDs", Resistor: "a resistor", Capacitor: "a capacitor", Inductor: "a coil",
    Potentiometer: "a potentiometer", SensorResistor: "a resistor that follows what it senses", Switch: "a switch",
    Fuse: "a fuse", Load: "a load", Relay: "a relay", Stepper: "a stepper motor", SupplyKind: "a supply",
    Regulator: "a regulator", Chip: "a chip or module", Controller: "a controller board",
}  # fmt: skip

_CHIPS = (Chip, Regulator, Controller)

# Letters -> (what they stand for in words, every family that people write them for).
_FAMILIES: dict[str, tuple[str, tuple[type, ...]]] = {
    "R": ("a resistor", (Resistor, SensorResistor, Potentiometer, Fuse)),
    "RV": ("a potentiometer", (Potentiometer, SensorResistor)),
    "VR": ("a potentiometer", (Potentiometer, Regulator)),
    "POT": ("a potentiometer", (Potentiometer,)),
    "LDR": ("a light-dependent resistor", (SensorResistor,)),
    "NTC": ("a thermistor", (SensorResistor,)),
    "TH": ("a thermistor", (SensorResistor, Chip)),
    "C": ("a capacitor", (Capacitor,)),
    "L": ("a coil", (Inductor, Load, Led, LedGroup, Relay)),
    "D": ("a diode", (Diode, Zener, Led, LedGroup, Thyristor, Chip)),
    "ZD": ("a zener diode", (Zener, Diode)),
    "DZ": ("a zener diode", (Zener, Diode)),
    "LED": ("an LED", (Led, LedGroup, Chip)),
    "Q": ("a transistor", (Bipolar, Mosfet, Jfet, Thyristor)),
    "T": ("a transistor", (Bipolar, Mosfet, Jfet, Thyristor, SensorResistor, Chip, Switch)),
    "TR": ("a transistor", (Bipolar, Mosfet, Jfet, Thyristor, Potentiometer)),
    "M": ("a motor", (Load, Stepper, Mosfet, Chip, Controller)),
    "U": ("a chip", _CHIPS),
    "IC": ("a chip", _CHIPS),
    "K": ("a relay", (Relay, Switch, Chip)),
    "RLY": ("a relay", (Relay, Chip)),
    "SW": ("a switch", (Switch, Chip)),
    "BTN": ("a button", (Switch,)),
    "F": ("a fuse", (Fuse, Load)),
}


def letters_of(name: str) -> str | None:
    """The letters of a name that is letters and a number (``R12`` gives R), in capitals; None for any other name."""
    match = re.fullmatch(r"([A-Za-z]+)[\s_-]?\d+[A-Za-z]?", name.strip())
    return match[1].upper() if match else None


def stands_for(name: str) -> str | None:
    """What the letters of a name stand for in plain words (``a capacitor``), or None where they leave it open."""
    family = _FAMILIES.get(letters_of(name) or "")
    return family[0] if family else None


def called(entry: AnyEntry) -> str:
    """What an entry is, in plain words with the article: ``a transistor``."""
    return with_article(entry.type) if isinstance(entry, Load) else _CALLED[type(entry)]


def with_article(words: str) -> str:
    """``an orange LED``, ``a red LED``."""
    return f"{'an' if words[:1].lower() in 'aeio' else 'a'} {words}"


def agrees(name: str, entry: AnyEntry) -> bool:
    """Whether the letters of ``name`` may stand for ``entry``; True wherever they leave it open."""
    letters = letters_of(name)
    if letters is None or letters in entry.letters or letters not in _FAMILIES:
        return True
    return isinstance(entry, _FAMILIES[letters][1])


def claims(name: str, family: type) -> bool:
    """Whether the letters of ``name`` are known and stand for ``family``."""
    letters = letters_of(name) or ("R" if re.fullmatch(r"R[A-Z]|R_\w+", name.strip()) else None)
    return letters in _FAMILIES and family in _FAMILIES[letters][1]


def begins_like_a_resistor(name: str) -> bool:
    """True for names that begin with R and whose letters stand for nothing else: R1, RA, RLED."""
    letters = re.match(r"[A-Za-z]*", name.strip())
    said = letters[0].upper() if letters else ""
    return said == "R" or (said.startswith("R") and said not in _FAMILIES)
