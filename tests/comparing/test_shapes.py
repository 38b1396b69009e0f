"""Which terminals and blocks of a part may be exchanged: by its datasheet's pin-out and function, worked out by hand."""

from __future__ import annotations

import pytest

from checker.comparing.halves import with_halves_exchanged
from checker.comparing.shapes import shape_of
from parts_library import load_library
from parts_library.schema import Chip

LIBRARY = load_library()

TERMINALS = {
    "resistor": "1:end 2:end",
    "motor": "1:end 2:end",
    "1N4001": "A:A K:K",
    "2N2222A": "E:E B:B C:C",
    "pot": "1:1 W:W 3:3",
    # a four-legged button: legs 1 and 2 are one contact inside, 3 and 4 the other
    "button": "1,2:end 3,4:end",
    "relay": "A1:coil A2:coil COM:COM NO:NO NC:NC",
    "9v-block": "+:+ -:-",
}


@pytest.mark.parametrize("name", TERMINALS)
def test_terminals_with_the_same_label_may_be_exchanged(name: str) -> None:
    entry = next(one for one in LIBRARY.entries.values() if one.name == name)

    assert " ".join(f"{','.join(t.pins)}:{t.label}" for t in shape_of(entry).terminals) == TERMINALS[name]


UNITS = {
    "74HC00": {"1Y": "1Y:out 1A:in 1B:in", "2Y": "2Y:out 2A:in 2B:in", "3Y": "3Y:out 3A:in 3B:in", "4Y": "4Y:out 4A:in 4B:in"},
    "LM358": {"OUT1": "OUT1:out IN1+:in+ IN1-:in-", "OUT2": "OUT2:out IN2+:in+ IN2-:in-"},
    "dip-switch-2": {"1": "1:end 4:end", "2": "2:end 3:end"},
    # an enable of its own belongs to each gate
    "74HC125": {f"{n}Y": f"{n}Y:out {n}OE:enable {n}A:in" for n in "1234"},
    # its outputs hang on inputs that no function names, so that none can stand for another
    "CD4029": {},
    # one package, one timer
    "NE555": {},
}


@pytest.mark.parametrize("name", UNITS)
def test_like_blocks_in_a_part_are_units(name: str) -> None:
    entry = next(one for one in LIBRARY.entries.values() if one.name == name)

    assert {unit.name: " ".join(f"{','.join(t.pins)}:{t.label}" for t in unit.terminals)
            for unit in shape_of(entry).units} == UNITS[name]


def test_the_halves_of_a_bridge_with_an_enable_each_are_not_mixed() -> None:
    entry = next(one for one in LIBRARY.entries.values() if one.name == "L293D")

    kinds = {unit.name: unit.kind for unit in shape_of(entry).units}

    assert kinds["OUT1"] == kinds["OUT2"] != kinds["OUT3"] == kinds["OUT4"]


@pytest.mark.parametrize(("name", "exchanges"), [
    ("L293D", {"EN1": "EN2", "EN2": "EN1"}), ("SN754410", {"EN1": "EN2", "EN2": "EN1"}),
    ("74HC244", {"1OE": "2OE", "2OE": "1OE"}),
    # one of its two enables is low, the other high (datasheet SN74LS241)
    ("74LS241", None),
    # an enable of its own for each gate; no enable at all
    ("74HC125", None), ("L9110", None), ("NE555", None),
])
def test_halves_with_an_enable_each_may_be_exchanged_as_a_whole(name: str, exchanges: dict[str, str] | None) -> None:
    entry = next(one for one in LIBRARY.entries.values() if one.name == name)
    assert isinstance(entry, Chip)

    shapes = with_halves_exchanged(entry)

    assert [{t.pins[0]: t.label for t in shape.terminals if t.label != t.pins[0]} for shape in shapes] == [
        exchanges] * (exchanges is not None)


def test_every_pin_of_every_part_is_in_its_shape_once() -> None:
    for entry in LIBRARY.entries.values():
        shape = shape_of(entry)
        terminals = [*shape.terminals, *(terminal for unit in shape.units for terminal in unit.terminals)]

        assert sorted(pin for terminal in terminals for pin in terminal.pins) == sorted(entry.pins), entry.name
