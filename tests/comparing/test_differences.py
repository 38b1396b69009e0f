"""One change, one difference: what it is called, what it says, what to do about it.

The pump stage is that of DESIGN.md section 2; what each change of it makes of the circuit is worked out by hand. After the
table, every slip of the hand that the build sheet knows is made in lists that ship, and has to come out as one difference.
"""

from __future__ import annotations

import pytest

from checker.comparing import Compared, Comparison, compare, render
from checker.examples import text_of
from checker.fixes.draft import applied
from checker.report.page import Page
from checker.slips.generator import all_slips
from checker.survey import wire_up
from parts_library import load_library

LIBRARY = load_library()
PUMP = text_of("seed-tray-mister")


def compared(reference: str, given: str) -> Comparison:
    return compare(wire_up(reference, LIBRARY), wire_up(given, LIBRARY))


def pump_with(*changes: tuple[str, str]) -> str:
    """The pump stage with words exchanged; every one of them has to be there."""
    text = PUMP
    for before, after in changes:
        assert before in text
        text = text.replace(before, after)
    return text


TOLD = {
    # R1 to the row of Q1's collector: row 12 instead of 11
    "a leg in the next row": ((("in b11 b16", "in a12 b16"),), "moved",
                              "R1 goes to Q1's collector; the reference has it at the base", "move R1's leg from a12 to a11"),
    "a leg where nothing is": ((("in b11 b16", "in b9 b16"),), "open", "R1 is not joined to Q1's base",
                               "join b9 to a11, or move the leg there"),
    "a wire left out": ((("wire U1.GND to L-5\n", "\n"),), "open", "U1.GND is not joined to PACK's minus",
                        "join U1.GND to L-2 with a wire"),
    "a wire's end elsewhere": ((("wire PUMP.1 to b12", "wire PUMP.1 to b10"),), "moved",
                               "PUMP goes to PACK's minus; the reference has it at Q1's collector",
                               "put the end in b10 (of the wire from PUMP.1) into a12"),
    "two nets joined": ((("pin U1.D9", "wire d16 to d10\npin U1.D9"),), "merged",
                        "U1.D9 and R1 are joined to PACK's minus; the reference has them apart",
                        "take out the wire from d16 to d10"),
    "a diode turned round": ((("band d18", "band d12"),), "turned", "D1 is the wrong way round", "turn D1 round"),
    "a transistor turned round": ((("flat faces a  as E B C", "flat faces j"),), "turned",
                                  "Q1's collector and emitter are exchanged", "turn Q1 round"),
    "a battery turned round": ((("on L+ L-", "on L- L+"),), "turned", "PACK's minus and plus are exchanged",
                               "exchange the leads at PACK's minus and plus"),
    "another value": ((("220 ", "240 "),), "value", "R1 is 240 Ω; the reference has 220 Ω", "use 220 Ω for R1"),
    "another type": ((("1N4001", "1N5819"),), "type", "D1 is a 1N5819; the reference has a 1N4001",
                     "put a 1N4001 in place of D1"),
    "another pin of the controller": ((("U1.D9", "U1.D8"),), "other-pin", "U1.D8 is used where the reference has D9",
                                      "move what is at U1.D8 to U1.D9"),
    "another load": ((("part   PUMP motor 9V 100mA stall 300mA", "part   PUMP motor 9V 250mA stall 600mA"),), "value",
                     "PUMP is 250 mA; the reference has 100 mA", "use a motor 9V 100mA stall 300mA for PUMP"),
    "another supply": ((("PACK 9V limit 2A", "PACK 6V limit 2A"),), "value", "PACK is 6 V; the reference has 9 V",
                       "use a 9 V supply for PACK"),
    "another role of the pin": ((("U1.D9 pwm", "U1.D9 input"),), "role", "U1.D9 is input; the reference has pwm",
                                "look at the program: the wiring is not concerned"),
    "a part left out": ((("part   D1   1N4001  in d12 d18 band d18", ""),), "missing",
                        "D1 (1N4001) is missing: the reference has it between Q1's collector and PACK's plus",
                        "put a 1N4001 between a12 and a18"),
    "a part too many": ((("pin U1.D9", "part R7 10k in d16 d11\npin U1.D9"),), "extra", "R7 (10 kΩ) is not in the reference",
                        "take R7 out"),
    "a wire instead of a part": ((("part   R1   220     in b11 b16", "wire b11 to b16"),), "missing",
                                 "R1 (220 Ω) is missing: Q1's base and U1.D9 are joined without it",
                                 "put a 220 Ω resistor in place of the wire from b11 to b16"),
    "a part instead of a wire": ((("wire U1.D9 to a16", "wire U1.D9 to a25\npart R7 1k in b25 a16"),), "extra",
                                 "R7 (1 kΩ) is not in the reference, which has a wire there", "put a wire in place of R7"),
}


@pytest.mark.parametrize("name", TOLD)
def test_one_change_is_one_difference(name: str) -> None:
    changes, kind, say, hand = TOLD[name]

    found = compared(PUMP, pump_with(*changes))

    assert [(one.kind, one.say, one.hand) for one in found.differences] == [(kind, say, hand)]
    assert (found.same, found.bounded) == (False, False)


def test_an_equivalent_type_is_told_and_does_not_count() -> None:
    found = compared(PUMP, pump_with(("PN2222A", "2N2222A"), ("1N4001", "1N4007")))

    assert found.same
    assert sorted(one.say for one in found.differences) == [
        "D1 is a 1N4007, which does the same here; the reference has a 1N4001",
        "Q1 is a 2N2222A, which does the same here; the reference has a PN2222A"]
    assert not any(one.is_wiring for one in found.differences)


def test_a_weaker_type_counts() -> None:
    # 2N3904: 200 mA (datasheets) where the PN2222A has 600 mA
    found = compared(PUMP, pump_with(("PN2222A", "2N3904")))

    assert [(one.kind, one.counts) for one in found.differences] == [("type", True)]


def test_the_words_are_those_of_the_given_list() -> None:
    given = pump_with(("wire PUMP.1 to b12", "wire PUMP.1 to b10"), ("PUMP", "FLOW"), ("Q1 ", "Q7 "))

    assert [one.say for one in compared(PUMP, given).differences] == [
        "FLOW goes to PACK's minus; the reference has it at Q7's collector"]


def test_several_changes_are_told_each() -> None:
    given = pump_with(("band d18", "band d12"), ("220 ", "2k2 "), ("wire U1.GND to L-5\n", "\n"), ("U1.D9", "U1.D6"))

    assert [one.kind for one in compared(PUMP, given).differences] == ["open", "turned", "other-pin", "value"]


@pytest.mark.parametrize(("added", "unread", "partly"), [
    ("wibble wobble", True, "the list has a line that could not be read: line 23"),
    ("wibble wobble\n" * 6, True, "the list has 6 lines that could not be read: lines 23, 24, 25, 26, 27 and 1 more"),
    ("part Z9 frobnicator in a20 a21", True, "the list has parts that are not known: Z9"),
    ("", False, None),
])
def test_what_could_not_be_read_is_said(added: str, unread: bool, partly: str | None) -> None:
    found = compared(PUMP, f"{PUMP}{added}\n")

    assert found.same
    assert found.unread == unread
    assert found.partly == ((partly,) if partly else ())


TWO_LIGHTS = """
board half
supply PACK 5V on L+ L-
part LED1 led {colour} in c12 c14 long c12
part R1 220 in b7 b12
wire L+ to a7
wire a14 to L-
"""


def test_a_light_is_named_as_one_says_it() -> None:
    found = compared(TWO_LIGHTS.format(colour="red"), TWO_LIGHTS.format(colour="green"))

    assert [(one.say, one.hand) for one in found.differences] == [
        ("LED1 is a green LED; the reference has a red LED", "put a red LED in place of LED1")]


def test_that_a_name_is_only_in_the_reference_is_said_once() -> None:
    says = [one.say for one in compared(PUMP, TWO_LIGHTS.format(colour="red")).differences if one.kind == "missing"]

    assert says and all(say.count("reference") <= 2 for say in says), says


def test_another_circuit_is_no_list_of_slips() -> None:
    found = compared(PUMP, TWO_LIGHTS.format(colour="red"))

    assert (found.is_another, compared(PUMP, pump_with(("220 ", "240 "))).is_another) == (True, False)
    said = render("terminal", Compared("pump.legs", "lamp.legs", found), Page())
    assert said.startswith("ANOTHER CIRCUIT\n") and "To do" not in said


def test_a_list_with_several_readings_is_compared_in_the_first() -> None:
    found = compared(PUMP, text_of("seed-tray-mister-claim-against-flat"))

    assert found.partly == ("the list can be read in several ways; the one that it says itself was compared",)


def test_nothing_and_nothing_are_the_same_and_nothing_and_something_have_nothing_in_common() -> None:
    assert (compared("", "").same, compared("", "").likeness) == (True, 1.0)
    assert (compared(PUMP, "").same, compared(PUMP, "").likeness) == (False, 0.0)


SLIPPED = ("seed-tray-mister", "dusk-lamp", "frost-watch", "lighthouse-blinker", "tram-drive", "floor-bell", "weather-post",
           "blind-winder", "rain-barrel-gauge", "stage-lantern-relay")


@pytest.mark.parametrize("name", SLIPPED)
def test_every_slip_of_the_hand_is_at_most_one_difference(name: str) -> None:
    text = text_of(name)
    reference = wire_up(text, LIBRARY)

    for slip in all_slips(reference.circuits[0]):
        found = compare(reference, wire_up(applied(text.splitlines(), slip.edits), LIBRARY))
        counting = [one for one in found.differences if one.counts]
        assert len(counting) <= 1, (slip.at, slip.wrong, [one.say for one in counting])
        assert found.same == (not counting)
        if slip.wrong.startswith(("turned", "leads exchanged")) and counting:
            assert slip.at in counting[0].parts


@pytest.mark.parametrize(("name", "kind", "hand"), [
    ("score-board-chip-turned", "turned", "turn U2 round"),
    ("frost-watch-chip-turned", "turned", "turn U1 round"),
    ("rudder-dial-dot-round", "turned", "turn U1 round"),
])
def test_a_chip_turned_round_is_one_movement(name: str, kind: str, hand: str) -> None:
    reference = name.rsplit("-", 2)[0]

    assert [(one.kind, one.hand) for one in compared(text_of(reference), text_of(name)).differences] == [(kind, hand)]


def test_a_chip_a_row_off_is_one_movement() -> None:
    given = text_of("lighthouse-blinker").replace("across 12-15", "across 13-16").replace("notch row 12", "notch row 13")

    assert [(one.kind, one.hand) for one in compared(text_of("lighthouse-blinker"), given).differences] == [
        ("row-off", "move U1 up by one row, all its legs")]
