"""Lines as students paste them: sentences, messages of a chat, rows of a table. What is reasonable is read; the rest is
refused with the word that is missing or in the way. Nothing else becomes of a line."""

from __future__ import annotations

import pytest

from grammar import read
from tests.grammar.plain_tree import statements

R1 = "Part(name='R1', words=['220'], place=PlacedIn(points=[a5 a10]))"
R1_OHM = "Part(name='R1', words=['220 ohm'], place=PlacedIn(points=[a5 a10]))"
LED1 = ("Part(name='LED1', words=['red'], place=PlacedIn(points=[e5 e6]), "
        "marks=[MarkAt(mark=long, point=e5) MarkAt(mark=short, point=e6)])")  # fmt: skip
D1 = ("Part(name='D1', words=['1N4001'], place=PlacedIn(points=[d12 d18]), "
      "marks=[MarkAt(mark=anode, point=d12) MarkAt(mark=cathode, point=d18)])")  # fmt: skip
C1 = ("Part(name='C1', words=['100uF'], place=PlacedIn(points=[a3 a5]), "
      "marks=[MarkAt(mark=plus, point=a3) MarkAt(mark=minus, point=a5)])")  # fmt: skip
Q1 = "Part(name='Q1', words=['2N2222'], place=PlacedIn(points=[c10 c11 c12]), claim=Claim(pins=['E' 'B' 'C']))"
S1 = ("Part(name='S1', words=['button'], place=PlacedAcross(first_row=10, last_row=12, left_column=e, "
      "right_column=f))")  # fmt: skip
BAT = "Supply(name='BAT', words=['9V'], terminals=[L+ L-])"
D9_TO_A16 = "Wire(points=[U1.D9 a16])"
A5_TO_B7 = "Wire(points=[a5 b7])"
U1 = "part U1 controller-5v\n"

# What the last line says, and the spellings that say it.
READ: dict[str, tuple[str, ...]] = {
    R1: (
        "R1 220 a5 -> a10",
        "R1 220 a5 to a10",
        "R1 220 goes from a5 to a10",
        "R1 220, one leg in a5, the other leg in a10",
        "R1 220 in a5, other leg in a10",
        "R1 220 legs: a5, a10",
        "R1 220 [a5, a10]",
        "R1,220,a5,a10",
        "part,R1,220,a5,a10",
        "R1\t220\ta5\ta10",
        "| R1 | 220 | a5 | a10 |",
        "- **R1**: 220, a5 → a10",
        "- [x] R1 220 a5 a10",
        "(1) R1 220 a5 a10",
        "a) R1 220 a5 a10",
        "> R1 220 a5 a10",
        "[10:32] R1 220 from a5 to a10",
        "10:32 pm - R1 220 from a5 to a10",
        "and then R1 220 in a5 a10",
        "Then I put R1 220 in a5 and a10.",
    ),
    R1_OHM: ("R1 220 ohm: a5 to a10", "a 220 ohm R1 from a5 to a10", "R1 is a 220 ohm in a5 a10"),
    "Part(name='R1', words=['220 ohm' 'resistor'], place=PlacedIn(points=[a5 a10]))": (
        "220 ohm resistor R1 from a5 to a10",
        "a 220 ohm resistor R1 from a5 to a10",
        "R1 is a 220 ohm resistor from a5 to a10",
    ),
    "Part(name='R1', place=PlacedIn(points=[a5 a10]), bands=['red' 'red' 'brown' 'gold'])": (
        "R1 (red red brown gold) in a5 a10",
        "R1 red, red, brown, gold a5 a10",
    ),
    LED1: (
        "LED1 (red): long leg in e5, short leg in e6",
        "LED1 red, long leg in e5 and short leg in e6",
        "LED1 red, its long leg goes to e5, the short one to e6",
        "LED1 red, long=e5, short=e6",
    ),
    D1: (
        "D1 1N4001, anode in d12, cathode in d18",
        "D1 1N4001 anode d12 cathode d18",
        "D1 1N4001: anode to d12, cathode to d18",
    ),
    C1: ("C1 100uF + in a3, - in a5", "C1 100uF, plus leg a3, minus leg a5", "C1 100uF positive a3 negative a5"),
    "Part(name='C1', words=['100uF'], place=PlacedIn(points=[a3 a5]), marks=[MarkAt(mark=stripe, point=a5)])": (
        "C1 100uF in a3 a5, white stripe at a5",
        "C1 100uF in a3 a5 with the grey stripe at a5",
    ),
    Q1: (
        "Q1 2N2222: emitter c10, base c11, collector c12",
        "Q1 2N2222 emitter to c10, base to c11, collector to c12",
        "Q1 2N2222: E c10, B c11, C c12",
    ),
    S1: (
        "button S1 across the gap rows 10 to 12",
        "button S1 across the gap, rows 10 to 12",
        "button S1 across the middle in rows 10-12",
        "button S1 over the gap between 10 and 12",
        "button S1 straddles rows 10-12",
        "S1: button across the channel, rows 10 and 12",
    ),
    BAT: (
        "battery BAT 9V + to the red rail, - to the blue rail",
        "battery BAT 9V: red to L+, black to L-",
        "battery BAT 9V, black wire to L-, red wire to L+",
        "battery BAT 9V + goes to red rail, - goes to blue rail",
        "9V battery BAT on L+ and L-",
        "9V battery BAT: plus to L+, minus to L-",
        "supply BAT 9V L+ L-",
    ),
    A5_TO_B7: (
        "wire a5 into b7",
        "a5 goes into b7",
        "a5 is plugged into b7",
        "a5 ==> b7",
        "wire goes from a5 to b7",
        "wire connecting a5 and b7",
        "wire row 5 column a to row 7 column b",
        "wire from column a, row 5 to column b, row 7",
        "a wire from a5 to b7",
        "a5 is connected to b7",
        "a5 connects to b7",
        "a5 goes to b7",
        "then we connect a5 to b7",
        "please connect a5 with b7",
        "wire 3: a5 to b7",
        "Wire 1 from a5 to b7",
        "wire a5 <-> b7",
        "wire,a5,b7",
    ),
    "Wire(points=[a5 b7], colour=red)": ("connect the red wire from a5 to b7", "connect a5 with b7 with a red wire"),
    "Wire(points=[a5 R-])": ("wire a5 to the right-hand ground rail", "wire a5 to the ground rail (right)",
                             "wire a5 to the minus rail on the right", "wire a5 to the - rail on the right side"),
    D9_TO_A16: (
        U1 + "connect pin D9 of U1 to a16",
        U1 + "connect D9 of U1 to a16",
        U1 + "connect U1 pin D9 to a16",
        U1 + "wire from U1 pin D9 to a16",
        U1 + "wire U1:D9 to a16",
        U1 + "wire U1(D9) to a16",
        U1 + "wire U1 (D9) to a16",
    ),
    "Wire(points=[a5 U2.3])": ("wire a5 to pin 3 of U2", "wire a5 to U2 pin 3"),
    "Wire(points=[a5 L-])": (
        "wire a5 to the negative power rail",
        "wire a5 to the -ve rail",
        "wire a5 to the left-hand ground rail",
        "wire a5 to ground rail (left)",
        "wire a5 to L- rail",
        "wire a5 to the rail L-",
    ),
    "PinRole(pins=[U1.D9], roles=[output])": (
        "pin D9 of U1 is an output",
        "pin U1 pin D9 output",
        "U1.D9 output",
        "U1.D9 is an output",
        "U1.D9 = OUTPUT",
        "pin U1.D9 digital output",
        "pin U1.D9 is set as an output pin",
        "pin U1.D9 mode output",
    ),
    "PinRole(pins=[U1.D2], roles=[input pullup])": (
        "pin U1.D2 input with pull-up",
        "pin U1.D2 input with internal pullup",
        "pin U1.D2 is an input with its internal pull-up resistor on",
        "pin U1.D2 input pull up",
        "pin U1.D2 INPUT PULLUP",
        "U1.D2 INPUT_PULLUP",
    ),
    "PinRole(pins=[U1.A0], roles=[analog])": ("pin U1.A0 analogue", U1 + "pin U1 A0 is analog"),
    "PinRole(pins=[U1.D4], roles=[unused])": ("pin U1.D4 not used",),
    "Part(name='C2', words=['ceramic'], place=PlacedIn(points=[a3 a5]), code='104')": (
        "part C2 ceramic 104 in a3 a5",
        "C2 104 ceramic a3 a5",
    ),
    "Part(name='C1', words=['0,1µF'], place=PlacedIn(points=[a3 a5]))": ("C1 0,1µF in a3 a5", "C1: 0,1µF, a3 a5"),
    "Part(name='C1', words=['100 u'], place=PlacedIn(points=[a3 a5]))": ("C1 100 u in a3 a5",),
    "Supply(name='P', words=['9V'], terminals=[L+ L-])": ("supply P 9V on left+ left-", "supply P 9V + on L+ and - on L-"),
    "Supply(name='P', words=['9V'], terminals=[R+ R-])": ("supply P 9V on right+ and right-",),
    "Wire(points=[B.+ b3])": ("supply B 9V\nwire B+ to b3", "supply B 9V\nB+->b3", "supply B 9V\nwire B + to b3"),
    "Wire(points=[A.- L-])": ("part A motor 9V\nwire A- to L-",),
    "Board(size=half)": ("board 400", "breadboard: 400 points", "board: half-size breadboard"),
    "Board(size=full, rails=split)": ("board 830 holes, rails split in the middle",),
    "Expect(subject=?LED1, verb=lit, conditions=[Condition(subject=?S1, state=pressed)])": (
        "expect the LED1 to light when S1 is pressed",
        "expect LED1 should light when S1 is pressed",
    ),
    "Expect(subject=a10, verb=at, bound=Bound(low=4.5, high=5.5, unit=V))": ("expect a10 to be 5V",),
}


@pytest.mark.parametrize(("tree", "line"), [(tree, line) for tree, lines in READ.items() for line in lines])
def test_a_pasted_line_is_read(tree: str, line: str) -> None:
    assert tree == statements(line)[-1]


@pytest.mark.parametrize("line", ["Parts:", "**Wires:**", "Wiring", "connections:", "parts list:", "| --- | --- |"])
def test_a_heading_says_nothing(line: str) -> None:
    assert [] == statements(line)


# The line, the words at fault, the label, and what could be put in their place.
REFUSED = [
    ("220 ohm resistor from a5 to a10", "from", "name-expected", "R1 from"),
    ("There is a 470 ohm resistor from b7 to b12", "from", "name-expected", "R1 from"),
    ("the red LED's long leg goes to e5, the short one to e6", "leg", "name-expected", None),
    ("led red in e5 e6 long e5", "in", "name-expected", "LED1 in"),
    ("9V battery on L+ and L-", "on", "name-expected", None),
    ("battery + to the red rail, - to the blue rail", "+", "name-expected", None),
    ("battery 9V on L+ L-", "9V", "name-is-value", "PACK 9V"),
    ("BAT 9V on L+ L-", "BAT", "statement-unknown", "supply BAT"),
    ("PUMP is a 9V motor, 100mA", "PUMP", "statement-unknown", "part PUMP"),
    ("PUMP runs when U1.D9 high", "PUMP", "statement-unknown", "expect PUMP"),
    ("LED1: anode in e5, cathode in e6", "LED1", "kind-missing", None),
    ("R1: 220Ω, a5–a10", "a5–a10", "hole-astray", "in a5 a10"),
    ("R1 220 a5/a10", "a5/a10", "hole-astray", "in a5 a10"),
    ("U2 NE555 rows 10-13 notch top", "rows", "hole-astray", None),
    ("U2 NE555 pin 1 at e10", "pin 1 at e10", "place-missing", None),
    ("LED1 red, long leg in e5", "long leg in e5", "place-missing", None),
    ("R1 220 between row 5 and row 10", "5", "hole-without-column", None),
    ("R1 220 from b7 to GND", "GND", "rail-unclear", None),
    ("supply PACK 9V on VCC GND", "VCC", "rail-unclear", None),
    ("D1 1N4007 from a5 (anode) to a10 (cathode)", "a5 (anode) to a10 (cathode)", "mark-behind-its-hole", "a5 and a10 anode a5"),
    ("LED1: led red: c12 (long) -> c14 (short)", "c12 (long) -> c14 (short)", "mark-behind-its-hole", "in c12 c14 long c12"),
    ("R1 - 220 - b7 b12", "- 220 - b7 b12", "dash-astray", "220 b7 b12"),
    ("LED1 - led red - in c12, c14", "- led red - in c12, c14", "dash-astray", "led red in c12, c14"),
    ("part Q5 BC547 c24=C c25=B c26=E", "c24=C c25=B c26=E", "hole-and-pin", "in c24 c25 c26 as C B E"),
    ("part Q4 BC547 in h20 h21 h22 CBE flat faces j", "CBE", "letters-astray", "as C B E"),
    ("part Q3 2N3904 in h10 h11 h12 (E B C) flat faces j", "E", "letters-astray", "as E"),
    ("part R5 ten k in c21 c25", "ten k", "number-in-words", "10k"),
    ("part R1 220 in b7/b12", "b7/b12", "hole-astray", "b7 b12"),
    ("supply PACK 9V on L+/L-", "L+/L-", "hole-astray", "L+ L-"),
    ("wire L+/a7", "L+/a7", "wire-has-one-end", "L+ to a7"),
    ("wire a14 nach L-", "nach", "word-between", "to"),
    ("Draht von L+ to a7", "Draht von", "first-word-missing", "wire"),
    ("fil rouge L+ to a7", "fil rouge", "first-word-missing", "wire"),
    ("wire L+ to a7 and a14 to L-", " and ", "two-wires", None),
    ("wire L+ to a7, wire a14 to L-", "wire", "two-wires", None),
    ("part R1 220 in b7 b12 -- was 470", "--", "comment-mark", "#"),
    ("board half ; the small one", ";", "comment-mark", "#"),
    ("part LED1 led red in c12 c14; long c12", ";", "comment-mark", None),
    ("wire to a5", "to", "first-end-missing", None),
    ("part LED1 led red in \u044112 c14", "\u044112", "other-alphabet", "c12"),
    ("supply PACK 9V max 500mA on L+ L-", "max", "misspelt", "limit"),
    ("supply 9V on L+ L-", "9V", "name-is-value", "PACK 9V"),
    ("supply 9V PACK on L+ L-", "9V PACK", "name-is-value", "PACK 9V"),
    ("part 220 R1 in b7 b12", "220 R1", "name-is-value", "R1 220"),
    ("part 4k7 in b5 b9", "4k7", "name-is-value", "R1 4k7"),
    ("battery is a 9V block, its plus goes to L+ and its minus goes to L-",
     "battery is a 9V block, its plus goes to L+ and its minus goes to L-", "supply-unnamed", None),
    ("wire top + rail to b21", "top + rail", "rail-unclear", None),
    ("wire L+ to R+\nwire red rail 7 to a7", "red rail 7", "rail-side-unclear", None),
    ("expect LED1 carries 5mA to 15", "15", "bound-without-unit", "15mA"),
    ("expect LED1 carries 5 to 15mA when S1", "", "state-expected", None),
    ("expect a10 at 5", "5", "bound-without-unit", "5V"),
    ("servo SV1: red to L+, brown to L-", "L+", "hole-astray", None),
    ("W1: a5 to b7", "W1", "first-word-missing", "wire"),
    ("W1: wire a5 to b7", "W1", "first-word-missing", "wire"),
    ("W3: U1.D9 to a16", "W3", "first-word-missing", "wire"),
    ("red: a5 -> b7", "red", "first-word-missing", "wire"),
    ("short wire e5 to f5", "short wire", "first-word-missing", "wire"),
    ("bridge e5 to f5", "bridge", "first-word-missing", "wire"),
    ("a5 b7", "a5", "first-word-missing", "wire a5"),
    ("U1.D9: a16", "U1.D9", "first-word-missing", "wire U1.D9"),
    ("U1 D9 -> a16", "U1", "first-word-missing", "wire U1"),
    ("U1 pin D9 output", "U1 pin D9", "first-word-missing", "pin U1.D9"),
    ("U1.D9 high", "U1.D9", "first-word-missing", "pin U1.D9"),
    ("U1.D9: PWM", "U1.D9", "first-word-missing", "pin U1.D9"),
    ("U1 D9 output", "U1 D9", "first-word-missing", "pin U1.D9"),
    ("D9 is an output", "D9", "first-word-missing", "pin D9"),
    ("U1 5V -> positive rail", "U1", "first-word-missing", "wire U1"),
    ("from U1.D9 to a16", "from", "first-word-missing", "wire from"),
    (U1 + "wire pin 13 to a5", "pin 13", "pin-without-part", "U1.D13"),
    (U1 + "wire digital pin 9 to a5", "digital pin 9", "pin-without-part", "U1.D9"),
    (U1 + "pin 9 output", "9", "pin-without-part", "U1.D9"),
    ("pin U1.D9 analog output", "analog output", "misspelt", "pwm"),
    ("pin U1.D2 input without pull-up", "without", "not-understood", None),
    ("pin U1.D2 input with external pull-up", "with", "not-understood", None),
    ("supply P 9V on the left rails", "left rails", "rail-unclear", "L+ L-"),
    ("supply P 9V on right power rails", "right power rails", "rail-unclear", "R+ R-"),
    ("part U2 NE555 in e10..e13 f13..f10", "e10..e13 f13..f10", "hole-astray", "e10 e11 e12 e13 f13 f12 f11 f10"),
    ("Q1 2N2222 in c10 c11 c12 curved side facing right", "curved", "round-side", None),
    ("LED1 led red in d12 (long leg) and d14", "d12 (long leg) and d14", "mark-behind-its-hole", "d12 d14 long leg d12"),
    ("BAT 9 volt battery, red to left plus, black to left minus", "red", "name-expected", None),
    ("LED1 should light when S1 is pressed", "LED1", "first-word-missing", "expect LED1"),
    ("U1 is powered by usb", "U1 is powered", "first-word-missing", "power U1"),
    (U1 + "wire U1-D9 to a16", "U1-D9", "misspelt", "U1.D9"),
    (U1 + "wire U1/D9 to a16", "U1/D9", "misspelt", "U1.D9"),
    ("Hi, my LED does not light", "Hi", "statement-unknown", None),
    ("pinMode(9, OUTPUT);", "pinMode", "statement-unknown", None),
]


@pytest.mark.parametrize(("text", "words", "label", "suggestion"), REFUSED)
def test_a_pasted_line_is_refused_with_the_way_out(text: str, words: str, label: str, suggestion: str | None) -> None:
    (problem,) = read(text).problems
    line = text.rsplit("\n", maxsplit=1)[-1]

    assert (label, suggestion) == (problem.label, problem.suggestion)
    assert words == line[problem.span.column - 1 : problem.span.end_column - 1]


@pytest.mark.parametrize(("text", "words", "suggestion"), [(t, w, s) for t, w, _, s in REFUSED if s])
def test_the_line_with_the_suggestion_in_place_is_read(text: str, words: str, suggestion: str) -> None:
    before, line = text.rpartition("\n")[::2]

    assert () == read(f"{before}\n{line.replace(words, suggestion, 1)}").problems
