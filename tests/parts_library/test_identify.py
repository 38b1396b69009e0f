"""The words of a ``part`` line become an entry with its values: what is found, what is assumed, and what is asked back."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from parts_library import Identified, identify, identify_supply, load_library
from parts_library.kinds import find_kind
from parts_library.letters import agrees
from parts_library.words import tokens_of


def identified(line: str, **marking: Any) -> Identified:
    name, *words = line.split()
    return identify(words, name=name, library=load_library(), **marking)


FOUND: list[tuple[str, str, dict[str, Any]]] = [  # line -> entry, some of its values
    # a part number first
    ("Q1 PN2222A", "PN2222A", {"polarity": "npn"}),
    ("Q1 transistor PN2222A", "PN2222A", {}),
    ("Q1 npn transistor 2N3904", "2N3904", {}),
    ("Q1 BC547B", "BC547", {}),
    ("D1 1N4148", "1N4148", {}),
    ("D1 4148", "1N4148", {}),
    ("U1 7805", "7805", {"output": 5.0}),
    ("X1 7805", "7805", {}),
    ("U1 LM7805CV", "7805", {}),
    ("U1 4N35", "4N35", {}),
    ("U1 324", "LM324", {}),
    ("IC2 555", "NE555", {}),
    ("U1 74hc595n", "74HC595", {}),
    # then a kind, with its values in any order
    ("R1 resistor 1k 1/2W 1%", "resistor", {"ohms": 1_000.0, "power": 0.5, "tolerance": 0.01}),
    ("R1 1% 1k resistor", "resistor", {"ohms": 1_000.0, "tolerance": 0.01}),
    ("M1 motor 9V 100mA stall 300mA", "motor", {"voltage": 9.0, "current": 0.1, "stall_current": 0.3}),
    ("PUMP DC motor 6V 250mA", "motor", {"voltage": 6.0, "current": 0.25, "stall_current": 1.25}),
    ("LED1 led red", "led red", {"colour": "red"}),
    ("LED1 red led", "led red", {}),
    ("LED1 5mm green led", "led green", {}),
    ("D3 led blue 10mA", "led blue", {"usual_current": 0.01}),
    ("LED1 warm white led", "led warm white", {}),
    ("K1 relay 5V", "relay-5v", {"voltage": 5.0}),
    ("K1 12V relay", "relay-12v", {"voltage": 12.0}),
    ("K1 relay 18V", "relay", {"voltage": 18.0, "ohms": 900.0}),
    ("RV1 pot 10k", "pot", {"ohms": 10_000.0}),
    ("R5 trimmer 5k", "trimmer", {"ohms": 5_000.0}),
    ("BZ1 buzzer active 5V", "buzzer", {"voltage": 5.0}),
    ("BZ1 passive buzzer", "passive buzzer", {}),
    ("C1 capacitor 100uF 25V", "electrolytic", {"farads": 1e-4, "voltage": 25.0, "polarised": True}),
    ("C1 ceramic 1uF", "capacitor", {"farads": 1e-6, "polarised": False}),
    ("C1 electrolytic 470u 16V", "electrolytic", {"farads": 4.7e-4}),
    ("C1 cap electrolytic 10uF", "electrolytic", {"farads": 1e-5}),
    ("C1 electrolytic cap 10uF", "electrolytic", {}),
    ("C1 capacitor ceramic 2u2", "capacitor", {"farads": 2.2e-6}),
    ("P1 pump motor 5V", "pump", {"voltage": 5.0}),
    ("P1 motor pump 5V", "pump", {}),
    ("Q1 n channel mosfet", "nmos", {}),
    ("D1 1N4007 1A 1000V", "1N4007", {}),
    ("U1 7805 5V", "7805", {}),
    ("S1 momentary push button", "button", {}),
    ("U4 ULN2003 board", "stepper-driver-board", {}),
    ("U4 ULN2003A driver array", "ULN2003A", {}),
    ("U6 opto 4N25", "4N25", {}),
    ("D1 1N4733", "1N4733A", {"voltage": 5.1}),
    ("LED1 red", "led red", {}),
    ("LED1 high-brightness white led", "led white", {}),
    ("RV1 pot B10K", "pot", {"ohms": 10_000.0}),
    ("PUMP motor 6V 100mA running 300mA stall", "motor", {"current": 0.1, "stall_current": 0.3}),
    ("PUMP motor 6V 1.2A max", "motor", {"current": 0.24, "stall_current": 1.2}),
    ("H1 fan 5V 100mA", "fan", {"voltage": 5.0, "voltage_max": 5.75, "stall_current": 0.125}),
    ("D1 zener 5V1", "zener", {"voltage": 5.1}),
    ("D1 5V1 zener", "zener", {"voltage": 5.1}),
    ("LDR1 ldr", "ldr", {"ohms": 10_000.0}),
    ("R9 thermistor 100k", "thermistor", {"ohms": 100_000.0, "high": 320_000.0}),
    ("LED1 rgb-led common-cathode", "rgb-led common-cathode", {}),
    ("LED1 common-anode rgb-led", "rgb-led common-anode", {}),
    ("VALVE solenoid 12V 0.5A 20mH", "solenoid", {"voltage": 12.0, "current": 0.5, "inductance": 0.02}),
    ("U1 controller-5v", "controller-5v", {}),
    ("S1 push button", "button", {}),
    ("F1 fuse 500mA", "fuse", {"current": 0.5}),
    ("H1 heater 12V 24W", "heater", {"voltage": 12.0, "current": 2.0}),
    ("L1 inductor 100uH", "inductor", {"henries": 1e-4}),
    # then a value
    ("R1 220", "resistor", {"ohms": 220.0}),
    ("R1 4k7", "resistor", {"ohms": 4_700.0}),
    ("R1 10 k", "resistor", {"ohms": 10_000.0}),
    ("R1 1kΩ", "resistor", {"ohms": 1_000.0}),
    ("R1 324", "resistor", {"ohms": 324.0}),  # a value of E96, and the name says resistor
    ("HEATER 10", "resistor", {"ohms": 10.0}),
    ("C1 100n", "capacitor", {"farads": 1e-7, "polarised": False}),
    ("C1 10uF", "electrolytic", {"farads": 1e-5, "polarised": True}),
    ("C1 4n7", "capacitor", {"farads": 4.7e-9}),
]  # fmt: skip


@pytest.mark.parametrize(("line", "name", "values"), FOUND, ids=[line for line, _, _ in FOUND])
def test_the_words_of_a_line_name_an_entry_and_its_values(line: str, name: str, values: dict[str, Any]) -> None:
    found = identified(line)

    assert found.problems == ()
    assert found.entry is not None
    assert name == found.entry.name
    assert values == {field: pytest.approx(getattr(found.entry, field)) for field in values}


ASSUMED = [  # line -> the sentences
    ("R1 1k", ("R1 is 1/4 W, 5 %",)),
    ("R1 1k 1/2W", ("R1 is 5 %",)),
    ("R1 1k 1/2W 1%", ()),
    ("PUMP motor 9V 100mA", ("PUMP stalls at five times its running current, 500 mA", "PUMP's winding is taken as 1 mH")),
    ("PUMP motor 9V 100mA stall 300mA winding 2mH", ()),
    ("M1 motor 6V", ("M1 is taken to run at 200 mA", "M1 stalls at five times its running current, 1 A",
                     "M1's winding is taken as 1 mH")),
    ("PUMP motor 6V stall 1A winding 1mH", ("PUMP is taken to run at a fifth of its stall current, 200 mA",)),
    ("M1 motor", ("M1 is taken as a motor for 6 V that runs at 200 mA", "M1 stalls at five times its running current, 1 A",
                  "M1's winding is taken as 1 mH")),
    ("C1 10u", ("C1 is an aluminium electrolytic capacitor, with a + and a - leg",)),
    ("C1 100n", ("C1 is a ceramic capacitor, which fits either way round",)),
    ("LED1 led", ("LED1 is taken as a red LED for 20 mA, 30 mA at most",)),
    ("L1 lamp 12V 100mA", ("L1 draws ten times its current when cold, 1 A",)),
    ("R3 103", ("R3 is taken as 103 Ω as written; printed on a part, 103 would be 10 kΩ", "R3 is 1/4 W, 5 %")),
    ("Q1 PN2222A", ()),
]  # fmt: skip


@pytest.mark.parametrize(("line", "assumed"), ASSUMED, ids=[line for line, _ in ASSUMED])
def test_every_default_that_was_used_is_told(line: str, assumed: tuple[str, ...]) -> None:
    assert assumed == identified(line).assumed


PROBLEMS = [  # line -> label, the whole sentence, the suggestion
    ("C1 104", "bad-value", "104 on a capacitor is its code: write code 104", "code 104"),
    ("C1 220", "bad-value",
     "220 on a capacitor has no unit: write 220uF, 220nF or 220pF, or code 220 for what is printed", None),
    ("SP1 speaker 8", "bad-value", "8 has no unit: write 8ohm", "8ohm"),
    ("C1 0.1", "bad-value", "0.1 on a capacitor has no unit: write 0.1uF, 0.1nF or 0.1pF", None),
    ("RV1 10k", "bad-value",
     "RV1 reads like a potentiometer, and 10k is a resistance: write pot 10k, or give it another name", "pot 10k"),
    ("M1 motor 3V-6V", "bad-value", "3V-6V is a range: write the one voltage that it is rated for", None),
    ("C1 capacitor 104", "bad-value", "104 on a capacitor is its code: write code 104", "code 104"),
    ("X1 324", "ambiguous-part",
     "324 alone can be LM324 (a chip or module), or 324 ohm: write LM324, or 324ohm", "LM324"),
    ("Q1 2222", "ambiguous-part",
     "2222 can be PN2222A, PN2222, P2N2222A, 2N2222A or 2N2222: write the one that is printed on the part", "PN2222A"),
    ("LED1 rgb-led", "ambiguous-part",
     "rgb-led can be rgb-led common-cathode or rgb-led common-anode: write the one that is printed on the part",
     "rgb-led common-cathode"),
    ("R1 100nF", "bad-value",
     "R1 reads like a resistor, and 100nF is a capacitance: write what it is, or give it another name", None),
    ("C1 4k7", "bad-value",
     "C1 reads like a capacitor, and 4k7 is a resistance: write what it is, or give it another name", None),
    ("Q1 220", "bad-value",
     "Q1 reads like a transistor, and 220 is a resistance: write what it is, or give it another name", None),
    ("R1 1N4148", "ambiguous-part",
     "R1 reads like a resistor, but 1N4148 is a diode: give it another name", None),
    ("R1 -5", "bad-value", "-5 is negative: more than zero ohms are expected", None),
    ("R1 0", "bad-value", "0 is zero: more than zero ohms are expected; a plain link is a wire", None),
    ("R1 1kk", "bad-value", "1kk has two prefixes: one is enough: write 1k", "1k"),
    ("R1 10m", "bad-value", "10m is in thousandths of an ohm: write 10M", "10M"),
    ("R1 resistor 9V", "bad-value", "9V does not fit a resistor, which has ohms or watts", None),
    ("M1 motor 0V 1A", "bad-value", "0V is zero: more than zero volts are expected", None),
    ("M1 motor 9V 10mF", "bad-value", "10mF does not fit a motor, which has volts, amps, ohms, watts, henries or hertz", None),
    ("M1 motor 9V 300mA stall 100mA", "bad-value",
     "the stall current 100 mA is under the running current 300 mA: a motor draws most when it is held still", None),
    ("R1 1k 2k", "bad-value", "2k is a second value for the same thing: one is enough", None),
    ("R1 resistor", "bad-value", "R1 needs its resistance, as in resistor 1k", "resistor 1k"),
    ("C1 capacitor", "bad-value", "C1 needs its capacitance, as in capacitor 100nF", "capacitor 100nF"),
    ("VALVE solenoid", "bad-value", "VALVE needs its rated voltage and current, as in solenoid 12V 500mA", "solenoid 12V 500mA"),
    ("R1 resister 1k", "unknown-part", "no part or kind is called resister: nearest is resistor", "resistor"),
    ("D1 1N4O07", "unknown-part", "no part or kind is called 1N4O07: nearest is 1N4007", "1N4007"),
    ("Q1 2N222A", "unknown-part", "no part or kind is called 2N222A; look at the part: is it 2N2222A or 2N2222?", None),
    ("J1 banana", "unknown-part", "no part or kind is called banana", None),
    ("U1 9Q9Z7", "unknown-part", "no part or kind is called 9Q9Z7", None),
    ("X1 PN2222A led", "ambiguous-part", "PN2222A and led are two kinds of part: write only one of them", "led"),
    ("Q1 2N3906 npn", "ambiguous-part", "2N3906 is pnp, and npn is written beside it", "pnp"),
    ("Q1 PN2222A BC547", "ambiguous-part", "PN2222A and BC547 are two kinds of part: write only one of them", "BC547"),
    ("D1 5V1", "unknown-part", "5V1 says a value but no kind of part: write zener 5V1, if it is one", "zener 5V1"),
    ("F1 500mA", "unknown-part", "500mA says a value but no kind of part: write fuse 500mA, if it is one", "fuse 500mA"),
    ("X1 12V", "unknown-part", "12V says a value but no kind of part", None),
    ("Q1 PN2222A 5V", "bad-value", "5V does not fit: PN2222A has no value to be stated", None),
    ("R1 1k purple", "bad-value", "purple says nothing about a resistor", None),
    ("R1", "unknown-part", "no kind or value is given", None),
]  # fmt: skip


@pytest.mark.parametrize(("line", "label", "message", "suggestion"), PROBLEMS, ids=[line for line, *_ in PROBLEMS])
def test_what_cannot_be_meant_is_asked_back_and_not_guessed(
    line: str, label: str, message: str, suggestion: str | None
) -> None:
    found = identified(line)

    assert [(label, message, suggestion)] == [(p.label, p.message, p.suggestion) for p in found.problems]
    assert found.entry is None
    assert found.assumed == ()


def test_a_kind_that_leaves_the_polarity_open_is_asked_back() -> None:
    problem = identified("Q1 transistor").problems[0]

    assert problem.label == "ambiguous-part"
    assert problem.message.startswith("transistor can be npn, pnp ")


AGREES = ["PUMP motor 6V 1A", "HEATER 10", "X1 220", "X1 100n", "D1 led red", "LED1 led red", "Q1 2N7000", "T1 BC547",
          "M1 2N7000", "R1 ldr", "R1 pot 10k", "L1 lamp 6V 100mA", "S1 servo", "U1 controller-5v", "K1 relay-board", "J1 fuse 1A",
          "RAIN 10k", "C 100n", "H1 heater 12V 1A", "B1 button"]  # fmt: skip


@pytest.mark.parametrize("line", AGREES)
def test_a_name_that_may_well_be_meant_raises_no_alarm(line: str) -> None:
    assert identified(line).problems == ()


MARKED: list[tuple[str, dict[str, Any], dict[str, Any]]] = [
    ("R1", {"bands": ("brown", "black", "red", "gold")}, {"ohms": 1_000.0, "tolerance": 0.05}),
    ("R1 resistor", {"bands": ("yellow", "violet", "black", "brown", "brown")}, {"ohms": 4_700.0, "tolerance": 0.01}),
    ("R1 1k", {"bands": ("brown", "black", "red", "gold")}, {"ohms": 1_000.0}),
    ("R1 1k 1%", {"bands": ("brown", "black", "red", "gold")}, {"ohms": 1_000.0, "tolerance": 0.01}),
    ("C1", {"code": "104"}, {"farads": 1e-7}),
    ("C1 capacitor", {"code": "2A104J"}, {"farads": 1e-7, "voltage": 100.0}),
    ("C1 100n", {"code": "104K"}, {"farads": 1e-7}),
]


@pytest.mark.parametrize(("line", "marking", "values"), MARKED)
def test_bands_and_codes_give_the_value_or_confirm_it(line: str, marking: dict[str, Any], values: dict[str, Any]) -> None:
    found = identified(line, **marking)

    assert found.problems == ()
    assert values == {field: pytest.approx(getattr(found.entry, field)) for field in values}


CONTRARY: list[tuple[str, dict[str, Any], str, str]] = [
    ("R1 220", {"bands": ("brown", "black", "red", "gold")}, "value-contradicts-bands",
     "the bands brown black red gold are 1 kΩ, and 220 Ω is stated"),
    ("C1 10n", {"code": "104"}, "value-contradicts-bands", "the code 104 is 100 nF, and 10 nF is stated"),
    ("R1 220", {"bands": ("gold", "red", "red", "red")}, "bad-value", "gold is no digit; read the bands from the other end"),
    ("C1", {"code": "1O4"}, "bad-value", "'1O4' is no capacitor code; one looks like 104, 104K or 4n7"),
    ("C1 100n", {"bands": ("red", "red", "red")}, "bad-value", "bands are read on resistors, and C1 is a capacitor"),
    ("R1 220", {"code": "104"}, "bad-value", "a code is read on capacitors, and R1 is a resistor"),
]  # fmt: skip


@pytest.mark.parametrize(("line", "marking", "label", "message"), CONTRARY)
def test_a_marking_that_says_something_else_is_a_problem(line: str, marking: dict[str, Any], label: str, message: str) -> None:
    problem = identified(line, **marking).problems[0]

    assert (label, message) == (problem.label, problem.message)
    assert problem.of in marking


def test_a_value_that_contradicts_the_bands_stands_as_stated() -> None:
    found = identified("R1 220", bands=("brown", "black", "red", "gold"))

    assert found.entry is not None
    assert found.entry.ohms == 220.0  # type: ignore[union-attr]


def test_every_kind_of_the_library_is_itself_in_one_word_and_in_several() -> None:
    library = load_library()
    kinds = [entry for entry in library.entries.values() if entry.name == entry.name.lower()]
    for entry in kinds:
        for words in ([entry.name], entry.name.split(), entry.name.replace(" ", "-").split()):
            found = find_kind(tokens_of(words), "X1", library).entry
            assert found is entry, words


def test_every_alias_in_several_words_leads_to_its_entry_or_to_a_question() -> None:
    library = load_library()
    for entry in library.entries.values():
        for alias in entry.aliases:
            kind = find_kind(tokens_of(alias.split()), "X1", library)
            assert kind.entry is entry or (kind.problem is not None and kind.problem.label == "ambiguous-part"), alias


def test_every_entry_may_bear_its_own_letters() -> None:
    for entry in load_library().entries.values():
        assert all(agrees(f"{letter}1", entry) for letter in entry.letters), entry.name


def test_bands_that_read_from_both_ends_are_told() -> None:
    assert "the bands of R1 are read as 220 Ω; from the other end they would be 1.2 kΩ" in identified(
        "R1", bands=("red", "red", "brown")).assumed


@pytest.mark.parametrize(("line", "index"), [("R1 resistor 1k 9V", 2), ("M1 9 V motor banana", 3), ("R1 resister", 0)])
def test_a_problem_points_at_its_word(line: str, index: int) -> None:
    assert index == identified(line).problems[0].index


LIKELY = ["resistor", "1k", "led", "red", "motor", "9V", "stall", "324", "104", "-5", "0", "1kk", "PN2222A", "zener", "relay",
          "AC", "5mm", "µ", "4xAA", "battery", "x", "1/2W", "stall", "BC547B", "purple", "10m", "1e999", "٣", "²",
          ""]  # fmt: skip


@given(st.lists(st.sampled_from(LIKELY) | st.text(max_size=8), max_size=7), st.sampled_from(["R1", "C1", "Q7", "PUMP", "", "U1"]))
def test_no_words_whatever_bring_the_reader_down(words: list[str], name: str) -> None:
    for found in (identify(words, name=name, library=load_library()), identify_supply(words, load_library())):
        assert (found.entry is None) == bool(found.problems)
        assert all((0 if problem.of != "name" else -1) <= problem.index < max(1, len(words)) for problem in found.problems)


@given(st.lists(st.sampled_from(["red", "black", "gold", "pink", "teal"]), max_size=8), st.text(max_size=6))
def test_no_marking_whatever_brings_the_reader_down(bands: list[str], code: str) -> None:
    for marking in ({"bands": bands}, {"code": code}):
        found = identify(["1k"], name="R1", library=load_library(), **marking)

        assert found.entry is not None or found.problems
