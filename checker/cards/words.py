"""Families, pins and facts in words: what the data call ``led-group`` or ``vceo``.

Tables only. The words for pins are spellings that a list may use for them as well.
"""

from __future__ import annotations

from checker.cards.ratings import EVERY, FIELDS
from parts_library.schema import Entry

KIND_WORDS = {
    "bipolar": "bipolar transistors",
    "mosfet": "MOSFETs",
    "jfet": "junction FETs",
    "thyristor": "thyristors and triacs",
    "diode": "diodes",
    "zener": "zener diodes",
    "led": "LEDs",
    "led-group": "several LEDs in one case",
    "resistor": "resistors",
    "capacitor": "capacitors",
    "inductor": "coils",
    "potentiometer": "potentiometers",
    "sensor-resistor": "resistors that follow light, heat or force",
    "switch": "buttons and switches",
    "fuse": "fuses",
    "load": "motors, lamps, buzzers and other loads",
    "relay": "relays",
    "stepper": "stepper motors",
    "supply": "batteries and other supplies",
    "regulator": "voltage regulators",
    "chip": "chips and modules",
    "controller": "controller boards",
}
"""Each kind of the data as a family of parts."""

def kind_of(entry: type[Entry]) -> str:
    """The kind of an entry's type, as the data spell it."""
    return str(entry.__struct_config__.tag)


_ENDS = {"A": "anode", "K": "cathode"}
PIN_WORDS: dict[str, dict[str, str]] = {
    "bipolar": {"E": "emitter", "B": "base", "C": "collector"},
    "mosfet": {"G": "gate", "D": "drain", "S": "source"},
    "diode": _ENDS,
    "zener": _ENDS,
    "led": _ENDS,
    "capacitor": {"+": "plus", "-": "minus"},
    "load": {"+": "plus", "-": "minus"},
    "supply": {"+": "plus", "-": "minus"},
    "potentiometer": {"W": "wiper"},
    "regulator": {"IN": "input", "OUT": "output", "GND": "ground", "ADJ": "adjust"},
    "relay": {"COM": "common", "NO": "normally-open", "NC": "normally-closed"},
    "switch": {"COM": "common"},
}
"""What the letters of a pin stand for, by kind."""

_FACTS = {
    "pins": "pins",
    "ratings": "ratings",
    "model": "the model behind the computed values",
    "gain": "current gain",
    "saturation": "voltages when fully on",
    "vbe_on": "base to emitter voltage",
    "forward": "forward voltage",
    "threshold": "gate threshold",
    "on_resistance": "resistance when on",
    "body_diode": "body diode",
    "reverse_gain": "gain with collector and emitter exchanged",
    "inputs": "inputs",
    "outputs": "outputs",
    "amplifiers": "amplifiers",
    "other_orders": "other orders",
    "joined": "pins joined inside",
    "members": "which LED is where",
    "limits": "limits of pins",
}
_FIELD_WORDS = {kind_of(entry): {field: what for field, what, _, _ in (*rows, *EVERY)} for entry, rows in FIELDS.items()}


def fact_in_words(fact: str, kind: str) -> str:
    """What a source of a part of this kind covers, for people; a field without words as the data spell it."""
    whole = fact.partition(".")[0]
    return _FACTS.get(whole) or _FIELD_WORDS[kind].get(whole) or fact.replace("_", " ").replace(".", " ")
