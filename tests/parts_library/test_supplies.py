"""The words of a ``supply`` line become a source with its voltage and the resistance inside."""

from __future__ import annotations

import pytest

from parts_library import identify_supply, load_library

FOUND = [  # words -> entry, volts, ohms inside (None: whatever the library says)
    ("9V", "supply", 9.0, 0.1),
    ("9 V", "supply", 9.0, 0.1),
    ("5V 2A", "supply", 5.0, 0.1),
    ("9V 2ohm", "supply", 9.0, 2.0),
    ("9V DC", "supply", 9.0, 0.1),
    ("9v-block", "9v-block", 9.0, 1.7),
    ("9V battery", "9v-block", 9.0, 1.7),
    ("aa-pack-4", "aa-pack-4", 6.0, None),
    ("4xAA", "aa-pack-4", 6.0, None),
    ("4X aa", "aa-pack-4", 6.0, None),
    ("4 AA", "aa-pack-4", 6.0, None),
    ("4 x AA batteries", "aa-pack-4", 6.0, None),
    ("5xAA", "aa-pack-5", 7.5, None),
    ("1 AA", "aa", 1.5, None),
    ("bench-supply 12V", "bench-supply", 12.0, None),
    ("12V bench supply", "bench-supply", 12.0, None),
    ("usb-port", "usb-port", 5.0, None),
    ("usb", "usb-port", 5.0, None),
    ("12V adapter", "wall-adapter-12v", 12.0, None),
    ("wall adapter 15V", "wall-adapter", 15.0, None),
    ("plug-in-module-5v", "plug-in-module-5v", 5.0, None),
    ("coin cell", "coin-cell", 3.0, None),
    ("mains 230V", "mains", 230.0, None),
    ("230V", "supply", 230.0, 0.1),
    ("12V AC", "supply", 12.0, 0.1),
]


@pytest.mark.parametrize(("words", "name", "volts", "ohms"), FOUND)
def test_the_words_of_a_supply_name_a_source(words: str, name: str, volts: float, ohms: float | None) -> None:
    found = identify_supply(words.split(), load_library())

    assert found.problems == ()
    assert found.entry is not None
    assert (name, volts) == (found.entry.name, found.entry.voltage)  # type: ignore[union-attr]
    assert ohms in (None, found.entry.resistance)  # type: ignore[union-attr]


KINDS = [("12V", "source", False), ("12V AC", "ac", False), ("12Vac", "ac", False), ("230V", "ac", True), ("110V AC", "ac", True),
         ("60V", "source", False), ("mains 230V", "mains", True)]  # fmt: skip


@pytest.mark.parametrize(("words", "chemistry", "mains"), KINDS)
def test_alternating_and_mains_voltages_are_marked(words: str, chemistry: str, mains: bool) -> None:
    entry = identify_supply(words.split(), load_library()).entry

    assert (chemistry, mains) == (entry.chemistry, entry.mains)  # type: ignore[union-attr]


def test_five_cells_are_five_times_one_cell() -> None:
    cell, pack = (identify_supply([words], load_library()).entry for words in ("aa", "5xAA"))

    for field in ("voltage", "fresh", "spent", "resistance"):
        assert getattr(pack, field) == pytest.approx(5 * getattr(cell, field))


def test_the_resistance_inside_is_told_by_the_name_of_the_supply() -> None:
    assert identify_supply(["9V"], load_library(), name="PACK").assumed == ("PACK has 0.1 Ω inside",)


PROBLEMS = [
    ("0V", "bad-value", "0V is zero: more than zero volts are expected"),
    ("-9V", "bad-value", "-9V is negative: more than zero volts are expected"),
    ("9", "bad-value", "9 has no unit: write 9V"),
    ("9V 12V", "bad-value", "12V is a second value for the same thing: one is enough"),
    ("bench-supply", "bad-value", "the supply needs its voltage, as in bench-supply 12V"),
    ("banana", "unknown-part", "no part or kind is called banana"),
    ("motor 9V", "unknown-part", "no part or kind is called motor"),
    ("usb-prot", "unknown-part", "no part or kind is called usb-prot: nearest is usb-port"),
    ("", "unknown-part", "a supply needs its voltage, as in 9V"),
]


@pytest.mark.parametrize(("words", "label", "message"), PROBLEMS)
def test_a_supply_that_cannot_be_is_asked_back(words: str, label: str, message: str) -> None:
    found = identify_supply(words.split(), load_library())

    assert [(label, message)] == [(problem.label, problem.message) for problem in found.problems]
    assert found.entry is None
