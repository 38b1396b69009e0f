"""A list that leaves something open gets the values of the reading that works, and the sheet says which that is."""

from __future__ import annotations

import pytest

from checker.metering.settling import settled
from tests.metering.bench import LIBRARY, sheet_of, surveyed

# 5 V less 2 V over 220 Ω: 14 mA through a lamp that sits right, nothing through one that is turned
LAMP = """
board half
supply PACK 5V on L+ L-
part LED1 led red in c12 c14 {said}
part R1 220 in b7 b12
wire L+ to a7
wire a14 to L-
"""
DIODE = """
board half
supply PACK 9V on L+ L-
part D1 1N4001 in d12 d18 {said}
part R1 1k in a18 a22
part LED1 led red in b22 b26 long b22
wire L+ to c12
wire c26 to L-
"""

CASES = [
    ("mark wrong, claim right", LAMP, "long c14 as A K", "the longer leg is at c12"),
    ("mark right, claim wrong", LAMP, "long c12 as K A", "the longer leg is at c12"),
    ("nothing said", LAMP, "", "the longer leg is at c12"),
    ("two bands, the first wrong", DIODE, "band d12 band d18", "the band is at d18"),
    ("two bands, the second wrong", DIODE, "band d18 band d12", "the band is at d18"),
]


@pytest.mark.parametrize(("text", "said", "supposed"), [case[1:] for case in CASES], ids=[case[0] for case in CASES])
def test_the_values_are_those_of_the_reading_that_works(text: str, said: str, supposed: str) -> None:
    sheet = sheet_of(text.format(said=said))

    assert sheet.warning.endswith(f"? The values below hold if {supposed}.")
    assert sheet.power[0].draws[0].amps > 5e-3


@pytest.mark.parametrize(("text", "said", "supposed"), [case[1:] for case in CASES], ids=[case[0] for case in CASES])
def test_nobody_is_told_to_turn_what_sits_right(text: str, said: str, supposed: str) -> None:
    sheet = sheet_of(text.format(said=said))
    turned = [mean for reading in (*sheet.before, *sheet.after) for one in reading.instead for mean in one.means
              if "turned round" in mean]

    hole = supposed.split()[-1]
    assert all(mean.endswith(hole) for mean in turned if mean.startswith(("LED1 is", "D1 is")) and ("longer" in mean) ==
               ("longer" in supposed)), turned


def test_a_list_with_one_reading_is_left_as_it_is() -> None:
    base = surveyed(LAMP.format(said="long c12"))

    assert settled(base, LIBRARY).surveyed is base
    assert settled(base, LIBRARY).supposed == ""


def test_a_limit_is_tightened_where_that_protects_the_weakest_part() -> None:
    # at most 17 mA at rest: 30 mA is what the lamp can take, and half as much again and 5 mA would be 50 mA
    stage = sheet_of(LAMP.format(said="long c12")).power[0]

    assert (stage.limit, "does not protect" in stage.say) == (0.03, False)
