"""From readings to the likeliest fault: each row is a board that somebody measured, with the arithmetic beside it."""

from __future__ import annotations

import re

import pytest

from checker.survey import survey
from checker.tracing import NOTHING_WRONG, Misread, NothingFeeds, Tracer, hold_against
from checker.tracing.probes import probes_of
from tests.tracing.lists import (
    APART,
    COIN_SLOT,
    DIVIDER,
    FERRY_CLOCK,
    LAMP,
    LIBRARY,
    LONG_TABLE,
    MISTER,
    readings,
    traced,
    tracer_of,
)

RANKED = [
    # list, what was seen, the first group holds
    # 9 V over 3 kΩ is 3 mA: 6 V in row 10; L+ a little low, and resistors 5 % off, explain these
    (DIVIDER, "b10=6V", NOTHING_WRONG),
    (DIVIDER, "b10=5.9V a5=8.7V", NOTHING_WRONG),
    (DIVIDER, "b10=6.2V a5=9.3V R1=3.1mA", NOTHING_WRONG),
    # 9 V * 2 / 2.1 = 8.57 V: R1 is 100 Ω, or R2 is 20 kΩ; the currents are 4.29 mA and 0.43 mA
    (DIVIDER, "b10=8.57V a5=9V R1=4.29mA", "R1 is 100 Ω instead of 1 kΩ: ten times too small"),
    (DIVIDER, "b10=8.57V a5=9V R1=0.43mA", "R2 is 20 kΩ instead of 2 kΩ: ten times too large"),
    # nothing flows: row 10 is at plus, and minus does not reach row 15
    (DIVIDER, "b10=9V c15=9V", "the wire from a15 to L- is missing or makes no contact"),
    (DIVIDER, "b10=9V c15=0V R2.1=0V", "R2's leg at c10 makes no contact"),
    (DIVIDER, "L+=0V b10=0V", "PACK is not on, or its leads are not plugged in"),
    # half of 9 V, and 9 V are left without load: 5.4 V at most, and a third of it across R1
    (DIVIDER, "L+=5.3V b10=3.55V", "PACK is worn: much of its voltage is gone"),
    (DIVIDER, "L+=-9V b10=-6V", "PACK has its leads exchanged: plus belongs to L+, minus to L-"),
    # across a part, and between two points: 9 V * 1 / 3 and 6 V
    (DIVIDER, "R1=3V R2=6V", NOTHING_WRONG),
    (DIVIDER, "L+~b10=3V b10~c15=6V", NOTHING_WRONG),
    # (9 V - 1.8 V) / 470 Ω is 15 mA; reversed, no current flows: 9 V in row 10
    (LAMP, "LED1=dark b10=9V c15=0V", "LED1 is turned round: its longer leg belongs to b10"),
    # LED1.A is the leg in b10, where the list has the anode, whichever leg it is: it has what its row has
    (LAMP, "LED1=dark b10=9V c15=0V LED1.A=9V LED1.K=0V", "LED1 is turned round: its longer leg belongs to b10"),
    (LAMP, "LED1=dark b10=9V c15=0V LED1.A=0V", "LED1's leg at b10 makes no contact"),
    (LAMP, "LED1=dark b10=9V c15=0V LED1.A=9V LED1.K=0V", "LED1 is dead: it lets nothing through"),
    (LAMP, "LED1=lit LED1=15.3mA", NOTHING_WRONG),
    # 9 V less 2 V over 4.7 kΩ is 1.5 mA
    (LAMP, "LED1=1.5mA b10=1.8V", "R1 is 4.7 kΩ instead of 470 Ω: ten times too large"),
    # the base is at 0 V though its resistor's other end is at 5 V: nothing comes through
    (MISTER, "U1.D9=high? PUMP=still b16=4.9V b11=0V R1.1=0V", "R1's leg at b16 makes no contact"),
    (MISTER, "U1.D9=high? PUMP=still b16=4.9V b11=0V R1.1=4.9V", "R1's leg at b11 makes no contact"),
    (MISTER, "U1.D9=high? PUMP=still U1.D9=0V", "U1.D9 stays low: the program does not switch it, or the pin is dead"),
    (MISTER, "U1.D9=low? PUMP=running U1.D9=4.56V", "U1.D9 stays high: the program does not switch it, or the pin is dead"),
    (MISTER, "U1.D9=low? PUMP=running b16=0V b11=0V b12=0.02V", "Q1 is shorted from collector to emitter"),
    # with Q1 on, D1 turned round takes the whole current from plus: 9 V less its drop are left across Q1
    (MISTER, "U1.D9=high? PUMP=still b12=8V Q1=hot", "D1 is turned round: its band belongs to d18"),
    # a phototransistor of low gain gives 0.4 mA, 4 V over 10 kΩ, where the nominal one would be at 5 V: the pin gets none of it
    (COIN_SLOT, "Q1=bright? U1.A1=0.05V d12=4.08V", "the wire from U1.A1 to a12 is missing or makes no contact"),
    # two legs of a resistor that touch leave no tenth of a volt, and the LED, for as long as it lives, is lit
    (LONG_TABLE, "c20=5.45V c22=0V R1.1=0V LED1.K=0V LED1.A=5.45V LED1=lit", "R1 is shorted from end to end"),
    # one segment of a figure is dark and the other one is lit
    (FERRY_CLOCK, "U1.D7=high,U1.D8=high? DS.A=lit DS.B=dark DS.B=0V RB.1=5V RB.2=5V",
     "the wire from RB.2 to DS.B is missing or makes no contact"),
    # turned round, Q1's emitter is in row 12 and passes current backwards: its leg in c12 is at what row 12 is
    (MISTER, "U1.D9=high? PUMP=running b12=1.9V Q1.C=1.9V b11=0.87V", "Q1 is turned round: its flat faces a"),
    # the base takes 5 V less 0.87 V over 220 Ω + 25 Ω: 16.9 mA
    (MISTER, "U1.D9=high? PUMP=running R1=16.9mA b12=0.1V U1.D9=low? PUMP=still b12=9V", NOTHING_WRONG),
]


@pytest.mark.parametrize(("text", "typed", "first"), RANKED, ids=[typed for _, typed, _ in RANKED])
def test_the_likeliest_group_holds_what_was_wrong(text: str, typed: str, first: str) -> None:
    trace = traced(text, typed)

    assert first in {name for one in trace.groups[0].members for name in (one.say, one.kind)}
    assert trace.explained


def test_a_hole_of_a_circuit_that_shares_no_current_is_measured_from_its_own_minus() -> None:
    trace = traced(APART, "g10=0V b5=9V")

    assert [probe.name for probe in (one.probe for one in trace.seen)] == ["g10~R-", "b5"]


def test_another_state_in_which_all_of_it_is_right_is_told() -> None:
    at_rest, pressed = traced(MISTER, "b12=0.1V"), traced(MISTER, "U1.D9=high? b12=0.1V")

    assert at_rest.right_in is not None and at_rest.right_in["U1.D9"] == "high"
    assert pressed.right_in is None


NO_SENSE = [
    (LAMP, "a29=3V", "nothing is connected at a29"),
    (LAMP, "b10=40V", "more than the supplies of the list give together, 9.5 V"),
]


@pytest.mark.parametrize(("text", "typed", "complaint"), NO_SENSE, ids=[typed for _, typed, _ in NO_SENSE])
def test_a_reading_that_no_board_could_give_is_asked_back(text: str, typed: str, complaint: str) -> None:
    tracer = tracer_of(text)

    with pytest.raises(Misread, match=re.escape(complaint)):
        hold_against(tracer, readings(text, typed))


CORRECT = [f"a5={high:.2f}V b10={high * second * 2 / (first + second * 2):.2f}V"
           for high in (8.6, 9.0, 9.4) for first in (0.95, 1.05) for second in (0.95, 1.05)]


@pytest.mark.parametrize("typed", CORRECT)
def test_a_correct_board_of_5_percent_parts_is_explained(typed: str) -> None:
    trace = traced(DIVIDER, typed)

    assert trace.explained
    assert trace.groups[0].members[0].kind == NOTHING_WRONG


UNEXPLAINED = [
    (DIVIDER, "L+=9V b10=12V", "b10=12V"),  # more than there is
    (DIVIDER, "L+=9V b10=3.1V", "b10=3.1V"),  # no single wrong value gives it
    (LAMP, "LED1=lit LED1=0mA R1=0mA", "LED1=lit"),
]


@pytest.mark.parametrize(("text", "typed", "worst"), UNEXPLAINED)
def test_what_no_single_fault_explains_is_said(text: str, typed: str, worst: str) -> None:
    trace = traced(text, typed)
    off = trace.groups[0].off

    if worst.endswith("lit"):
        assert max(off) > 2.0  # one look is no proof: it may have been the light in the room
    else:
        assert not trace.explained
        assert worst in {one.text for one, far in zip(trace.seen, off, strict=True) if far > 4.0}


def test_the_chances_add_up_and_fall() -> None:
    groups = traced(MISTER, "U1.D9=high? PUMP=still").groups

    assert 0.8 < sum(group.chance for group in groups) <= 1.0 + 1e-9  # what is next to impossible is in no group
    assert [group.chance for group in groups] == sorted((group.chance for group in groups), reverse=True)


def test_faults_that_no_reading_tells_apart_are_one_group() -> None:
    """Without a wire from e18 to plus, and with it in L-18, nothing is different where a probe can touch."""
    groups = traced(MISTER, "U1.D9=high? PUMP=still b18=0V L+=9V").groups
    together = next(group for group in groups if any("e18 to L+18 is missing" in one.say for one in group.members))

    assert {"the red wire from e18 to L+18 is missing or makes no contact",
            "the red wire from e18 to L+18 ends in L-18 instead of L+18"} <= {one.say for one in together.members}


def test_a_current_that_was_measured_tells_apart_what_voltages_do_not() -> None:
    pair = {"R1 is 10 kΩ instead of 1 kΩ: ten times too large", "R2 is 200 Ω instead of 2 kΩ: ten times too small"}
    by_volts, by_amps = traced(DIVIDER, "b10=1.5V L+=9V"), traced(DIVIDER, "b10=1.5V L+=9V R1=0.75mA")

    assert pair <= {one.say for one in by_volts.groups[0].members}
    assert pair & {one.say for one in by_amps.groups[0].members} == {"R1 is 10 kΩ instead of 1 kΩ: ten times too large"}


def test_the_first_question_halves_what_is_left_and_its_outcomes_hold_all_of_it() -> None:
    trace = tracer_of(MISTER).trace(readings(MISTER, "U1.D9=high? PUMP=still"))
    question = trace.question

    assert question is not None
    assert question.bits > 1.0
    assert {n for outcome in question.outcomes for n in outcome.numbers} == set(range(len(trace.left)))


def test_each_segment_of_a_figure_can_be_looked_at() -> None:
    tracer = tracer_of(FERRY_CLOCK)

    looks = [probe.name for probe in probes_of(tracer.circuit, (), tracer.grounds) if probe.kind == "look"]

    assert looks == ["DS.A", "DS.B"]


def test_a_question_is_not_asked_again() -> None:
    tracer, seen = tracer_of(MISTER), readings(MISTER, "U1.D9=high? PUMP=still")
    first = tracer.trace(seen).question
    assert first is not None
    second = tracer.trace(seen, [(first.probe, first.state)]).question

    assert second is not None
    assert (second.probe.what, second.state) != (first.probe.what, first.state)


@pytest.mark.parametrize("text", ["", "board half\npart R1 1k in b5 b10\n"])
def test_where_nothing_feeds_there_is_nothing_to_measure(text: str) -> None:
    with pytest.raises(NothingFeeds):
        Tracer(survey([text], LIBRARY)[0], LIBRARY)
