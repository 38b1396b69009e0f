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
                               "move R1's leg from b9 to b11"),
    "a wire left out": ((("wire U1.GND to L-5\n", "\n"),), "open", "U1.GND is not joined to PACK's minus",
                        "join U1.GND to L-2 with a wire"),
    "a wire's end elsewhere": ((("wire PUMP.1 to b12", "wire PUMP.1 to b10"),), "moved",
                               "PUMP goes to PACK's minus; the reference has it at Q1's collector",
                               "put the end in b10 (of the wire from PUMP.1) into b12"),
    "two nets joined": ((("pin U1.D9", "wire d16 to d10\npin U1.D9"),), "merged",
                        "U1.D9 and R1 are joined to PACK's minus; the reference has them apart",
                        "take out the wire from d16 to d10"),
    "a diode turned round": ((("band d18", "band d12"),), "turned", "D1 is the wrong way round", "turn D1 round: band to d18"),
    "a transistor turned round": ((("flat faces a  as E B C", "flat faces j"),), "turned",
                                  "Q1's collector and emitter are exchanged", "turn Q1 round: flat facing a"),
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
    "another role of the pin": ((("U1.D9 pwm", "U1.D9 input"),), "role", "U1.D9 is an input; the reference has a pwm output",
                                "look at the program: the wiring is not concerned"),
    "a part left out": ((("part   D1   1N4001  in d12 d18 band d18", ""),), "missing",
                        "D1 (1N4001) is missing: the reference has it between Q1's collector and PACK's plus",
                        "put a 1N4001 between a12 and a18, band to a18"),
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


TWO_LAMPS = """
board half
supply PACK 5V on L+ L-
part U1 controller-5v
power U1 5v
part R1 220 in a5 a9
part LED1 led red in b9 b11 long b9
part R2 1k in a15 a19
part LED2 led red in b19 b21 long b19
wire b11 to L-11
wire c21 to L-21
wire U1.D2 to c5
wire U1.D4 to c15
"""


@pytest.mark.parametrize(("pins", "say", "hand"), [
    # into a pin that is taken nothing can be moved
    (("D4", "D2"), "what is at U1.D4 and at U1.D2 is exchanged", "exchange what is at U1.D4 and at U1.D2"),
    (("D3", "D4"), "U1.D3 is used where the reference has D2", "move what is at U1.D3 to U1.D2"),
])
def test_pins_in_each_others_places_are_one_thing_to_do(pins: tuple[str, str], say: str, hand: str) -> None:
    given = TWO_LAMPS.replace("U1.D2 ", f"U1.{pins[0]} ").replace("U1.D4 to c15", f"U1.{pins[1]} to c15")

    assert [(one.say, one.hand) for one in compared(TWO_LAMPS, given).differences] == [(say, hand)]


def test_a_pull_up_that_is_left_out_is_said_in_words() -> None:
    given = GATE.replace("input pullup", "input")

    assert [one.say for one in compared(GATE, given).differences] == [
        "U1.D7 is an input without its pull-up; the reference has the pull-up on"]


@pytest.mark.parametrize("changes", [(("220 ", "2k2 "),), (("1N4001", "1N5819"),), (("U1.D9", "U1.D8"),)])
def test_a_wrong_value_is_not_wholly_alike(changes: tuple[tuple[str, str], ...]) -> None:
    assert 0.9 < compared(PUMP, pump_with(*changes)).likeness < 1.0


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
    ("score-board-chip-turned", "turned", "turn U2 round: notch at row 10"),
    ("frost-watch-chip-turned", "turned", "turn U1 round: notch at row 18"),
    ("rudder-dial-dot-round", "turned", "turn U1 round: dot at e6"),
])
def test_a_chip_turned_round_is_one_movement(name: str, kind: str, hand: str) -> None:
    reference = name.rsplit("-", 2)[0]

    assert [(one.kind, one.hand) for one in compared(text_of(reference), text_of(name)).differences] == [(kind, hand)]


def test_a_chip_a_row_off_is_one_movement() -> None:
    given = text_of("lighthouse-blinker").replace("across 12-15", "across 13-16").replace("notch row 12", "notch row 13")

    assert [(one.kind, one.hand) for one in compared(text_of("lighthouse-blinker"), given).differences] == [
        ("row-off", "move U1 up by one row, all its legs")]


GATE = """
board half
supply PS 5V limit 1A on R+ R-
part U1 controller-5v
power U1 5v
part K1 relay-5v
part Q1 BC547 in h10 h11 h12 flat faces a
part R1 1k in j11 j15
part D1 1N4148 in f5 f10 band f5
part S1 button across 20-22
part M1 motor 6V 200mA
supply MB aa-pack-4 on L+ L-
wire U1.D4 to i15
wire R-12 to j12
wire R+5 to j5
wire K1.A1 to g5
wire K1.A2 to g10
wire U1.D7 to a20
wire j22 to R-22
wire L+ to K1.COM
wire K1.NO to M1.1
wire M1.2 to L-
pin U1.D4 output
pin U1.D7 input pullup
"""

FAN = """
board SENSE mini
board DRIVE half
supply FANPS 12V limit 1.5A on DRIVE:R+ DRIVE:R-
part U1 controller-5v
part RT1 thermistor 10k in SENSE:b3 SENSE:b7
part R1 10k in SENSE:c7 SENSE:c12
part C1 100n in SENSE:d7 SENSE:d12
part LED1 led red in DRIVE:b5 DRIVE:b9 long DRIVE:b5
part R2 1k in DRIVE:c9 DRIVE:c14
wire U1.5V to SENSE:a3
wire U1.GND to SENSE:a12
wire U1.A0 to SENSE:a7
wire U1.GND to DRIVE:R-
wire U1.D5 to DRIVE:a5
wire DRIVE:a14 to DRIVE:R-14
pin U1.A0 analog
pin U1.D5 pwm
"""

CART = """
board full rails joined
supply BAT aa-pack-6 on L+ L-
part U1 controller-5v
part U2 L293D across 30-37 notch row 30
wire L+28 to a37
wire U1.5V to R+
wire U1.GND to R- to L-2
wire R+30 to j30
wire R+29 to a29
wire d29 to d30
wire U1.D2 to a31
wire U1.D3 to a36
wire a33 to L-33
part M1 motor 6V 200mA
wire M1.1 to b32
wire M1.2 to b35
pin U1.D2 and U1.D3 output
"""

BY_HAND = {
    # the cathode of the clamp diode belongs to plus, row 5: the other way round it shorts the coil's supply
    "which way round a missing diode goes": (GATE, ("part D1 1N4148 in f5 f10 band f5", ""),
                                             "put a 1N4148 between f10 and f5, band to f5"),
    "a wire beside a leg that cannot be moved alone": (GATE, ("wire U1.D7 to a20", "wire U1.D7 to a21"),
                                                       "put the end in a21 (of the wire from U1.D7) into a20"),
    "of two contacts one lead": (GATE, ("wire K1.NO", "wire K1.NC"), "move the lead at K1's NC to NO"),
    "a hole on the same board": (FAN, ("SENSE:c12", "SENSE:c13"), "move R1's leg from SENSE:c13 to SENSE:c12"),
    "the hole that is nearest": (FAN, ("DRIVE:c14", "DRIVE:c15"), "move R2's leg from DRIVE:c15 to DRIVE:c14"),
    "two parts in each other's places": (
        FAN, ("part RT1 thermistor 10k in SENSE:b3 SENSE:b7\npart R1 10k in SENSE:c7 SENSE:c12",
              "part RT1 thermistor 10k in SENSE:b7 SENSE:b12\npart R1 10k in SENSE:c3 SENSE:c7"),
        "put RT1 and R1 each in the other's holes"),
    # the wire of the two that has an end with nothing else is moved: row 29 only fed the enable
    "a wire that is left over": (CART, ("wire d29 to d30\n", ""), "put the end in a29 (of the wire from R+29) into a30"),
    "a leg of a chip that no wire reaches": (CART, ("wire R+29 to a29\nwire d29 to d30\n", ""),
                                             "join d30 to g30 with a wire"),
}


@pytest.mark.parametrize("name", BY_HAND)
def test_the_advice_can_be_done_by_hand_and_makes_it_the_same(name: str) -> None:
    reference, (before, after), hand = BY_HAND[name]
    assert before in reference

    assert [one.hand for one in compared(reference, reference.replace(before, after)).differences] == [hand]
