"""What a meter shows agrees with published tables: parallel resistances, forward voltages, meters' own manuals."""

from __future__ import annotations

from math import inf

import pytest

from checker.metering.dead import LEAST, USUAL
from parts_library.schema import Bipolar, Diode
from tests.metering.bench import LIBRARY, shown

PARALLEL = {
    # Prentice Hall, Contren/NCCER Electrical level 1, companion web site, module on parallel circuits, review questions
    "four of 144 Ω are 36 Ω": (
        "part R1 144 in a1 a5\npart R2 144 in b1 b5\npart R3 144 in c1 c5\npart R4 144 in d1 d5\n",
        "e1", "e5", 36.0),
    "two of 30 Ω and one after them are 45 Ω": (
        "part R1 30 in a1 a5\npart R2 30 in b1 b5\npart R3 30 in c5 c9\n", "e1", "e9", 45.0),
    # T. R. Kuphaldt, Lessons in Electric Circuits, vol. I, chapter 5, from memory
    "10 kΩ, 2 kΩ and 1 kΩ are 625 Ω": ("part R1 10k in a1 a5\npart R2 2k in b1 b5\npart R3 1k in c1 c5\n", "e1", "e5", 625.0),
}


@pytest.mark.parametrize("case", PARALLEL)
def test_parallel_resistances_are_the_published_ones(case: str) -> None:
    lines, red, black, ohms = PARALLEL[case]

    assert shown(f"board half\n{lines}", red, black) == pytest.approx(ohms, rel=1e-3)


NO_RECTIFIER = ("1N34A", "photodiode")
"""Germanium, and a detector of light, which the manuals do not speak of."""
SILICON = sorted(entry.name for entry in LIBRARY.entries.values()
                 if isinstance(entry, Diode) and entry.use in ("rectifier", "switching") and entry.name not in NO_RECTIFIER
                 and "germanium" not in entry.say)
TRANSISTORS = ("2N3904", "2N3906", "PN2222A", "BC337", "BC327", "BC547")


def diode_test(lines: str, red: str, black: str) -> float:
    return shown(f"board half\n{lines}", red, black, "diode")


@pytest.mark.parametrize("name", SILICON)
def test_a_silicon_diode_reads_as_manuals_of_meters_say(name: str) -> None:
    """Forward 0.400 to 0.700 V, OL reversed: Sonel CMM-10 user manual, section 6.7; 0.2 to 0.7 V: Klein Tools user manual, diode
    test."""
    line = f"part D1 {name} in a5 a10 band a10\n"

    assert 0.4 <= diode_test(line, "b5", "b10") <= 0.7
    assert diode_test(line, "b10", "b5") == inf


def test_a_schottky_diode_reads_no_more_than_its_datasheet_allows() -> None:
    """BAT85 datasheet (General Semiconductor, and MCC): at most 0.32 V at 1 mA."""
    assert 0.15 <= diode_test("part D1 BAT85 in a5 a10 band a10\n", "b5", "b10") <= 0.32


@pytest.mark.parametrize("name", TRANSISTORS)
def test_a_transistor_reads_as_two_diodes_from_its_base(name: str) -> None:
    """A silicon transistor on diode test: 0.6 to 0.7 V from the base of an NPN to both other legs, OL the other way and from
    collector to emitter, the collector's junction a little lower than the emitter's (T. R. Kuphaldt, Lessons in Electric
    Circuits, vol. III, chapter 4, meter check of a transistor: 0.655 V and 0.621 V; from memory)."""
    entry = LIBRARY.entries[name]
    assert isinstance(entry, Bipolar)
    holes = dict(zip(entry.pins, ("c10", "c11", "c12"), strict=True))
    line = f"part Q1 {name} in c10 c11 c12 flat faces a as {' '.join(entry.pins)}\n"
    npn = entry.polarity == "npn"

    def between(one: str, other: str) -> float:
        red, black = (holes[one], holes[other]) if npn else (holes[other], holes[one])
        return diode_test(line, red, black)

    assert 0.5 <= between("B", "C") <= between("B", "E") <= 0.8
    assert [inf] * 4 == [between("E", "B"), between("C", "B"), between("C", "E"), between("E", "C")]


def test_only_a_meter_with_a_high_voltage_opens_a_junction_in_the_circuit() -> None:
    """"The resistance function can produce enough voltage to forward-bias silicon diode or transistor junctions": Fluke 187/189
    users manual, p. 3-8. Two diodes in a row bar 0.5 V; a meter of 3.2 V sees them."""
    lines = "board half\npart D1 1N4148 in a5 a10 band a10\npart R1 100k in c5 c10\n"

    assert shown(lines, "b5", "b10", case=USUAL) > 95e3
    assert shown(lines, "b5", "b10", case=LEAST) < 85e3


def test_test_leads_and_beeper_limits_are_those_of_the_manuals() -> None:
    """A relay coil of 70 Ω reads its own value, above the 50 Ω at which PeakTech 1080 and 1655 fall silent."""
    assert shown("part K1 relay-5v\nwire K1.A1 to @a\nwire K1.A2 to @b\n", "K1.A1", "K1.A2") == pytest.approx(70.0, rel=0.02)
