"""Outputs of which only one is active, and outputs that follow their inputs: which states are looked at."""

from __future__ import annotations

from pathlib import Path

import pytest

from checker.operating.operate import Operating
from checker.survey import survey
from parts_library import load_library
from parts_library.logic import evaluate
from parts_library.schema import Chip

CLEAR = Path(__file__).parents[1] / "clear"

DIGITS = ("abcdef", "bc", "abdeg", "abcdg", "bcfg", "acdfg", "cdefg", "abc", "abcdefg", "abcfg", *[""] * 6)
"""The segments that a CD4511 lights for the codes 0 to 15: no tails on 6 and 9, blank above 9 (function table of the Fairchild
data sheet DS005991, from memory)."""


def _solved(name: str) -> Operating:
    return survey([(CLEAR / f"{name}.legs").read_text("utf-8")], load_library())[0].operatings[0]


def test_never_more_than_one_output_of_a_ring_counter_is_high_and_each_is_once() -> None:
    operating = _solved("counter-ten-lamps-on-a-coin-cell")
    outputs = [f"U1.Q{number}" for number in range(10)]

    high = {tuple(name for name in outputs if point.state[name] == "high") for point in operating.points}
    assert {(), *((name,) for name in outputs)} == high


def test_a_decoder_pulls_the_output_low_that_its_inputs_say() -> None:
    operating = _solved("decoder-lamps-one-shared-resistor")

    low = {(point.state["U1.D2"], point.state["U1.D3"],
            *(name for name in ("U2.Y0", "U2.Y1", "U2.Y2") if point.state[name] == "low"))
           for point in operating.points if point.phase == "steady"}
    assert {("low", "low", "U2.Y0"), ("high", "low", "U2.Y1"), ("low", "high", "U2.Y2"), ("high", "high")} == low


@pytest.mark.parametrize("code", range(16))
def test_a_digit_shows_what_four_switches_say(code: int) -> None:
    """Switches are nothing that the outputs could be worked out from beforehand: they are found by solving."""
    operating = _solved("digit-decoder-set-by-switches")
    wanted = {f"S{bit + 1}": ("open", "closed")[code >> bit & 1] for bit in range(4)}

    shown = {"".join(letter for letter in "abcdefg" if point.state[f"U1.S{letter.upper()}"] == "high")
             for point in operating.points if all(point.state[name] == option for name, option in wanted.items())}
    assert {DIGITS[code]} == shown


def test_a_relay_behind_a_decoder_pulls_in_with_its_output() -> None:
    operating = _solved("decoder-drives-eight-relays")

    pairs = {(point.state[f"U2.Y{number}"], point.state[f"K{number}"]) for point in operating.points
             for number in range(8) if point.phase == "steady" and point.corner.name == "nominal"}
    assert {("low", "released"), ("high", "pulled-in")} == pairs


SHOWN = {"74LS48": (*DIGITS[:10], "deg", "cdg", "bfg", "adfg", "defg", ""),
         "CD4543": (*DIGITS[:6], "acdefg", *DIGITS[7:9], "abcdfg", *[""] * 6)}
"""74LS48: signs for 10 to 14, blank at 15 (Texas Instruments SDLS111, from memory). CD4543: tails on 6 and 9 (from memory)."""


@pytest.mark.parametrize(("name", "code"), [(name, code) for name in SHOWN for code in range(16)])
def test_the_functions_of_other_digit_decoders_show_their_digits(name: str, code: int) -> None:
    entry = load_library().entries[name]
    assert isinstance(entry, Chip)
    levels = {"LT": 1, "BI": {"74LS48": 1, "CD4543": 0}[name], "RBI": 1, "PH": 0,
              **{letter: code >> bit & 1 for bit, letter in enumerate("ABCD")}}

    lit = [pin for pin, function in zip(entry.outputs[0].pins, entry.outputs[0].follows)
           if evaluate(function, levels.__getitem__) & 1]
    assert SHOWN[name][code] == "".join(sorted(pin[1:].lower() for pin in lit))
