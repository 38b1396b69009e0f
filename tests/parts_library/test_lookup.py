"""A part is found by what people write for it, and never chosen in silence among several."""

from __future__ import annotations

import pytest

from parts_library import load_library

FOUND = [  # written -> name of the one entry
    ("PN2222A", "PN2222A"), ("pn2222a", "PN2222A"), ("PN-2222-A", "PN2222A"), ("pn 2222a", "PN2222A"),
    ("2N2222", "2N2222"), ("P2N2222A", "P2N2222A"), ("BC547B", "BC547"), ("bc547-c", "BC547"), ("c547", "BC547"),
    ("C945", "2SC945"), ("a1015", "2SA1015"), ("d882", "2SD882"), ("BC337-40", "BC337"), ("BC33740", "BC337"),
    ("2n3904ta", "2N3904"), ("8050", "8050"), ("S8050", "S8050"), ("TIP120", "TIP120"), ("tip31c", "TIP31C"),
    ("1n4007-t", "1N4007"), ("1N4148TR", "1N4148"), ("4148", "1N4148"), ("5819", "1N5819"), ("4733", "1N4733A"),
    ("LM7805CV", "7805"), ("l7805", "7805"), ("7805", "7805"), ("LM7805", "7805"), ("uA7805", "7805"), ("MC7805CT", "7805"),
    ("74hc595n", "74HC595"), ("SN74HC595N", "74HC595"), ("ne555p", "NE555"), ("LM555CN", "NE555"), ("555", "NE555"),
    ("lm358n", "LM358"), ("324", "LM324"), ("L293DNE", "L293D"), ("ULN2003AN", "ULN2003A"), ("uln2003", "ULN2003A"),
    ("4n35", "4N35"), ("irf520", "IRF520"), ("IRLZ44N", "IRLZ44N"), ("2n7000", "2N7000"), ("317", "LM317"),
    ("µA741", "LM741"), ("μA7805", "7805"), ("HC595", "74HC595"), ("M74HC595B1", "74HC595"), ("1N5231", "1N5231B"),
    ("BZX79-B5V1", "BZX79C5V1"), ("2N2222A TO-18", "2N2222A metal"), ("555 timer", "NE555"), ("24C256", "24LC256"),
    ("L293NE", "L293NE"), ("L293B", "L293NE"), ("HEF4040BP", "CD4040"), ("TC4011BP", "CD4011"),
    ("5161AS", "seven-segment common-cathode"),
    ("CD4017BE", "CD4017"), ("4017", "CD4017"), ("resistor", "resistor"), ("led-red", "led red"), ("Red LED", "led red"),
]  # fmt: skip

SEVERAL = [  # written -> the entries it can be
    ("2222", {"PN2222A", "PN2222", "P2N2222A", "2N2222A", "2N2222"}),
    ("2222A", {"PN2222A", "P2N2222A", "2N2222A"}),
    ("L293", {"L293D", "L293NE"}), ("LM336", {"LM336-2.5", "LM336-5.0"}), ("74595", {"74HC595", "74HCT595", "74LS595"}),
    ("CNY17", {"CNY17-1", "CNY17-2", "CNY17-3", "CNY17-4"}),
    ("2907", {"PN2907A", "P2N2907A", "2N2907A", "2N2907"}),
]

NONE = [  # written -> the first near miss
    ("1N4O07", "1N4007"), ("PN222A", "PN2222A"), ("NE5555", "NE555"), ("resister", "resistor"), ("xyzzy", None), ("", None),
    ("293", "L293D"),
]  # fmt: skip


@pytest.mark.parametrize(("written", "name"), FOUND)
def test_a_spelling_that_people_use_finds_its_one_entry(written: str, name: str) -> None:
    assert [name] == [entry.name for entry in load_library().find(written).entries]


@pytest.mark.parametrize(("written", "names"), SEVERAL)
def test_a_number_that_several_parts_bear_gives_all_of_them(written: str, names: set[str]) -> None:
    match = load_library().find(written)

    assert names == {entry.name for entry in match.entries}
    assert match.entry is None


@pytest.mark.parametrize(("written", "near"), NONE)
def test_a_word_that_is_no_part_gives_near_misses_or_nothing(written: str, near: str | None) -> None:
    match = load_library().find(written)

    assert match.entries == ()
    assert near == (match.near[0] if match.near else None)


@pytest.mark.parametrize("written", ["TLC555", "LMC555"])
def test_a_cmos_version_is_not_taken_for_the_bipolar_chip(written: str) -> None:
    assert "NE555" not in {entry.name for entry in load_library().find(written).entries}


@pytest.mark.parametrize("written", ["LM4017", "LM4050", "LM4051", "L4066", "LM74595", "NE4011"])
def test_letters_that_no_maker_put_before_a_logic_number_do_not_find_it(written: str) -> None:
    assert load_library().find(written).entries == ()


# Types that once took another type's numbers: their rating and that of their neighbour. The entries name the sheets.
OWN_RATINGS = [  # one type, its neighbour, where the number is, each value
    ("4N29", "4N33", ("circuit", 2, "siemens"), 0.0004, 0.002), ("4N27", "4N25", ("circuit", 2, "siemens"), 0.000332, 0.000664),
    ("6N135", "6N136", ("circuit", 2, "siemens"), 0.0007, 0.0019), ("6N139", "6N138", ("supply_max",), 18.0, 7.0),
    ("H11AA2", "H11AA1", ("circuit", 2, "siemens"), 0.000332, 0.000664), ("H11L2", "H11L1", ("led_needs",), 0.01, 0.0016),
    ("MOC3023", "MOC3021", ("led_needs",), 0.005, 0.015), ("DRV5053", "SS49E", ("supply_max",), 38.0, 6.5),
    ("LM386N-4", "LM386", ("supply_max",), 18.0, 12.0), ("J175", "J176", ("pinch_off", "max"), 6.0, 4.0),
    ("J177", "J176", ("pinch_off", "min"), 0.8, 1.0), ("PIC16LF84A", "PIC16F84A", ("supply_min",), 2.0, 4.0),
    ("ATmega8L", "ATmega8", ("supply_min",), 2.7, 4.5), ("MCP9701", "MCP9700", ("circuit", 0, "volts"), 0.89, 0.75),
    ("2N5060", "2N5061", ("voltage",), 30.0, 60.0), ("BTA08-600", "BTA12-600", ("current",), 8.0, 12.0),
    ("SN75176", "MAX485", ("supply_absolute",), 7.0, 12.0), ("MCP602", "MCP6002", ("supply_min",), 2.7, 1.8),
]  # fmt: skip


@pytest.mark.parametrize(("one", "neighbour", "path", "value", "other"), OWN_RATINGS)
def test_a_type_has_its_own_numbers(one: str, neighbour: str, path: tuple[str | int, ...], value: float, other: float) -> None:
    for written, wanted in ((one, value), (neighbour, other)):
        found: object = load_library().find(written).entry
        for step in path:
            found = found[step] if isinstance(step, int) else getattr(found, step)  # type: ignore[index]
        assert found == pytest.approx(wanted), written


def test_an_optocoupler_without_a_base_leg_has_none() -> None:
    entry = load_library().find("CNY17F-3").entry

    assert entry is not None and "B" not in entry.pins
