"""What a reference expects, asked of lists that are built elsewhere: met or not, and what was computed."""

from __future__ import annotations

import pytest

from checker.batch.judging import check_chunk
from checker.batch.model import Job, Work

REFERENCE = """
board half
supply PACK 5V on L+ L-
part LAMP led red in b10 b15 long b15
part R1 220 in a10 a5
wire L- to c5
wire L+ to c15
expect LAMP carries 10mA to 20mA
expect a10 at 1V to 4V
"""

ELSEWHERE = """
board half
supply B1 5V on R+ R-
part D7 led red in g20 g25 long g25
part R9 {ohms} in h20 h15
wire R- to i15
wire R+ to i25
expect D7 carries 1A to 2A
"""

CASES = [
    ("the same circuit in other holes", ELSEWHERE.format(ohms="220"),
     ["met: expect LAMP carries 10mA to 20mA (the current of D7 is 13.8 mA, wanted at most 20 mA)",
      "met: expect a10 at 1V to 4V (the voltage of D7.K is 3.04 V, wanted at most 4 V)"]),
    ("a resistor ten times too large", ELSEWHERE.format(ohms="2k2"),
     ["not met: expect LAMP carries 10mA to 20mA (the current of D7 is 1.47 mA, wanted at least 10 mA)",
      "met: expect a10 at 1V to 4V (the voltage of D7.K is 3.23 V, wanted at most 4 V)"]),
    ("no lamp at all", "board half\nsupply B1 5V on R+ R-\npart R9 220 in h20 h15\nwire R- to i15\nwire R+ to i20\n",
     ["not met: expect LAMP carries 10mA to 20mA (nothing here plays LAMP)"]),
]


@pytest.mark.parametrize(("given", "told"), [case[1:] for case in CASES], ids=[case[0] for case in CASES])
def test_expectations_of_the_reference(given: str, told: list[str]) -> None:
    outcome, = check_chunk(Job(reference=REFERENCE.encode()), [Work(key=b"k", text=given.encode())])

    assert [one.told for one in outcome.expectations][:len(told)] == told


def test_without_a_reference_a_list_is_held_to_its_own_words() -> None:
    outcome, = check_chunk(Job(), [Work(key=b"k", text=ELSEWHERE.format(ohms="220").encode())])

    assert [one.told for one in outcome.expectations] == [
        "not met: expect D7 carries 1A to 2A (the current of D7 is 13.8 mA, wanted at least 1 A)"]
