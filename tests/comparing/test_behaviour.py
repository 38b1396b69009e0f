"""Expectations of another list: judged by what comes out, whatever the list looks like.

The currents are Ohm's law on the parts' own values, given beside each row. LED1 drops about 1.8 V to 2 V.
"""

from __future__ import annotations

from random import Random

import pytest

from checker.comparing import expectations_met
from checker.examples import names, text_of
from tests.comparing.rewriting import LIBRARY, connections_only, rewritten

LAMP = "supply B 9V; part R1 470; part LED1 led red; wire B.+ to R1.1; wire R1.2 to LED1.A; wire LED1.K to B.-"
TWO_WAYS = "supply SRC 9V; part RX 1k; part RY 1k; part LX led red; wire SRC.+ to LX.A; wire LX.K to RX.1 to RY.1; " \
    "wire RX.2 to RY.2 to SRC.-"
DARK = LAMP.replace("R1.2 to LED1.A", "R1.2 to LED1.K").replace("LED1.K to B.-", "LED1.A to B.-")

OUTCOMES = {
    # (9 V - 1.8 V) / 470 ohm = 15 mA
    "within": (LAMP, "expect LED1 carries 10mA to 20mA", True, 0.015),
    "too little": (LAMP, "expect LED1 carries over 20mA", False, 0.015),
    "lit": (LAMP, "expect LED1 lit", True, 0.015),
    "turned round": (DARK, "expect LED1 lit", False, 0.0),
    # two of 1 kilohm side by side are 500 ohm: (9 V - 1.8 V) / 500 ohm = 14 mA; another shape, other names
    "another shape": (TWO_WAYS, f"{LAMP}; expect LED1 carries 10mA to 20mA", True, 0.014),
    "a net of the reference": (
        LAMP.replace("R1", "R5"), f"{LAMP}; wire LED1.A to @knee; expect @knee at 1.5V to 2.2V", True, 1.9),
}


@pytest.mark.parametrize("name", OUTCOMES)
def test_an_expectation_is_judged_by_the_computed_value(name: str) -> None:
    given, expects, met, measured = OUTCOMES[name]

    outcome, = expectations_met(given.replace("; ", "\n"), expects.replace("; ", "\n"), LIBRARY)

    assert outcome.met is met
    assert outcome.measured == pytest.approx(measured, rel=0.1, abs=1e-6)


SAID = {
    "nobody": (LAMP, "expect FAN runs", "nothing here plays FAN"),
    "nobody of a reference": (LAMP, "supply B 9V; part FAN motor 9V 100mA; wire B.+ to FAN.1; wire B.- to FAN.2; expect FAN runs",
                              "nothing here plays FAN"),
    "no state": (LAMP, "expect LED1 lit when R1 pressed", "the list has no state in which R1 pressed"),
}


@pytest.mark.parametrize("name", SAID)
def test_what_cannot_be_asked_of_a_list_is_not_met_and_says_why(name: str) -> None:
    given, expects, say = SAID[name]

    outcome, = expectations_met(given.replace("; ", "\n"), expects.replace("; ", "\n"), LIBRARY)

    assert (outcome.met, outcome.say) == (False, say)


def test_an_unknown_part_leaves_the_matter_open() -> None:
    outcome, = expectations_met("supply B 9V\npart X1 frobnicator\n", "expect X1 lit", LIBRARY)

    assert outcome.met is None


def test_the_roles_of_the_reference_are_taken_and_the_list_s_own_expectations_are_not() -> None:
    own = "supply B 5V; part U1 controller-5v; part R1 220; part LED1 led red; wire U1.D7 to R1.1; wire R1.2 to LED1.A; " \
        "wire LED1.K to U1.GND to B.-; pin U1.D7 input; expect LED1 dark"
    reference = own.replace("input", "output").replace("expect LED1 dark", "expect LED1 lit when U1.D7 high")

    outcome, = expectations_met(own.replace("; ", "\n"), reference.replace("; ", "\n"), LIBRARY)

    assert (outcome.text, outcome.met) == ("expect LED1 lit when U1.D7 high", True)


CORRECT = [name for name in names() if "\nexpect" in text_of(name) and "#: " not in text_of(name)]


@pytest.mark.parametrize("name", CORRECT)
def test_a_correct_list_in_other_words_meets_its_own_expectations(name: str) -> None:
    text = text_of(name)

    for written_anew in (rewritten, connections_only):
        outcomes = expectations_met(written_anew(text, Random(5)), text, LIBRARY)
        assert outcomes
        assert [outcome.say for outcome in outcomes if outcome.met is not True] == []
