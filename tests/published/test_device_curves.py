"""Devices behave as their datasheets' tables and typical curves say, each by itself between the instruments of a bench.

A current is forced through pins or a supply is put to them, and voltages and currents are read. Limits (at most, at
least) are from the electrical characteristics of the sheets named. Typical values are read from curves by eye: where a
row says so, they are from memory, with the spread that such curves have.
"""

from __future__ import annotations

from collections.abc import Sequence

import pytest

from checker.operating.corners import BY_NAME
from checker.operating.netlist import Netlist
from checker.operating.points import Point
from checker.operating.solving import Solved, solve_at
from checker.survey import wire_up
from parts_library import load_library

LIBRARY = load_library()
Currents = Sequence[tuple[str, str, float]]


class Bench:
    """A solved circuit with currents forced: out of one pin of a part, into another, in amps."""

    def __init__(self, text: str, part: str = "", currents: Currents = (), corner: str = "nominal",
                 state: dict[str, str] | None = None) -> None:
        self.circuit = wire_up("board half\n" + text, LIBRARY).circuits[0]

        def attach(netlist: Netlist, number: int) -> None:
            for leaves, enters, amps in currents:
                netlist.add("forced", part, (leaves, enters), amps=amps)

        self.solved: Solved = solve_at([self.circuit], [[Point(state or {}, BY_NAME[corner])]], attach=attach)[0]
        assert self.solved.fine.all()

    def volts(self, part: str, plus: str, minus: str) -> float:
        net = self.circuit.pin_net
        return float(self.solved.nets[0, net[part, plus]] - self.solved.nets[0, net[part, minus]])

    def amps(self, part: str, pin: str) -> float:
        return float(self.solved.amps[0, self.solved.netlist.pins[part, pin]])


FORWARD = [
    # part as written, amps, least volts, most volts, source
    ("1N4148", 0.001, 0.55, 0.67, "memory of the typical curve, 0.6 V"),
    ("1N4148", 0.010, 0.66, 1.00, "at most 1 V: Diotech 1N4148 / 1N4448"),
    ("1N4148", 0.100, 0.85, 1.05, "memory of the typical curve, 0.9 to 1 V"),
    ("1N4001", 0.010, 0.62, 0.74, "memory of the typical curve, 0.65 to 0.7 V"),
    ("1N4001", 0.100, 0.72, 0.84, "memory of the typical curve, 0.75 to 0.8 V"),
    ("1N4001", 1.000, 0.88, 1.10, "at most 1.1 V: Diofit 1N4001~1N4007, Rev. 2013A"),
    ("1N5819", 0.100, 0.25, 0.38, "memory of the typical curve, 0.3 V"),
    ("1N5819", 1.000, 0.40, 0.60, "at most 0.6 V: Diodes Incorporated DS23001"),
    ("1N5819", 3.000, 0.60, 0.90, "at most 0.9 V: Diodes Incorporated DS23001, from memory"),
    ("led red", 0.002, 1.65, 1.90, "memory of the typical curve of a WP7113ID, 1.75 V"),
    ("led red", 0.010, 1.80, 2.00, "memory of the typical curve of a WP7113ID, 1.9 V"),
    ("led red", 0.020, 1.90, 2.50, "2.0 V typical, 2.5 V at most: WP7113ID, Kingbright, from memory"),
    ("led green", 0.002, 1.80, 2.05, "memory of the typical curve of a WP7113GD, 1.9 V"),
    ("led green", 0.010, 1.95, 2.20, "memory of the typical curve of a WP7113GD, 2.05 V"),
    ("led green", 0.020, 2.10, 2.50, "2.2 V typical, 2.5 V at most: WP7113GD, Kingbright, from memory"),
    ("led blue", 0.002, 2.60, 2.95, "memory of typical curves of InGaN lamps, 2.8 V"),
    ("led blue", 0.010, 2.90, 3.20, "memory of typical curves of InGaN lamps, 3.0 V"),
    ("led blue", 0.020, 3.10, 4.00, "3.3 V typical, 4.0 V at most: common InGaN lamps of 5 mm, from memory"),
]


@pytest.mark.parametrize(("part", "amps", "least", "most", "source"), FORWARD)
def test_forward_voltage(part: str, amps: float, least: float, most: float, source: str) -> None:
    mark = "long a5" if part.startswith("led") else "band a10"
    bench = Bench(f"part D1 {part} in a5 a10 {mark}\n", "d1", [("K", "A", amps)])

    assert least <= bench.volts("d1", "A", "K") <= most, source


SATURATION = [
    # part, collector amps, base amps, most volts collector-emitter, least and most volts base-emitter, source
    ("2N2222A", 0.150, 0.015, 0.30, 0.60, 1.20, "P2N2222A/D, ON Semiconductor, Rev. 7"),
    ("2N2222A", 0.500, 0.050, 1.00, 0.60, 2.00, "P2N2222A/D, ON Semiconductor, Rev. 7"),
    ("2N3904", 0.010, 0.001, 0.20, 0.65, 0.85, "2N3904, Micro Commercial Components"),
    ("2N3904", 0.050, 0.005, 0.30, 0.60, 0.95, "2N3904, Micro Commercial Components"),
    ("BC547", 0.010, 0.0005, 0.25, 0.60, 0.80, "BC546/D, onsemi: 0.25 V at most, VBE(sat) 0.7 V typical"),
    ("BC547", 0.100, 0.005, 0.60, 0.80, 1.10, "BC546/D, onsemi: 0.6 V at most, VBE(sat) 0.9 V typical"),
    ("TIP120", 3.000, 0.012, 2.00, 1.20, 2.50, "TIP120/D, ON Semiconductor: VCE(sat) 2 V, VBE(on) 2.5 V at most, from memory"),
]


@pytest.mark.parametrize(("part", "collector", "base", "vce", "vbe_least", "vbe_most", "source"), SATURATION)
def test_saturation_voltages(part: str, collector: float, base: float, vce: float, vbe_least: float, vbe_most: float,
                             source: str) -> None:
    bench = Bench(f"part Q1 {part} collector a5, base a6, emitter a7\n", "q1", [("E", "C", collector), ("E", "B", base)])

    # a typical part is below the guaranteed limit, but not by an order of magnitude
    assert 0.1 * vce <= bench.volts("q1", "C", "E") <= vce, source
    assert vbe_least <= bench.volts("q1", "B", "E") <= vbe_most, source


GAIN = [
    # part, collector amps, guaranteed gain (at least), source
    ("2N2222A", 0.150, 100.0, "P2N2222A/D, ON Semiconductor, Rev. 7: 100 to 300 at 150 mA"),
    ("2N2222A", 0.500, 40.0, "P2N2222A/D, ON Semiconductor, Rev. 7: 40 at 500 mA"),
    ("2N3904", 0.010, 100.0, "2N3904, Micro Commercial Components: 100 to 300 at 10 mA"),
    ("2N3904", 0.050, 60.0, "2N3904, Micro Commercial Components: 60 at 50 mA"),
    ("2N3904", 0.100, 30.0, "2N3904, Micro Commercial Components: 30 at 100 mA"),
    ("BC547", 0.002, 110.0, "BC546/D, onsemi: 110 to 800 at 2 mA"),
]


@pytest.mark.parametrize(("part", "collector", "gain", "source"), GAIN)
def test_the_weakest_transistor_has_about_the_guaranteed_gain(part: str, collector: float, gain: float, source: str) -> None:
    text = (f"part Q1 {part} collector a5, base a6, emitter a7\nsupply PS bench-supply 5V limit 3A on L+ L-\n"
            "wire L+ to b5\nwire L- to b7\n")
    bench = Bench(text, "q1", [("E", "B", collector / gain)], "supply-low")

    # between half and twice: what is guaranteed at one current is no curve
    assert bench.amps("q1", "C") == pytest.approx(collector, rel=0.6), source


def test_gain_falls_where_only_typical_gains_say_so() -> None:
    """BC546/D, onsemi, typical gain of group B: 290 at 2 mA, 120 at 100 mA (in the library's words)."""
    text = ("part Q1 BC547 collector a5, base a6, emitter a7\nsupply PS bench-supply 5V limit 3A on L+ L-\n"
            "wire L+ to b5\nwire L- to b7\n")

    assert Bench(text, "q1", [("E", "B", 0.002 / 290.0)]).amps("q1", "C") == pytest.approx(0.002, rel=0.05)
    assert Bench(text, "q1", [("E", "B", 0.1 / 120.0)]).amps("q1", "C") == pytest.approx(0.1, rel=0.05)


ON_RESISTANCE = [
    # part, gate volts, drain amps, most ohms, source
    ("2N7000", 10.0, 0.500, 5.0, "2N7000, Vishay Siliconix 70226"),
    ("2N7000", 4.5, 0.075, 6.0, "2N7000 / BS170L, Calogic: 5.3 ohm; with the highest threshold an eighth more is let pass"),
    ("BS170", 10.0, 0.200, 5.0, "BS170, Vishay Siliconix 70226"),
    ("IRLZ44N", 4.0, 1.0, 0.035, "IRLZ44N, International Rectifier, from memory"),
    ("IRLZ44N", 10.0, 1.0, 0.022, "IRLZ44N, International Rectifier, from memory"),
    ("IRF540N", 10.0, 1.0, 0.0445, "IRF540N, International Rectifier: 44 milliohm, from memory"),
]


@pytest.mark.parametrize("corner", ["nominal", "supply-low"])
@pytest.mark.parametrize(("part", "gate", "drain", "most", "source"), ON_RESISTANCE)
def test_on_resistance(part: str, gate: float, drain: float, most: float, source: str, corner: str) -> None:
    # the supply of the gate is 5 % low in that corner; the sheet's gate voltage is kept
    volts = gate / 0.95 if corner == "supply-low" else gate
    text = (f"part Q1 {part} drain a5, gate a6, source a7\nsupply PS bench-supply {volts}V on L+ L-\n"
            "wire L+ to b6\nwire L- to b7\n")
    ohms = Bench(text, "q1", [("S", "D", drain)], corner).volts("q1", "D", "S") / drain

    assert 0.2 * most <= ohms <= 1.01 * most, source


def test_a_ten_volt_mosfet_on_three_volts_may_stay_off_or_conduct() -> None:
    """IRF540N: threshold 2 to 4 V at 250 uA (International Rectifier). At 3.3 V on the gate the one with 4 V is off, the one
    with 2 V carries amps."""
    text = ("part Q1 IRF540N drain a5, gate a6, source a7\npart R1 10 in b5 b12\nsupply PS bench-supply 3.3V limit 5A on L+ L-\n"
            "wire L+ to a12\nwire L+ to b6\nwire L- to b7\n")

    assert Bench(text, corner="supply-low").amps("q1", "D") < 250e-6
    assert Bench(text, corner="supply-high").volts("q1", "D", "S") < 0.2


@pytest.mark.parametrize(("part", "rows", "least", "most", "source"), [
    ("4N35", "5-7", 1.0, 3.0, "4N35: current transfer at least 100 % at 10 mA, 10 V"),
    ("PC817", "5-6", 0.5, 6.0, "PC817, Sharp: 50 to 600 % at 5 mA, 5 V"),
])
def test_current_transfer_of_an_optocoupler(part: str, rows: str, least: float, most: float, source: str) -> None:
    """Its lamp on one supply, its transistor on another, nothing joining the two."""
    emitter, collector = ("j7", "j6") if part == "4N35" else ("j6", "j5")
    text = (f"part U1 {part} across {rows} dot e5\nsupply A bench-supply 5V on L+ L-\nsupply B bench-supply 10V on R+ R-\n"
            f"part R1 390 in a5 a12\nwire L+ to b12\nwire L- to a6\nwire R+ to {collector}\nwire R- to {emitter}\n")
    for corner in ("nominal", "supply-low", "supply-high"):
        bench = Bench(text, corner=corner)

        assert 0.95 * least <= bench.amps("u1", "C") / bench.amps("u1", "A") <= 1.05 * most, source
        assert abs(bench.volts("b", "-", "-")) < 1.0


REGULATOR = "part V1 7805 in a5 a6 a7 as IN GND OUT\n"


@pytest.mark.parametrize(("volts", "least", "most"), [(12.0, 4.8, 5.2), (8.0, 4.8, 5.2), (6.5, 4.2, 4.9), (5.5, 3.2, 4.0)])
def test_a_regulator_drops_out(volts: float, least: float, most: float) -> None:
    """LM340/LM7805, Texas Instruments: 4.8 to 5.2 V, dropout 2 V typical at 1 A; half an amp here, 1.5 to 2 V."""
    text = f"{REGULATOR}supply PS bench-supply {volts}V limit 2A on L+ L-\nwire L+ to b5\nwire L- to b6\n"

    assert least <= Bench(text, "v1", [("OUT", "GND", 0.5)]).volts("v1", "OUT", "GND") <= most


def test_a_regulator_is_fed_backwards_through_its_own_transistor() -> None:
    """Makers' application notes on the LM7800 series: with 5 V at OUT and IN open, IN stands one diode drop below."""
    bench = Bench(f"{REGULATOR}supply PS bench-supply 5V on L+ L-\nwire L+ to b7\nwire L- to b6\n")

    assert 4.0 <= bench.volts("v1", "IN", "GND") <= 4.6


def test_a_regulator_without_ground_lets_its_input_through() -> None:
    """LM7800 series, Texas Instruments, application hints: with the ground pin open the output rises to the input, less the
    pass transistor's drop (some 1 to 2 V)."""
    text = f"{REGULATOR}part R1 1k in b7 b12\nsupply PS bench-supply 12V on L+ L-\nwire L+ to b5\nwire L- to a12\n"
    bench = Bench(text)

    assert 9.5 <= bench.volts("r1", "1", "2") <= 11.5


@pytest.mark.parametrize(("wires", "volts"), [
    ("wire c5 to c7\n", 2.495),
    ("part R3 10k in c5 c7\npart R4 10k in d5 d6\n", 4.99),
])
@pytest.mark.parametrize("ohms", [220, 1000, 2200])
def test_a_shunt_reference_holds_its_voltage_from_one_to_thirty_milliamps(wires: str, volts: float, ohms: int) -> None:
    """TL431, Texas Instruments SLVS543: 2.495 V, 2.44 to 2.55 V, 0.2 to 0.5 ohm; Vka = Vref (1 + R1 / R2)."""
    text = (f"part U1 TL431 in a5 a6 a7 as REF A K\npart R1 {ohms} in b7 b12\nsupply PS bench-supply 9V on L+ L-\n"
            f"wire L+ to a12\nwire L- to b6\n{wires}")

    assert Bench(text).volts("u1", "K", "A") == pytest.approx(volts, rel=0.01)


def test_a_shunt_reference_that_is_driven_on_stays_at_two_volts() -> None:
    """TL431 as a comparator: the cathode does not fall below some 2 V (SLVS543, application section, from memory)."""
    text = ("part U1 TL431 in a5 a6 a7 as REF A K\npart R1 1k in b7 b12\nsupply PS bench-supply 9V on L+ L-\n"
            "supply REFS bench-supply 4V on R+ R-\nwire L+ to a12\nwire L- to b6\nwire L- to R-\nwire R+ to b5\n")

    assert 1.6 <= Bench(text).volts("u1", "K", "A") <= 2.2


@pytest.mark.parametrize(("rail", "least", "most"), [("+", 3.3, 3.9), ("-", 0.0, 0.05)])
def test_an_op_amp_reaches_its_rails_as_far_as_its_sheet_says(rail: str, least: float, most: float) -> None:
    """LM358, Texas Instruments SLOS068: at 5 V the output reaches V+ less 1.5 V, and 5 to 20 mV above ground with 10 k."""
    text = (f"part U1 LM358 across 5-8 dot e5\nsupply PS bench-supply 5V on L+ L-\nwire L+ to j5\nwire L- to a8\n"
            f"wire a7 to L{rail}\nwire b6 to b5\npart R1 10k in c5 L-\n")

    assert least <= Bench(text).volts("r1", "1", "2") <= most


@pytest.mark.parametrize(("amps", "least", "most"), [(0.1, 0.7, 1.1), (0.2, 0.8, 1.3), (0.35, 0.9, 1.6)])
def test_a_driver_array_saturates(amps: float, least: float, most: float) -> None:
    """ULN2003A, Texas Instruments SLRS027: VCE(sat) 0.9, 1.0, 1.2 V typical, 1.1, 1.3, 1.6 V at most."""
    text = ("part U1 ULN2003A across 5-12 dot e5\npart R2 1k in j5 j20\nsupply PS bench-supply 5V on L+ L-\nwire L+ to a5\n"
            "wire L- to a12\n")

    assert least <= Bench(text, "u1", [("GND", "OUT1", amps)]).volts("u1", "OUT1", "GND") <= most


@pytest.mark.parametrize(("state", "leaves", "enters", "top", "bottom", "most"), [
    ("high", "OUT1", "GND", "VCC2", "OUT1", 1.8),
    ("low", "VCC2", "OUT1", "OUT1", "GND", 1.8),
])
def test_a_bridge_drops_volts_on_both_sides(state: str, leaves: str, enters: str, top: str, bottom: str, most: float) -> None:
    """L293D, Texas Instruments SLRS008: 1.4 V high and 1.2 V low typical at 0.6 A, 1.8 V at most."""
    text = ("part U1 L293D across 5-12 dot e5\npart R1 10k in a7 a20\nsupply A bench-supply 12V limit 2A on L+ L-\n"
            "supply B bench-supply 5V on R+ R-\nwire L+ to a12\nwire L- to a8\nwire R+ to j5\nwire R- to L-\n")

    assert 0.9 <= Bench(text, "u1", [(leaves, enters, 0.6)], state={"U1.OUT1": state}).volts("u1", top, bottom) <= most
