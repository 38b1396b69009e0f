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
    ("CD4017BE", "CD4017"), ("4017", "CD4017"), ("resistor", "resistor"), ("led-red", "led red"), ("Red LED", "led red"),
]  # fmt: skip

SEVERAL = [  # written -> the entries it can be
    ("2222", {"PN2222A", "PN2222", "P2N2222A", "2N2222A", "2N2222"}),
    ("2222A", {"PN2222A", "P2N2222A", "2N2222A"}),
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
