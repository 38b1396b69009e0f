"""Worked examples of currents and voltages, copied by hand from handbooks and datasheets, each as a list in our language.

A row gives what the page computes or states, and how far the tool may be from it: ``rounding`` is half the last printed
digit (or the accuracy at which the page itself works, such as "0.7 V for silicon"), ``spread`` what separates the page's
ideal part from a real one, with the reason in ``why``. Quantities are told as ``amps R1``, ``volts Q1.C`` or ``volts A - B``.
Sources marked ``memory`` are written down from memory of the document.
"""

from __future__ import annotations

from typing import NamedTuple


class Expected(NamedTuple):
    """A quantity of the report and the range that the page allows, in volts or amps."""

    quantity: str
    low: float
    high: float


class Example(NamedTuple):
    """One worked example. ``state`` picks the state in which it holds, by its options; ``phase`` as in the report."""

    what: str
    source: str
    lines: str
    expected: tuple[Expected, ...]
    why: str
    state: tuple[tuple[str, str], ...] = ()
    phase: str = "steady"


def near(quantity: str, value: float, rounding: float, spread: float = 0.0) -> Expected:
    """The page's value, give or take its rounding and the stated spread of the model."""
    return Expected(quantity, value - rounding - spread, value + rounding + spread)


def between(quantity: str, low: float, high: float) -> Expected:
    """Two limits that the page states."""
    return Expected(quantity, low, high)


IDEAL = "ideal resistors and batteries; the list's supplies have 1 mΩ or less inside, which is far below the rounding"
DC = "T. R. Kuphaldt, Lessons In Electric Circuits, Volume I (DC)"
SEMI = "T. R. Kuphaldt, Lessons In Electric Circuits, Volume III (Semiconductors)"
TIMER = "Texas Instruments, NE555 Precision Timers, SLFS022A, revised September 2000, electrical characteristics"
DRIVER = "Toshiba, ULN2003,04APG/AFWG, 2006-06-14, page 4"

NETWORKS = (
    Example(
        what="series divider",
        source=f"{DC}, chapter 6, voltage divider circuits: 45 V, 2 mA, drops of 10 V, 20 V and 15 V",
        lines="""
supply B1 45V 0.001ohm
part R1 5k
part R2 10k
part R3 7k5
wire B1.+ to R1.1
wire R1.2 to R2.1
wire R2.2 to R3.1
wire R3.2 to B1.-
""",
        expected=(
            near("amps R1", 2e-3, 5e-7),
            near("volts R1.1 - R1.2", 10.0, 1e-4),
            near("volts R2.1 - R2.2", 20.0, 1e-4),
            near("volts R3.1 - R3.2", 15.0, 1e-4),
        ),
        why=IDEAL,
    ),
    Example(
        what="two batteries against each other",
        source=f"{DC}, chapter 10, branch current method: 5 A, 4 A and 1 A back into the second battery",
        lines="""
supply B1 28V 0.0001ohm
supply B2 7V 0.0001ohm
part R1 4ohm 200W
part R2 2ohm 200W
part R3 1ohm 200W
wire B1.+ to R1.1
wire R1.2 to R2.1 to R3.1
wire R3.2 to B2.+
wire R2.2 to B1.- to B2.-
""",
        expected=(
            near("amps R1", 5.0, 5e-4),
            near("amps R2", 4.0, 5e-4),
            near("amps R3", 1.0, 5e-4),
            near("amps B2", 1.0, 5e-4),
            near("volts R1.2 - B1.-", 8.0, 5e-4),
        ),
        why=IDEAL,
    ),
    Example(
        what="unbalanced bridge",
        source=(
            f"{DC}, chapter 10, mesh current method: node voltages 17.66 V and 19.31 V, five currents in tenths of a mA"
        ),
        lines="""
supply B1 24V 0.0001ohm
part R1 150 10W
part R2 50 10W
part R3 100 10W
part R4 300 10W
part R5 250 10W
wire B1.+ to R1.1 to R2.1
wire R1.2 to R3.2 to R4.1
wire R2.2 to R3.1 to R5.1
wire R4.2 to R5.2 to B1.-
""",
        expected=(
            near("amps R1", 42.299e-3, 5e-7),
            near("amps R2", 93.793e-3, 5e-7),
            near("amps R3", 16.552e-3, 5e-7),
            near("amps R4", 58.851e-3, 5e-7),
            near("amps R5", 77.241e-3, 5e-7),
            near("volts R4.1 - B1.-", 17.66, 5e-3),
            near("volts R5.1 - B1.-", 19.31, 5e-3),
        ),
        why=IDEAL,
    ),
    Example(
        what="two nodes and a battery the other way up",
        source=f"{DC}, chapter 10, node voltage method: E1 = 3.8095 V, E2 = -1.5476 V",
        lines="""
supply B1 10V 0.00001ohm
supply B2 4V 0.00001ohm
part R1 2ohm 200W
part R2 4ohm 200W
part R3 2.5ohm 200W
part R4 5ohm 200W
part R5 1ohm 200W
wire B1.+ to R1.1
wire R1.2 to R2.1 to R3.1
wire R3.2 to R4.1 to R5.1
wire R5.2 to B2.-
wire B1.- to R2.2 to R4.2 to B2.+
""",
        expected=(
            near("volts R2.1 - B1.-", 3.8095, 5e-5),
            near("volts R4.1 - B1.-", -1.5476, 5e-5),
        ),
        why=IDEAL,
    ),
    Example(
        what="battery with internal resistance",
        source="science-campus.com, DC theory, chapter 6.08, example 2a: 0.952 A, 9.52 V at the terminals",
        lines="""
supply B1 10V 0.5ohm
part R1 10ohm 20W
wire B1.+ to R1.1
wire R1.2 to B1.-
""",
        expected=(
            near("amps R1", 0.952, 5e-4),
            near("volts B1.+ - B1.-", 9.52, 5e-3),
        ),
        why=IDEAL,
    ),
    Example(
        what="battery with a light load",
        source="science-campus.com, DC theory, chapter 6.08, example 1: 2 Ω inside, 60 mA, 5.88 V",
        lines="""
supply B1 6V 2ohm
part R1 98ohm 1W
wire B1.+ to R1.1
wire R1.2 to B1.-
""",
        expected=(
            near("amps R1", 60e-3, 5e-4),
            near("volts B1.+ - B1.-", 5.88, 5e-3),
        ),
        why=IDEAL,
    ),
)

DIODES = (
    Example(
        what="LED on 6 V",
        source=f"{SEMI}, chapter 3, light-emitting diodes: 1.6 V at 20 mA wants 220 Ω on 6 V",
        lines="""
supply B1 6V 0.001ohm
part R1 220
part LED1 led red 1.6V
wire B1.+ to R1.1
wire R1.2 to LED1.A
wire LED1.K to B1.-
""",
        expected=(
            near("amps LED1", 20e-3, 5e-5),
            near("volts LED1.A - LED1.K", 1.6, 5e-3),
        ),
        why="the page's LED drops 1.6 V, and so does the list's",
    ),
    Example(
        what="LED on 24 V",
        source=f"{SEMI}, chapter 3, light-emitting diodes: 1.12 kΩ on 24 V for the same 20 mA, 448 mW in the resistor",
        lines="""
supply B1 24V 0.001ohm
part R1 1.12k 1W
part LED1 led red 1.6V
wire B1.+ to R1.1
wire R1.2 to LED1.A
wire LED1.K to B1.-
""",
        expected=(
            near("amps LED1", 20e-3, 5e-5),
            near("volts R1.1 - R1.2", 22.4, 5e-2),
        ),
        why="as before",
    ),
    Example(
        what="zener alone",
        source=f"{SEMI}, chapter 3, zener diodes: 45 V through 1000 Ω into 12.6 V is 32.4 mA",
        lines="""
supply B1 45V 0.001ohm
part R1 1k 2W
part D1 zener 12.6V 1W
wire B1.+ to R1.1
wire R1.2 to D1.K
wire D1.A to B1.-
""",
        expected=(
            near("amps R1", 32.4e-3, 5e-5, 0.3e-3),
            near("volts D1.K - D1.A", 12.6, 0.05, 0.3),
        ),
        why=(
            "the page's zener is exactly 12.6 V at any current; a real one has its voltage at a test current and 10 Ω of slope,"
            " 0.3 V from 5 to 32 mA"
        ),
    ),
    Example(
        what="zener with a load",
        source=f"{SEMI}, chapter 3, zener diodes: a 500 Ω load takes 25.2 mA and leaves 7.2 mA for the zener",
        lines="""
supply B1 45V 0.001ohm
part R1 1k 2W
part R2 500 1W
part D1 zener 12.6V 1W
wire B1.+ to R1.1
wire R1.2 to D1.K to R2.1
wire D1.A to R2.2 to B1.-
""",
        expected=(
            near("amps R2", 25.2e-3, 5e-5, 5e-5),
            near("amps D1", -7.2e-3, 5e-5, 1e-4),
            near("volts R2.1 - R2.2", 12.6, 0.05),
        ),
        why="7 mA is near the test current: 2 mA more through 10 Ω is 20 mV, 40 µA in the load and 60 µA in the zener",
    ),
    Example(
        what="zener that gets too little",
        source=f"{SEMI}, chapter 3, zener diodes: with 100 kΩ the 500 Ω load has only 224 mV, 447.76 µA",
        lines="""
supply B1 45V 0.001ohm
part R1 100k
part R2 500
part D1 zener 12.6V 1W
wire B1.+ to R1.1
wire R1.2 to D1.K to R2.1
wire D1.A to R2.2 to B1.-
""",
        expected=(
            near("volts R2.1 - R2.2", 0.224, 5e-4),
            near("amps R1", 447.76e-6, 5e-9),
        ),
        why="the zener carries nothing",
    ),
    Example(
        what="diode AND gate",
        source=(
            f"{SEMI}, chapter 3, diode switching circuits: one input at 0 V pulls the output of a 10 V gate down to 0.7 V"
        ),
        lines="""
supply B1 10V 0.001ohm
part R1 1k
part D1 1N4148
part D2 1N4148
wire B1.+ to R1.1 to D2.K
wire R1.2 to D1.A to D2.A
wire D1.K to B1.-
""",
        expected=(
            near("volts D1.A - B1.-", 0.7, 0.05),
            near("amps D2", 0.0, 1e-7),
        ),
        why="0.7 V is the page's round figure for silicon; the pull-up, which it leaves open, is taken for about 10 mA",
    ),
)

TRANSISTORS = (
    Example(
        what="LED switched by a transistor",
        source=(
            "Computer interfacing, doi 10.4324/9780080511580-19: 150 Ω for 20 mA from 5 V, 0.2 mA of base current through 22 kΩ"
        ),
        lines="""
supply B1 5V 0.001ohm
part R1 150
part R2 22k
part LED1 led red 2V
part Q1 BC547
wire B1.+ to R1.1 to R2.1
wire R1.2 to LED1.A
wire LED1.K to Q1.C
wire R2.2 to Q1.B
wire Q1.E to B1.-
""",
        expected=(
            near("amps LED1", 20e-3, 5e-4, 0.9e-3),
            near("amps Q1.B", 0.2e-3, 5e-6, 2e-6),
        ),
        why=(
            "the page takes the transistor as a short: its 0.1 to 0.25 V over 150 Ω (less what the LED gives back) is 0.9 mA; "
            "base-emitter voltage 0.7 V is rounded, 0.05 V over 22 kΩ is 2 µA"
        ),
    ),
    Example(
        what="base current of a relay driver",
        source=(
            "Physics 12, Punjab Curriculum and Textbook Board, numerical problem 18.2: 168 kΩ from 9 V gives 0.05 mA"
        ),
        lines="""
supply B1 9V 0.001ohm
part R1 168k
part R2 500
part Q1 BC547
wire B1.+ to R1.1 to R2.1
wire R2.2 to Q1.C
wire R1.2 to Q1.B
wire Q1.E to B1.-
""",
        expected=(
            near("amps R1", 0.05e-3, 5e-6),
        ),
        why="the page's gain of 200 is no figure of a real type, so that only the base current is held against it",
    ),
    Example(
        what="emitter follower",
        source=(
            f"{SEMI}, chapter 4, common-collector amplifier: 5 kΩ load, 15 V, 2.3 V at the base, the output is 0.7 V lower"
        ),
        lines="""
supply B1 15V 0.001ohm
supply B2 2.3V 0.001ohm
part R1 5k
part Q1 2N3904
wire B1.+ to Q1.C
wire B2.+ to Q1.B
wire Q1.E to R1.1
wire R1.2 to B1.- to B2.-
""",
        expected=(
            near("volts Q1.B - Q1.E", 0.7, 0.05, 0.09),
        ),
        why="0.7 V is silicon at some 10 mA; 60 mV a decade of current makes it 0.09 V less at 0.3 mA",
    ),
    Example(
        what="Darlington pair as a follower",
        source=f"{SEMI}, chapter 4, common-collector amplifier: a pair loses 1.4 V",
        lines="""
supply B1 15V 0.001ohm
supply B2 5V 0.001ohm
part R1 360
part Q1 2N3904
part Q2 2N3904
wire B1.+ to Q1.C to Q2.C
wire B2.+ to Q1.B
wire Q1.E to Q2.B
wire Q2.E to R1.1
wire R1.2 to B1.- to B2.-
""",
        expected=(
            near("volts Q1.B - Q2.E", 1.4, 0.05, 0.13),
        ),
        why="two drops of 0.7 V; the first transistor carries a hundredth of the second one's 10 mA, 0.12 V less",
    ),
    Example(
        what="Darlington in one case as a follower",
        source=f"{SEMI}, chapter 4, common-collector amplifier: a Darlington loses 1.4 V",
        lines="""
supply B1 15V 0.001ohm
supply B2 5V 0.001ohm
part R1 100 1W
part Q1 MPSA13
wire B1.+ to Q1.C
wire B2.+ to Q1.B
wire Q1.E to R1.1
wire R1.2 to B1.- to B2.-
""",
        expected=(
            near("volts Q1.B - Q1.E", 1.4, 0.05, 0.06),
        ),
        why="two drops of 0.7 V; 36 mA is below the 100 mA at which the type is specified, 60 mV a decade",
    ),
    Example(
        what="Darlington, saturated",
        source=(
            f"Semtech, MMBTA13, Rev. 01 of 16/03/2015: 1.5 V at most at 100 mA with 0.1 mA; {SEMI}, chapter 4: the first "
            "transistor feeds the second one's base, which keeps it one drop (0.6 V or more) from saturation"
        ),
        lines="""
supply B1 10V 0.001ohm
supply B2 20V 0.001ohm
part Q1 MPSA13
part R1 92ohm 5W
part R2 186k
wire B1.+ to R1.1
wire R1.2 to Q1.C
wire B2.+ to R2.1
wire R2.2 to Q1.B
wire B1.- to B2.- to Q1.E
""",
        expected=(
            between("volts Q1.C - Q1.E", 0.6, 1.5),
            near("amps Q1.C", 0.1, 5e-3),
        ),
        why="a limit of the sheet above, a law of the circuit below",
    ),
    Example(
        what="zener and follower as a supply",
        source=f"{SEMI}, chapter 4, common-collector amplifier: the load voltage is 0.7 V less than the zener's",
        lines="""
supply B1 20V 0.001ohm
part R1 680
part R2 220 1W
part D1 BZX79C12
part Q1 BD139
wire B1.+ to Q1.C to R1.1
wire R1.2 to D1.K to Q1.B
wire Q1.E to R2.1
wire R2.2 to D1.A to B1.-
""",
        expected=(
            near("volts D1.K - Q1.E", 0.7, 0.05),
            near("volts Q1.E - B1.-", 11.3, 0.05, 0.15),
        ),
        why="the zener has 12 V at 5 mA and stands 0.15 V higher at the 11 mA it gets here",
    ),
    Example(
        what="MOSFET switch with 10 V at the gate",
        source="NTE Electronics, 2N7000: 1.2 Ω typical, 5 Ω at most at 10 V and 500 mA",
        lines="""
supply B1 10V 0.001ohm
supply B2 10V 0.001ohm
part Q1 2N7000
part R1 19ohm 10W
wire B1.+ to R1.1
wire R1.2 to Q1.D
wire B2.+ to Q1.G
wire B1.- to B2.- to Q1.S
""",
        expected=(
            between("volts Q1.D - Q1.S", 0.46 * 1.2, 0.5 * 5.0),
        ),
        why="typical to maximum of the sheet; sheets of other makers lie between",
    ),
    Example(
        what="MOSFET switch with 4.5 V at the gate",
        source="Fairchild, 2N7000/2N7002/NDS7002A (memory): 0.14 V typical, 0.4 V at most at 4.5 V and 75 mA",
        lines="""
supply B1 10V 0.001ohm
supply B2 4.5V 0.001ohm
part Q1 2N7000
part R1 130ohm 2W
wire B1.+ to R1.1
wire R1.2 to Q1.D
wire B2.+ to Q1.G
wire B1.- to B2.- to Q1.S
""",
        expected=(
            between("volts Q1.D - Q1.S", 0.14, 0.4),
            near("amps Q1.D", 75e-3, 2e-3),
        ),
        why="typical to maximum of the sheet",
    ),
)

CHIPS = (
    Example(
        what="5 V regulator",
        source=(
            "Fairchild, LM78XX/LM78XXA, Rev. 1.3.1, 2006: 5.00 V, load regulation 50 mV at most, 5 mA (8 mA at most) of its own"
            " at 10 V in, 500 mA out"
        ),
        lines="""
supply B1 10V 0.001ohm
part U1 7805
part R1 10ohm 5W
wire B1.+ to U1.IN
wire U1.OUT to R1.1
wire B1.- to U1.GND to R1.2
""",
        expected=(
            near("volts U1.OUT - U1.GND", 5.0, 5e-3, 0.045),
            between("amps B1", -0.508, -0.5 * 0.99),
        ),
        why="load regulation of the sheet for 250 to 750 mA, 50 mV in all",
    ),
    Example(
        what="adjustable regulator for 8.5 V",
        source=(
            "STMicroelectronics, LM317L: VO = 1.25 V (1 + R2/R1) + IADJ R2; circuit-innovations.co.uk, LM317: 220 Ω and 1276 Ω "
            "for 8.5 V"
        ),
        lines="""
supply B1 12V 0.001ohm
part U1 LM317
part R1 220
part R2 1276
part R3 1k
wire B1.+ to U1.IN
wire U1.OUT to R1.1 to R3.1
wire R1.2 to R2.1 to U1.ADJ
wire R2.2 to R3.2 to B1.-
""",
        expected=(
            near("volts U1.OUT - B1.-", 8.5 + 50e-6 * 1276, 5e-3, 50e-6 * 1276),
            near("volts U1.OUT - U1.ADJ", 1.25, 5e-3),
        ),
        why="IADJ is 50 µA typical and 100 µA at most",
    ),
    Example(
        what="adjustable regulator for 5 V",
        source="smpstroubleshooting.com, adjustable power supply: R2 = 192 VO - 240 with R1 = 240 Ω, so 720 Ω for 5 V",
        lines="""
supply B1 12V 0.001ohm
part U1 LM317
part R1 240
part R2 720
part R3 100 1W
wire B1.+ to U1.IN
wire U1.OUT to R1.1 to R3.1
wire R1.2 to R2.1 to U1.ADJ
wire R2.2 to R3.2 to B1.-
""",
        expected=(
            near("volts U1.OUT - B1.-", 5.0, 5e-3, 100e-6 * 720),
        ),
        why="the page leaves IADJ R2 out: 100 µA at most, 0.07 V",
    ),
    Example(
        what="voltage to current, 5 V in",
        source=f"{SEMI}, chapter 8, voltage-to-current signal conversion: 5 V over 250 Ω is 20 mA whatever the load",
        lines="""
supply B1 24V 0.001ohm
supply B2 5V 0.001ohm
part U1 LM358
part R1 250 1/2W
part R2 500 1W
wire B1.+ to U1.V+
wire B2.+ to U1.IN1+
wire U1.OUT1 to R2.1
wire R2.2 to U1.IN1- to R1.1
wire R1.2 to U1.V- to B1.- to B2.-
""",
        expected=(
            near("amps R2", 20e-3, 5e-6),
        ),
        why="ideal amplifier; a gain of 100,000 is 0.2 mV of error",
    ),
    Example(
        what="voltage to current, 1 V in",
        source=f"{SEMI}, chapter 8, voltage-to-current signal conversion: 1 V over 250 Ω is 4 mA",
        lines="""
supply B1 24V 0.001ohm
supply B2 1V 0.001ohm
part U1 LM358
part R1 250
part R2 1k
wire B1.+ to U1.V+
wire B2.+ to U1.IN1+
wire U1.OUT1 to R2.1
wire R2.2 to U1.IN1- to R1.1
wire R1.2 to U1.V- to B1.- to B2.-
""",
        expected=(
            near("amps R2", 4e-3, 5e-6),
        ),
        why="as before, with another load",
    ),
    Example(
        what="non-inverting amplifier",
        source=f"{SEMI}, chapter 8, an analogy for divided feedback: equal resistors double the input",
        lines="""
supply B1 24V 0.001ohm
supply B2 6V 0.001ohm
part U1 LM358
part R1 1k
part R2 1k
wire B1.+ to U1.V+
wire B2.+ to U1.IN1+
wire U1.OUT1 to R2.1
wire R2.2 to U1.IN1- to R1.1
wire R1.2 to U1.V- to B1.- to B2.-
""",
        expected=(
            near("volts U1.OUT1 - B1.-", 12.0, 1e-3),
        ),
        why="ideal amplifier; a gain of 100,000 is 0.25 mV of error",
    ),
    Example(
        what="non-inverting summer",
        source=f"{SEMI}, chapter 8, averager and summer circuits: three inputs, 2 kΩ and 1 kΩ, the output is their sum",
        lines="""
supply B1 1V 0.001ohm
supply B2 2V 0.001ohm
supply B3 3V 0.001ohm
supply B4 15V 0.001ohm
part U1 LM358
part R1 10k
part R2 10k
part R3 10k
part R4 2k
part R5 1k
wire B4.+ to U1.V+
wire B1.+ to R1.1
wire B2.+ to R2.1
wire B3.+ to R3.1
wire R1.2 to R2.2 to R3.2 to U1.IN1+
wire U1.OUT1 to R4.1
wire R4.2 to R5.1 to U1.IN1-
wire R5.2 to U1.V- to B4.- to B1.- to B2.- to B3.-
""",
        expected=(
            near("volts U1.OUT1 - B4.-", 6.0, 1e-3),
            near("volts U1.IN1+ - B4.-", 2.0, 1e-3),
        ),
        why="ideal amplifier, as before",
    ),
    Example(
        what="timer, output high on 5 V",
        source=f"{TIMER}: 3.3 V typical, 2.75 V at least at 100 mA",
        lines="""
supply B1 5V 0.001ohm
part U1 NE555
part R1 33ohm 1W
wire B1.+ to U1.VCC to U1.RESET
wire U1.OUT to R1.1
wire B1.- to U1.GND to U1.TRIG to U1.THRES to R1.2
""",
        expected=(
            near("volts U1.OUT - U1.GND", 3.3, 0.05, 0.05),
            near("amps R1", 0.1, 5e-3),
        ),
        why="one straight line stands for the sheet's curves, 0.05 V",
        state=(("U1.OUT", "high"),),
    ),
    Example(
        what="timer, output high on 15 V",
        source=f"{TIMER}: 13.3 V typical, 12.75 V at least at 100 mA; control pin at 10 V",
        lines="""
supply B1 15V 0.001ohm
part U1 NE555
part R1 133ohm 5W
part C1 10nF
wire B1.+ to U1.VCC to U1.RESET
wire U1.OUT to R1.1
wire U1.CONT to C1.1
wire B1.- to U1.GND to U1.TRIG to U1.THRES to R1.2 to C1.2
""",
        expected=(
            near("volts U1.OUT - U1.GND", 13.3, 0.05, 0.05),
            near("volts U1.CONT - U1.GND", 10.0, 5e-2),
        ),
        why="as before",
        state=(("U1.OUT", "high"),),
    ),
    Example(
        what="timer, output low on 5 V",
        source=f"{TIMER}: 0.1 V typical at 5 mA, 0.15 V at 8 mA",
        lines="""
supply B1 5V 0.001ohm
part U1 NE555
part R1 610
wire B1.+ to U1.VCC to U1.RESET to U1.TRIG to U1.THRES to R1.1
wire U1.OUT to R1.2
wire B1.- to U1.GND
""",
        expected=(
            near("volts U1.OUT - U1.GND", 0.15, 5e-3, 0.01),
            near("amps R1", 8e-3, 5e-5),
        ),
        why="one straight line stands for the sheet's curves, 10 mV",
        state=(("U1.OUT", "low"),),
    ),
    *(Example(
        what=f"driver channel at {amps * 1000:.0f} mA",
        source=f"{DRIVER}: {most} V at most with {base * 1e6:.0f} µA; onsemi, MC1413 (memory): {typical} V typical",
        lines=f"""
supply B1 12V 0.001ohm
supply B2 24V 0.001ohm
part U1 ULN2003A
part R1 {ohms}ohm 10W
part R2 {base_ohms}
wire B1.+ to R1.1
wire R1.2 to U1.OUT1
wire B2.+ to R2.1
wire R2.2 to U1.IN1
wire B1.- to B2.- to U1.GND
""",
        expected=(
            between("volts U1.OUT1 - U1.GND", typical, most),
            near("amps R1", amps, amps / 40),
        ),
        why=(
            "typical of the maker that states least to maximum of all; 2.7 kΩ inside and about 1.4 V leave R2 for the base "
            "current"
        ),
    )
      for amps, base, ohms, base_ohms, typical, most in (
          (0.35, 500e-6, 31, "42k5", 1.1, 1.6), (0.2, 350e-6, 55, "61k9", 0.95, 1.3), (0.1, 250e-6, 110.5, "87k7", 0.85, 1.1))),
    Example(
        what="input current of a driver channel",
        source="onsemi, ULN2003A (memory): 0.93 mA typical, 1.35 mA at most at 3.85 V",
        lines="""
supply B1 12V 0.001ohm
supply B2 3.85V 0.001ohm
part U1 ULN2003A
part R1 100 5W
wire B1.+ to R1.1
wire R1.2 to U1.OUT1
wire B2.+ to U1.IN1
wire B1.- to B2.- to U1.GND
""",
        expected=(
            near("amps U1.IN1", 0.93e-3, 5e-6, 0.1e-3),
        ),
        why="2.7 kΩ as the sheet has it; two drops of 1.25 to 1.5 V leave 0.1 mA open",
    ),
    Example(
        what="optocoupler in its active range",
        source=(
            "Avago, 4N35: 10 mA at least at 10 mA and 10 V; figure 4 ends at a transfer ratio of 180 %; 1.2 V typical, 1.5 V at"
            " most at the LED"
        ),
        lines="""
supply B1 10V 0.001ohm
supply B2 5V 0.001ohm
part U1 4N35
part R1 380
wire B2.+ to R1.1
wire R1.2 to U1.A
wire U1.K to B2.-
wire B1.+ to U1.C
wire U1.E to B1.-
""",
        expected=(
            between("amps U1.C", 10e-3, 18e-3),
            between("volts U1.A - U1.K", 1.15, 1.5),
            near("amps U1.A", 10e-3, 5e-5),
        ),
        why="limits of the sheet",
    ),
    Example(
        what="optocoupler, saturated",
        source=(
            "Sharp, PC817 Series: 0.1 V typical, 0.2 V at most at 1 mA with 20 mA in; 1.2 V typical, 1.4 V at most at the LED"
        ),
        lines="""
supply B1 5V 0.001ohm
supply B2 5V 0.001ohm
part U1 PC817
part R1 190
part R2 4k9
wire B2.+ to R1.1
wire R1.2 to U1.A
wire U1.K to B2.-
wire B1.+ to R2.1
wire R2.2 to U1.C
wire U1.E to B1.-
""",
        expected=(
            near("volts U1.C - U1.E", 0.1, 0.05),
            between("volts U1.A - U1.K", 1.15, 1.4),
            near("amps R2", 1e-3, 5e-5),
        ),
        why="limits of the sheet",
    ),
    Example(
        what="optocoupler with 5 mA",
        source="Sharp, PC817 Series: transfer ratio 50 to 600 % at 5 mA and 5 V",
        lines="""
supply B1 5V 0.001ohm
supply B2 5V 0.001ohm
part U1 PC817
part R1 770
wire B2.+ to R1.1
wire R1.2 to U1.A
wire U1.K to B2.-
wire B1.+ to U1.C
wire U1.E to B1.-
""",
        expected=(
            between("amps U1.C", 2.5e-3, 30e-3),
            near("amps U1.A", 5e-3, 5e-5),
        ),
        why="limits of the sheet",
    ),
    Example(
        what="controller pin at its recommended current",
        source="Microchip, ATmega328P (memory): 4.2 V at least at 20 mA from 5 V",
        lines="""
part U1 controller-5v
part R1 220
wire U1.D9 to R1.1
wire R1.2 to U1.GND
pin U1.D9 output
""",
        expected=(
            between("volts U1.D9 - U1.GND", 4.2, 4.9),
            near("amps R1", 20e-3, 1e-3),
        ),
        why="limit of the sheet; USB gives 5.0 V less its cable",
        state=(("U1.D9", "high"),),
    ),
)

COILS = (
    Example(
        what="relay coil, contact and diode",
        source=f"{SEMI}, chapter 3, inductor commutating circuits: the open contact sees the battery and about 0.7 V",
        lines="""
supply B1 12V 0.001ohm
part S1 button
part K1 relay-12v
part D1 1N4001
wire B1.+ to S1.1
wire S1.3 to K1.A1 to D1.K
wire K1.A2 to B1.- to D1.A
""",
        expected=(
            near("volts S1.1 - S1.3", 12.7, 0.05),
        ),
        why="0.7 V is the page's round figure for silicon",
        phase="switch-off",
    ),
    Example(
        what="relay coil, transistor and diode",
        source=f"{SEMI}, chapter 3, inductor commutating circuits: the switch sees the battery and about 0.7 V",
        lines="""
supply B1 12V 0.001ohm
supply B2 5V 0.001ohm
part S1 button
part K1 relay-12v
part Q1 2N2222A
part R1 1k
part R2 10k
part D1 1N4001
wire B2.+ to S1.1
wire S1.3 to R1.1
wire R1.2 to Q1.B to R2.1
wire B1.+ to K1.A1 to D1.K
wire K1.A2 to Q1.C to D1.A
wire B1.- to Q1.E to B2.- to R2.2
""",
        expected=(
            near("volts Q1.C - Q1.E", 12.7, 0.05),
        ),
        why="0.7 V is the page's round figure for silicon",
        phase="switch-off",
    ),
    Example(
        what="capacitor across a coil",
        source="Zollege, Exams, question 48: 6.4 mH and 100 µF, 12 V of the one are 1.5 A of the other (L I² = C V²)",
        lines="""
supply B1 30V 0.001ohm
part U1 controller-5v
part L1 solenoid 30V 1.5A 6.4mH
part C1 film capacitor 100uF 100V
part Q1 IRLZ44N
part R1 10k
wire B1.+ to L1.1 to C1.1
wire L1.2 to Q1.D to C1.2
wire B1.- to Q1.S to R1.2 to U1.GND
wire U1.D9 to Q1.G to R1.1
pin U1.D9 output
""",
        expected=(
            between("volts Q1.D - Q1.S", 29.9, 30.0 + 12.0),
        ),
        why="a bound: the coil's own resistance only lowers the peak",
        phase="switch-off",
    ),
)

EXAMPLES: tuple[Example, ...] = (*NETWORKS, *DIODES, *TRANSISTORS, *CHIPS, *COILS)

# A list whose report tells the peak: 6.4 mH and 100 µF have 8 Ω between them, the 12 V for 1.5 A of the example.
PEAK_SOURCE = "Zollege, Exams, question 48: 100 µF at 12 V and 6.4 mH make 1.5 A, 7.2 mJ"
PEAK_VOLTS, PEAK_AMPS, PEAK_JOULES = 12.0, 1.5, 7.2e-3
PEAK_LIST = """
supply B1 30V 0.001ohm
supply B2 24V 0.001ohm
part S1 button
part L1 solenoid 30V 1.5A 6.4mH
part C1 film capacitor {capacitor} 100V
part Q1 TIP31
part R1 560 2W
part R2 1k
wire B2.+ to S1.1
wire S1.3 to R1.1
wire R1.2 to Q1.B to R2.1
wire B1.+ to L1.1 to C1.1
wire L1.2 to Q1.C to C1.2
wire B1.- to Q1.E to R2.2 to B2.-
"""
