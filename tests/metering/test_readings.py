"""What a meter shows on a circuit without power: by hand, and against equations solved apart from the project's own solver."""

from __future__ import annotations

from math import exp, inf

import pytest
from scipy.optimize import brentq

from checker.circuit.model import Circuit
from checker.examples import text_of
from checker.metering.dead import LEAST, MOST, USUAL
from checker.metering.meter import DIODE_AMPS, DIODE_VOLTS, STRONG_VOLTS
from checker.operating.fit import bipolar_model, junction_from
from parts_library.schema import Bipolar, Diode
from tests.metering.bench import circuit_of, shown

PARALLEL = """board half
part R1 10k in a5 a10
part R2 15k in b5 b10
part R3 1k  in c10 c15
"""
ROUND = """board half
part R1 4k7 in a1 a5
part R2 3k3 in b1 b9
part R3 2k2 in b5 c9
"""
MISTER = text_of("seed-tray-mister")
REGULATOR = """board half
part V1 7805 in g5 g6 g7 tab faces j
"""
SHAFT = """board half
part P1 pot 10k in b3 b4 b5
"""

# ── by hand ───────────────────────────────────────────────────────────────────────────────────────────────────────

BY_HAND = {
    # 10 kΩ · 15 kΩ / 25 kΩ
    "two beside each other": (PARALLEL, "d5", "d10", 6e3),
    # 6 kΩ + 1 kΩ
    "and one after them": (PARALLEL, "d5", "d15", 7e3),
    "the same strip": (PARALLEL, "d5", "e5", 0.0),
    "nothing between": (PARALLEL, "d5", "d20", inf),
    # (3.3 kΩ + 2.2 kΩ) · 4.7 kΩ / 10.2 kΩ
    "a way round by two others": (ROUND, "c1", "c5", 2534.3),
    # 9 V / 300 mA: a motor that stands still is its winding, not 9 V / 100 mA
    "a motor's winding": (MISTER, "PUMP.1", "PUMP.2", 30.0),
    "the motor across its own diode": (MISTER, "e12", "e18", 30.0),
    # 6 V / 1 A: a cold filament has a tenth of its hot resistance
    "a cold lamp": ("part LAMP lamp 6V 100mA\nwire LAMP.1 to @a\nwire LAMP.2 to @b\n", "LAMP.1", "LAMP.2", 6.0),
    "the wire from a pin to its resistor": (MISTER, "U1.D9", "c16", 0.0),
    "a supply whose leads are off": (MISTER, "L+", "L-", inf),
    "joined grounds": (MISTER, "U1.GND", "L-", 0.0),
    # some kilohms of divider inside (dead.DIVIDER_OHMS), which half a volt finds alone
    "a regulator's output to its ground": (REGULATOR, "f7", "f6", 5e3),
    "a potentiometer from end to end": (SHAFT, "c3", "c5", 10.02e3),
    "an open button": (text_of("dusk-lamp"), "b20", "b22", inf),
}


@pytest.mark.parametrize("case", BY_HAND)
def test_resistance_is_what_a_hand_computes(case: str) -> None:
    text, red, black, ohms = BY_HAND[case]

    assert shown(text, red, black) == pytest.approx(ohms, rel=1e-3)


@pytest.mark.parametrize(("case", "ohms"), [(LEAST, 1 / (1 / 9500 + 1 / 14250)), (MOST, 1 / (1 / 10500 + 1 / 15750))])
def test_the_band_is_that_of_the_tolerances(case: int, ohms: float) -> None:
    assert shown(PARALLEL, "d5", "d10", case=case) == pytest.approx(ohms, rel=1e-3)


def test_a_track_is_twenty_percent_off() -> None:
    """2 · 10 Ω of metal at the ends and 10 kΩ, less and more by the 20 % that carbon tracks are sold with."""
    assert shown(SHAFT, "c3", "c5", case=LEAST) == pytest.approx(0.8 * 10.02e3, rel=1e-3)
    assert shown(SHAFT, "c3", "c5", case=MOST) == pytest.approx(1.2 * 10.02e3, rel=1e-3)


HELD = {
    # a shaft at its end: the 10 Ω of metal there
    "a potentiometer that is turned to its end": (SHAFT, "c3", "c4", "ohms", ("P1", "0%"), 10.0),
    "a button that is pressed": (text_of("dusk-lamp"), "b20", "b22", "ohms", ("S1", "pressed"), 0.05),
    # with the motor off its diode, the diode is alone; with it there, 1 mA through 30 Ω is 30 mV
    "a diode beside a motor": (MISTER, "e12", "e18", "diode", ("", ""), 0.03),
    "the same with the motor's leads out": (MISTER, "e12", "e18", "diode", ("PUMP", "unplugged"), 0.57),
    "and the other way round": (MISTER, "e18", "e12", "diode", ("PUMP", "unplugged"), inf),
    # a sleeping controller's protection diode, from its ground up into the pin: 25.85 mV · ln(0.81 mA / 10 fA) + 10 Ω · 0.81 mA;
    # with the wire pulled out it is gone
    "from ground into a pin": (MISTER, "U1.GND", "U1.D9", "diode", ("", ""), 0.657),
    "the same with the wire out": (MISTER, "U1.GND", "U1.D9", "diode", ("U1.D9", "unplugged"), inf),
}


@pytest.mark.parametrize("case", HELD)
def test_what_the_hand_does_meanwhile_is_part_of_the_reading(case: str) -> None:
    text, red, black, kind, position, value = HELD[case]

    assert shown(text, red, black, kind, position=position) == pytest.approx(value, rel=0.02)  # type: ignore[arg-type]


# ── against equations of their own ────────────────────────────────────────────────────────────────────────────────

BESIDE_A_DIODE = "board half\npart R1 10k in a5 a10\npart D1 1N4148 in b5 b10 band b10\n"
LONE_TRANSISTOR = "board half\npart Q1 2N3904 in c10 c11 c12 flat faces a as E B C\npart R1 1k in b11 b16\n"


def entry_of(circuit: Circuit, key: str) -> object:
    return circuit.bench.parts[key].entry


@pytest.mark.parametrize(("open_volts", "case"), [(0.5, USUAL), (STRONG_VOLTS, LEAST)])
def test_a_resistor_beside_a_diode_reads_what_scipy_finds(open_volts: float, case: int) -> None:
    """One equation: what the meter gives at v is what the resistor and the diode take at v."""
    diode = entry_of(circuit_of(BESIDE_A_DIODE), "d1")
    assert isinstance(diode, Diode)
    model = junction_from(diode.forward)
    low = case == LEAST
    saturation = model.shifted(-0.05 if low else 0.0).saturation
    resistor, source = (9500.0 if low else 10e3), open_volts / 1e-5  # the 40 kΩ range

    def amps(volts: float) -> float:
        def missing(i: float) -> float:
            return saturation * (exp((volts - i * model.ohms) / model.slope) - 1) - i

        found: float = brentq(missing, -1e-9, volts / model.ohms)
        return found

    volts = brentq(lambda v: (open_volts - v) / source - v / resistor - amps(v), 1e-6, min(open_volts, 1.0))
    expected = volts / ((open_volts - volts) / source)

    assert shown(BESIDE_A_DIODE, "c5", "c10", case=case) == pytest.approx(expected, rel=1e-4)


def test_a_base_through_its_resistor_reads_what_scipy_finds() -> None:
    """Diode test from the far end of R1 to the emitter, the collector open: base current, and no collector current."""
    transistor = entry_of(circuit_of(LONE_TRANSISTOR), "q1")
    assert isinstance(transistor, Bipolar)
    model = bipolar_model(transistor)
    gain, reverse = model.gain[1], model.reverse_gain[1]

    # no current into the collector: what is transported forward is what the base-collector junction takes back
    def missing(base: float) -> float:
        forward = model.saturation * (exp(base / model.slope) - 1)
        backward = forward / (1 + 1 / reverse)
        through = (DIODE_VOLTS - base) / (DIODE_VOLTS / DIODE_AMPS + 1000.0 + model.base_ohms)
        return through - forward / gain - backward / reverse

    base = brentq(missing, 0.1, 1.0)
    amps = (DIODE_VOLTS - base) / (DIODE_VOLTS / DIODE_AMPS + 1000.0 + model.base_ohms)

    assert shown(LONE_TRANSISTOR, "c16", "c10", "diode") == pytest.approx(DIODE_VOLTS - amps * DIODE_VOLTS / DIODE_AMPS, abs=2e-3)
