"""The same circuit in other words is the same: names, holes, order of lines, legs without polarity, ways of the wires.

Every list that ships, and every correct list of ``tests/clear``, is written anew by chance and compared with itself. Whether
small lists are the same is also asked of networkx, which knows nothing of ours.
"""

from __future__ import annotations

from pathlib import Path
from random import Random

import numpy as np
import pytest
from scipy.optimize import linear_sum_assignment

from checker.comparing import Comparison, compare
from checker.comparing.assignment import assign
from checker.examples import names, text_of
from checker.survey import wire_up
from tests.comparing.oracle import are_isomorphic, least_cost
from tests.comparing.rewriting import LIBRARY, connections_only, rewritten
from tests.comparing.small import mutated, random_list

CLEAR = {path.stem: path.read_text(encoding="utf-8") for path in (Path(__file__).parents[1] / "clear").glob("*.legs")}
LISTS = {**{name: text_of(name) for name in names()}, **CLEAR}


def compared(reference: str, given: str) -> Comparison:
    return compare(wire_up(reference, LIBRARY), wire_up(given, LIBRARY))


@pytest.mark.parametrize("name", LISTS)
def test_a_list_in_other_words_is_the_same_circuit(name: str) -> None:
    text = LISTS[name]

    for seed, written_anew in ((1, rewritten), (2, rewritten), (3, connections_only)):
        found = compared(text, written_anew(text, Random(seed)))
        assert (found.same, found.differences, found.likeness, found.bounded) == (True, (), 1.0, False)


def test_the_pairs_say_who_plays_whom() -> None:
    text = text_of("seed-tray-mister").replace("PUMP", "FLOW").replace("R1 ", "R5 ").replace("PUMP.1", "FLOW.2")
    found = compared(text_of("seed-tray-mister"), text)

    assert found.pairs == {"PACK": "PACK", "U1": "U1", "PUMP": "FLOW", "Q1": "Q1", "R1": "R5", "D1": "D1"}


SAME_PAIRS = {
    "a series in another order": (
        "supply B 9V; part R1 470; part L1 led red; wire B.+ to R1.1; wire R1.2 to L1.A; wire L1.K to B.-",
        "supply B 9V; part R1 470; part L1 led red; wire B.+ to L1.A; wire L1.K to R1.1; wire R1.2 to B.-"),
    "a battery of the same voltage": ("supply B 9V; part H1 lamp 9V 50mA; wire B.+ to H1.1; wire B.- to H1.2",
                                      "supply B 9v-block; part H1 lamp 9V 50mA; wire B.+ to H1.2; wire B.- to H1.1"),
    "a resistor within the tolerance of 5 %": ("supply B 9V; part R1 220; wire B.+ to R1.1; wire B.- to R1.2",
                                               "supply B 9V; part R1 225; wire B.+ to R1.1; wire B.- to R1.2"),
    "another gate of the chip, its inputs exchanged": (
        "supply B 5V; part U1 74HC00; wire B.+ to U1.VCC to U1.1A; wire B.- to U1.GND to U1.1B; part R1 1k; wire U1.1Y to R1.1",
        "supply B 5V; part U1 74HC00; wire B.+ to U1.VCC to U1.3B; wire B.- to U1.GND to U1.3A; part R1 1k; wire U1.3Y to R1.1"),
    "the other half of the op amp": (
        "supply B 5V; part U1 LM358; wire B.+ to U1.V+ to U1.IN1+; wire B.- to U1.V-; wire U1.IN1- to U1.OUT1",
        "supply B 5V; part U1 LM358; wire B.+ to U1.V+ to U1.IN2+; wire B.- to U1.V-; wire U1.IN2- to U1.OUT2"),
    "another channel of the array": (
        "supply B 5V; part U1 ULN2003A; part M1 motor 5V 80mA; wire B.- to U1.GND; wire B.+ to M1.1 to U1.COM to U1.IN1; "
        "wire M1.2 to U1.OUT1",
        "supply B 5V; part U1 ULN2003A; part M1 motor 5V 80mA; wire B.- to U1.GND; wire B.+ to M1.1 to U1.COM to U1.IN6; "
        "wire M1.2 to U1.OUT6"),
    "the other half of a driver, its enable with it": (
        "supply B 5V; part U1 L293D; part M1 motor 5V 80mA; wire B.- to U1.GND to U1.IN2; wire B.+ to U1.VCC1 to U1.VCC2; "
        "wire B.+ to U1.EN1 to U1.IN1; wire M1.1 to U1.OUT1; wire M1.2 to U1.OUT2",
        "supply B 5V; part U1 L293D; part M1 motor 5V 80mA; wire B.- to U1.GND to U1.IN3; wire B.+ to U1.VCC1 to U1.VCC2; "
        "wire B.+ to U1.EN2 to U1.IN4; wire M1.1 to U1.OUT4; wire M1.2 to U1.OUT3"),
    "the legs of a button that are one contact": (
        "board half; supply B 5V on L+ L-; part S1 button across 10-12; part R1 1k in a12 a20; wire L+ to a10; wire b20 to L-",
        "board half; supply B 5V on L+ L-; part S1 button across 10-12; part R1 1k in j10 j20; wire L+ to j12; wire i20 to L-"),
    "the coil of a relay the other way round": (
        "supply B 5V; part K1 relay 5V; wire B.+ to K1.A1 to K1.COM; wire B.- to K1.A2; part H1 lamp 5V 60mA; "
        "wire K1.NO to H1.1; wire H1.2 to B.-",
        "supply B 5V; part K1 relay 5V; wire B.+ to K1.A2 to K1.COM; wire B.- to K1.A1; part H1 lamp 5V 60mA; "
        "wire K1.NO to H1.2; wire H1.1 to B.-"),
    "two in parallel with their names exchanged": (
        "supply B 9V; part R1 1k; part R2 1k; part R3 2k; wire B.+ to R1.1 to R2.1; wire R1.2 to R2.2 to R3.1; wire R3.2 to B.-",
        "supply B 9V; part R2 1k; part R1 1k; part R3 2k; wire B.+ to R1.1 to R2.2; wire R1.2 to R3.2; wire R2.1 to R3.2; "
        "wire R3.1 to B.-"),
    "a stronger diode as a clamp": (
        "supply B 9V; part M1 motor 9V 100mA; part D1 1N4001; wire B.+ to M1.1 to D1.K; wire B.- to M1.2 to D1.A",
        "supply B 9V; part M1 motor 9V 100mA; part D1 1N4007; wire B.+ to M1.1 to D1.K; wire B.- to M1.2 to D1.A"),
}


@pytest.mark.parametrize("name", SAME_PAIRS)
def test_what_makes_no_difference_makes_none(name: str) -> None:
    reference, given = (text.replace("; ", "\n") for text in SAME_PAIRS[name])

    found = compared(reference, given)

    assert (found.same, found.likeness, found.bounded) == (True, 1.0, False)
    assert {difference.kind for difference in found.differences} <= {"equivalent-type", "series-order"}


@pytest.mark.parametrize("seed", range(120))
def test_small_lists_agree_with_two_independent_judges(seed: int) -> None:
    chance = Random(seed)
    nets = chance.randrange(2, 5)
    lines = random_list(chance, chance.randrange(2, 4), nets)
    other = lines
    for _ in range(chance.randrange(4)):
        other = mutated(other, chance, nets)
    one, two = (wire_up("\n".join(text), LIBRARY) for text in (lines, other))

    found = compare(one, two)

    if "series-order" in {difference.kind for difference in found.differences}:
        assert found.cost < least_cost(one.circuits[0], two.circuits[0])
    else:
        assert found.same == are_isomorphic(one.circuits[0], two.circuits[0])
        assert found.cost == pytest.approx(least_cost(one.circuits[0], two.circuits[0]))
    assert not found.bounded


def test_comparing_in_the_other_direction_costs_the_same() -> None:
    for seed in range(40):
        chance = Random(seed)
        lines = random_list(chance, 4, 4)
        one, two = (wire_up("\n".join(text), LIBRARY) for text in (lines, mutated(lines, chance, 4)))

        assert compare(one, two).cost == pytest.approx(compare(two, one).cost)


@pytest.mark.parametrize("size", [1, 2, 3, 7, 20, 60])
def test_an_assignment_costs_as_little_as_that_of_scipy(size: int) -> None:
    for seed in range(5):
        costs = np.random.default_rng(seed).choice([0.0, 0.5, 1.0, 1.6, 2.0], (size, size))
        rows, columns = linear_sum_assignment(costs)

        found = assign(costs)

        assert sorted(found) == list(range(size))
        assert sum(costs[row, column] for row, column in enumerate(found)) == pytest.approx(costs[rows, columns].sum())
