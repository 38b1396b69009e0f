"""A pin goes by many names; each leads to the entry's own name for it, or to suggestions."""

from __future__ import annotations

import pytest

from parts_library import load_library, near_pins, pin_named

NAMED = [  # entry, pin, the spellings that mean it
    ("PN2222A", "E", "E e emitter Emitter 1 pin-1"),
    ("PN2222A", "B", "B base 2"),
    ("PN2222A", "C", "C collector 3"),
    ("P2N2222A", "C", "C 1"),
    ("IRLZ44N", "G", "G gate 1"),
    ("IRLZ44N", "D", "D drain 2"),
    ("IRLZ44N", "S", "S source 3"),
    ("1N4007", "A", "A a anode + plus"),
    ("1N4007", "K", "K cathode kathode - minus c"),
    ("zener", "K", "K cathode"),
    ("led red", "A", "A anode + long positive"),
    ("led red", "K", "K cathode - short neg"),
    ("electrolytic", "+", "+ plus pos positive"),
    ("electrolytic", "-", "- minus neg negative stripe"),
    ("buzzer", "+", "+ plus red VCC"),
    ("9v-block", "-", "- minus black gnd GND 0v negative"),
    ("capacitor", "1", "1 a"),
    ("motor", "1", "1 + red"),
    ("motor", "2", "2 - black"),
    ("resistor", "2", "2 b"),
    ("pot", "W", "W wiper 2 middle"),
    ("pot", "1", "1"),
    ("pot", "3", "3"),
    ("7805", "IN", "IN in input VIN 1"),
    ("7805", "GND", "GND ground 0V 2"),
    ("7805", "OUT", "OUT output vout 3"),
    ("relay-5v", "A1", "A1 a1 coil1"),
    ("relay-5v", "COM", "COM common"),
    ("relay-5v", "NO", "NO no normally-open"),
    ("slide-switch", "COM", "COM 2 common"),
    ("button", "3", "3"),
    ("servo", "SIG", "SIG signal pwm orange"),
    ("servo", "V+", "V+ vcc 5v + red"),
    ("servo", "GND", "GND gnd ground - brown"),
    ("rgb-led common-cathode", "R", "R red"),
    ("rgb-led common-cathode", "COM", "COM common cathode -"),
    ("distance-sensor", "VCC", "VCC vcc 5v v+ +"),
    ("distance-sensor", "GND", "GND ground 0v -"),
    ("NE555", "VCC", "VCC vcc vdd 8"),
    ("NE555", "GND", "GND gnd ground 0V 1"),
    ("74HC595", "GND", "GND 8"),
    ("74HC595", "VCC", "VCC 16"),
    ("controller-5v", "D9", "D9 d9 9 ~9 D09"),
    ("controller-5v", "D13", "D13 13"),
    ("controller-5v", "A0", "A0 a0"),
    ("controller-5v", "5V", "5V 5v +5V vcc"),
    ("controller-5v", "3V3", "3V3 3.3V 3v3 3.3 3,3V"),
    ("controller-5v", "GND", "GND gnd GND1 GND.2 gnd_3 0V ground"),
    ("controller-5v", "VIN", "VIN vin"),
    ("controller-5v", "RESET", "RESET RST reset"),
]
SPELLINGS = [(entry, pin, spelling) for entry, pin, spellings in NAMED for spelling in spellings.split()]


@pytest.mark.parametrize(("name", "pin", "spelling"), SPELLINGS)
def test_every_usual_name_leads_to_the_pin(name: str, pin: str, spelling: str) -> None:
    assert pin == pin_named(load_library().entries[name], spelling)


@pytest.mark.parametrize(("name", "pin", "spelling"), [("controller-5v", "D9", "pin 9"), ("controller-5v", "D9", "digital pin 9"),
                                                       ("controller-5v", "GND", "GND 2"), ("PN2222A", "B", "leg 2")])  # fmt: skip
def test_names_of_two_words_are_read_too(name: str, pin: str, spelling: str) -> None:
    assert pin == pin_named(load_library().entries[name], spelling)


NOT_NAMED = [  # entry, a spelling that is no pin, suggestions
    ("PN2222A", "gate", ("E", "B", "C")),
    ("PN2222A", "4", ("E", "B", "C")),
    ("PN2222A", "emiter", ("E",)),
    ("PN2222A", "0", ("E", "B", "C")),
    ("resistor", "3", ("1", "2")),
    ("controller-5v", "D14", None),
    ("controller-5v", "A9", None),
    ("7805", "ADJ", None),
]


@pytest.mark.parametrize(("name", "spelling", "near"), NOT_NAMED)
def test_a_name_of_no_pin_is_not_stretched_to_fit(name: str, spelling: str, near: tuple[str, ...] | None) -> None:
    entry = load_library().entries[name]

    assert pin_named(entry, spelling) is None
    assert near is None or near == near_pins(entry, spelling)


def test_every_pin_of_every_entry_goes_by_its_own_name_and_its_aliases() -> None:
    for entry in load_library().entries.values():
        assert [pin_named(entry, pin) for pin in entry.pins] == list(entry.pins), entry.name
        for pin, aliases in entry.pin_aliases.items():
            assert {pin_named(entry, alias) for alias in aliases} <= {pin}, entry.name
