"""The one table of what cannot be read: label, sentence, what would be read, and the smallest lists that cause it.

The reader names its errors from this table, and a test reads every example and asserts that it gets its own label. A
row with ``where`` is found by the grammar: it names the error when all those terminals of ``legs.lark`` could have come
next (the last row that fits: further down is more particular). The others are raised by name where they are found.

Sentences are plain, without a period, in the words of the board; ``{found}`` is the author's own word.
"""

from __future__ import annotations

from msgspec import Struct

_RAILS = ("L+", "L-", "R+", "R-")
_POINTS = ("a hole such as a12", "a rail such as L+", "NAME.PIN")


class Row(Struct, frozen=True):
    """One kind of problem: its sentence, what was expected, at least two smallest examples, and the terminals that
    could have come next where the grammar finds it."""

    say: str
    examples: tuple[str, ...]
    expected: tuple[str, ...] = ()
    where: frozenset[str] = frozenset()


def _where(*terminals: str) -> frozenset[str]:
    return frozenset(terminals)


PROBLEMS: dict[str, Row] = {
    # ── the text ────────────────────────────────────────────────────────────────────────────────────────────────────
    "text-too-long": Row(
        "the list is longer than {limit}, so the rest of it was not read",
        (("#" + "-" * 999 + "\n") * 1001, "wire a1 to b1\n" + (" " * 1500 + "\n") * 700),
    ),
    "too-many-lines": Row(
        "the list has more than {limit} lines, so the rest of it was not read", ("\n" * 5001, "#\n" * 6000)
    ),
    "line-too-long": Row(
        "this line is longer than {limit} characters, so it was not read", ("# " + "x" * 2000, "wire " * 500)
    ),
    "no-list": Row(
        "this file is not text, so there is no list in it",
        ("\x00\x01\x02 wire a5 to b7\n" * 20, "MZ\x90\x00\x03" + "\x00\x00L+" * 60),
    ),
    "not-text": Row(
        "this line holds characters that are not text, so the file may not be a list",
        ("wire a5 to \x00b7", "\x01\x02\x03"),
    ),
    # ── points, names and values ──────────────────────────────────────────────────────────────────────────────────────
    "name-expected": Row(
        "a name is due where {found} stands",
        ("part", "supply", "power", "keep", "keep A apart from", "resistor 220 in b5 b9"),
        ("a name such as R1 or PUMP",),
        _where("NAME"),
    ),
    "supply-unnamed": Row(
        "a supply is told by its name, its voltage and where plus and minus go; write supply PACK 9V on L+ L-",
        ("The battery is a 9V block, its plus goes to L+ and its minus goes to L-", "battery is 9V on L+ and goes to L-"),
        ("supply PACK 9V on L+ L-",),
    ),
    "dash-astray": Row(
        "{found} between the words of a part is read as to; leave it out",
        ("R1 - 220 - b7 b12", "LED1 - led red - in c12, c14 - long c12", "supply PACK - 5V - L+ - L-"),
        ("a blank",),
    ),
    "other-alphabet": Row(
        "{found} has a letter of another alphabet that looks the same; type {suggestion} anew",
        ("part LED1 led red in \u044112 c14 long c12", "part R1 220 in b7 \u044112"),
        ("a letter from a to j",),
    ),
    "value-expected": Row(
        "a value is due where {found} stands",
        (
            "part C1 code",
            "supply PACK 9V limit",
            "supply PACK 9V limit on L+ L-",
        ),
        ("a value such as 2A or 104",),
        _where("AMOUNT"),
    ),
    "value-unreadable": Row(
        "{found} {reason}",
        ("supply PACK 9V limit 2kk on L+ L-", "expect a10 at 5Q", "expect a10 at 4kk5 to 5V"),
        ("a value with its unit, such as 2A",),
    ),
    "colour-expected": Row(
        "{found} is no colour of a band",
        ("part R1 bands in b5 b9", "part R1 bands red violt brown gold in b5 b9", "part R1 bands 4 7"),
        ("black", "brown", "red", "orange", "yellow", "green", "blue", "violet", "grey", "white", "gold", "silver"),
        _where("COLOUR"),
    ),
    "point-expected": Row(
        "a hole, a rail or a pin is due where {found} stands",
        (
            "wire",
            "wire a5 to",
            "wire red",
            "a5 ->",
            "part R1 220 in",
            "part R1 220 in flat",
            "part R1 220 in banana",
            "pin",
            "expect",
            "supply PACK 9V on",
        ),
        _POINTS,
        _where("HOLE", "PIN", "NODE"),
    ),
    # ── the statement ───────────────────────────────────────────────────────────────────────────────────────────────
    "misspelt": Row(
        "{found} is not a word of the language here; the nearest is {suggestion}",
        (
            "wrie a5 to b7",
            "prt Q1 PN2222A in c10 c11 c12",
            "part D1 1N4001 in d12 d18 bandd d18",
            "part Q1 PN2222A in c10 c11 c12 flat facs a",
            "suply PACK 9V on L+ L-",
        ),
    ),
    "two-statements": Row(
        "a line holds one statement, and another begins after {found}",
        ("wire a5 to b7; wire b8 to c9", "part R1 220 in b5 b9; R2 330 in c5 c9"),
        ("a new line",),
    ),
    "comment-mark": Row(
        "what stands after {found} is no part of the line; a comment begins with #",
        ("part R1 220 in b5 b9 -- was 470", "wire a5 to b7 -- red", "part R1 220; in b5 b9", "board half ; the small one"),
        ("# before a comment",),
    ),
    "two-wires": Row(
        "two wires stand in one line; write wire {first}, and wire {second} in a line of its own",
        ("wire a5 to b7 and c9 to d11", "wire a5 to b7, wire c9 to d11", "wire L+ to a7 and a14 to L-"),
        ("a line for each wire",),
    ),
    "statement-unknown": Row(
        "no statement begins with {found}",
        ("hello", "this is my greenhouse", "PUMP motor 9V 100mA", "(", "=5"),
        ("part", "wire", "supply", "board", "title", "by", "power", "pin", "keep", "expect"),
        _where("DESIGNATOR"),
    ),
    "first-word-missing": Row(
        "a line that {what} begins with {word}",
        (
            "W1: a5 to b7",
            "a5 b7",
            "short wire e5 to f5",
            "U1 D9 -> a16",
            "U1.D9: a16",
            "LED1 should light when S1 is pressed",
            "U1 is powered by usb",
            "U1.D9 high",
            "U1 D9 output",
            "D9 is an output",
        ),
        ("wire a5 to b7", "expect LED1 lit when S1 pressed", "pin U1.D9 pwm", "power U1 usb"),
    ),
    "name-is-value": Row(
        "{value} is a value, and a name comes first",
        ("supply 9V on L+ L-", "part 220 in b5 b9", "part 4k7 in b5 b9"),
        ("a name such as R1 or PACK",),
    ),
    "name-has-a-dot": Row(
        "{found} is no name, as a dot stands between a name and its pin",
        ("part R1.5 220 in b5 b9", "supply P.1 9V on L+ L-"),
        ("a name without a dot",),
    ),
    "name-is-reserved": Row(
        "{found} is no name here, as L and R are the sides of the board",
        ("part L motor 9V", "supply R 9V on L+ L-"),
        ("a longer name such as L1",),
    ),
    "title-empty": Row("the text is missing after {before}", ("title", "by", 'title ""'), ('"…"',), _where("TEXT")),
    "board-size-expected": Row(
        "a board is mini (17 rows, no rails), half (30 rows) or full (63 rows), and {found} is none of them",
        ("board", "board large", "board TOP rails split", "board half mini"),
        ("mini", "half", "full"),
        _where("SIZE", "RAILS", "NAME"),
    ),
    # ── points ──────────────────────────────────────────────────────────────────────────────────────────────────────
    "hole-without-column": Row(
        "{found} is a row without its column, so it could be any of several holes",
        ("part R1 220 in 5 12", "part P1 pot 10k in c10 11 12", "wire 5 to b7", "part R1 220 in b5 12"),
        ("a hole such as a{found}",),
    ),
    "column-unknown": Row(
        "{found} is no hole, as the columns are a to j",
        ("part R1 220 in k12 b5", "wire z5 to a1", "part Q1 PN2222A in c10 c11 c12 flat faces m"),
        ("a column from a to j",),
    ),
    "row-unknown": Row(
        "{found} is no hole, as rows count from 1",
        ("wire a0 to b7", "part R1 220 in b5 b0", "wire L+0 to a5"),
        ("a row from 1 up",),
    ),
    "rail-unclear": Row(
        "which rail {found} means is not clear; write L+ or L- (left of column a), R+ or R- (right of column j)",
        ("wire top rail to a5", "part R1 220 in b5 rail", "supply PACK 9V on left rail", "wire power rail to a5"),
        _RAILS,
    ),
    "rail-side-unclear": Row(
        "{found} could be on either side, as both pairs of rails are in use; write {choice}",
        ("wire L+ to R+\nwire red rail to a5", "supply A 9V on L+ L-\nsupply B 5V on R+ R-\nwire blue rail to b5"),
        _RAILS,
    ),
    "hole-or-part": Row(
        "{found} is the name of a part here and could be a hole; write {suggestion} if the hole is meant",
        (
            "part D1 1N4001 in d12 d18 band d18\npart R1 1k in D1 a5",
            "supply B1 9V on L+ L-\npart R1 220 in b5 B1",
            "part C1 100n in a5 a7\nsupply B1 9V on C1 L-",
        ),
        ("the hole in lower case", "the hole that the leg of the other part is joined to"),
    ),
    "hole-or-pin": Row(
        "{found} reads like a pin of {other} and could be a hole; write {suggestion} if the hole is meant",
        ("part U1 controller-5v\npart R1 220 in D9 a16", "power U1 usb\npart R1 220 in A3 L-"),
        ("the hole in lower case", "a hole, and a wire from there to the pin"),
    ),
    "pin-without-part": Row(
        "{found} does not say which part the pin is on; a pin is written with the name of its part, such as {such}",
        ("part U1 controller-5v\nwire pin 13 to a5", "part U1 controller-5v\nwire digital pin 9 to a5", "wire pin D13 to a5"),
        ("NAME.PIN",),
    ),
    "wire-has-one-end": Row(
        "a wire joins at least two points, and only {found} is named",
        ("wire a5", "red wire from b7", "wire L+12"),
        _POINTS,
    ),
    "first-end-missing": Row(
        "the first end of the wire is missing before {found}", ("wire to a5", "wire -> a5", "red wire to b7"), _POINTS
    ),
    "word-between": Row(
        "{found} between two points is not read", ("wire a5 nach b7", "wire L+ \u00e0 a7", "wire a5 then b7"), ("to",)
    ),
    "wire-to-itself": Row(
        "both ends of this wire are {found}", ("wire a5 to a5", "wire U1.D9 to u1.d9"), ("two different points",)
    ),
    # ── parts ───────────────────────────────────────────────────────────────────────────────────────────────────────
    "kind-missing": Row(
        "what {found} is has not been said",
        ("part R1 in b5 b9", "part Q1", "supply PACK on L+ L-"),
        ("a part number, a kind such as motor, or a value such as 4k7",),
    ),
    "hole-astray": Row(
        "what {found} means here is not clear",
        ("part R1 220 b11", "part R1 220 in b11 b16 band b11 c12", "part U2 NE555 10-13"),
        ("in before the holes of the legs", "across before rows", "a mark such as band before a hole"),
    ),
    "letters-astray": Row(
        "{found} stands alone; the pins in the holes are named after as",
        ("part Q1 PN2222A in c10 c11 c12 E B C", "part D1 1N4001 in d12 d18 A K"),
        ("as E B C",),
    ),
    "number-in-words": Row(
        "{found} is a number in words", ("part R5 ten k in c21 c25", "part R1 two kilo in b5 b9"), ("a number such as 10k",)
    ),
    "pole-alone": Row(
        "only one of the two terminals of {found} is placed",
        ("supply PACK 9V plus on L+", "supply PACK 9V minus L-"),
        ("on L+ L-", "plus L+ minus L-"),
    ),
    "placed-twice": Row(
        "the place of {found} is given more than once",
        ("part U2 NE555 across 10-13 across 20-23", "part U2 NE555 in e10 f10 across 10-13"),
        ("one place: in … or across …",),
    ),
    "place-missing": Row(
        "the holes of the legs are missing before {found}; write in, the hole of each leg, and then {found}",
        ("part D1 1N4001 band d18", "part U2 NE555 pin 1 at e10", "part LED1 led long leg e5", "part Q1 2N3904 flat faces a"),
        ("in and the holes of all legs", "across and two rows"),
    ),
    "turned-says-nothing": Row(
        "{found} is said of a button with four legs; any other part is turned by its holes and its mark",
        ("part LED1 led in d12 d14 turned", "part S1 button turned", "part Q1 2N3904 rotated in c10 c11 c12"),
        ("four holes, or across and two rows", "a mark such as band d18 or flat faces a"),
    ),
    "rows-expected": Row(
        "two rows are due after across where {found} stands",
        ("part U2 NE555 across", "part U2 NE555 across 10", "part U2 NE555 across channel"),
        ("rows such as 10-13",),
        _where("ROW_RANGE"),
    ),
    "target-expected": Row(
        "{before} needs a place to point at, and {found} is none",
        ("part D1 1N4001 in d12 d18 band", "part Q1 PN2222A in c10 c11 c12 flat faces", "part Q1 2N3904 flat faces me"),
        ("a hole such as d18", "a column such as a", "row 12", "left, right, top or bottom"),
        _where("ROW", "COLUMN", "SIDE"),
    ),
    "faces-needs-a-direction": Row(
        "{found} is one hole, and {before} faces a column or a row",
        ("part Q1 PN2222A in c10 c11 c12 flat faces a12", "part V1 7805 in c5 c6 c7 tab d9"),
        ("faces a", "faces row 30", "faces left"),
    ),
    "round-side": Row(
        "{found} is the side across from the flat; where the flat side faces is what is read",
        ("part Q1 PN2222A in c10 c11 c12 curved side faces right", "part Q1 PN2222A in c10 c11 c12 round side left"),
        ("flat faces a", "flat faces row 30", "flat faces left"),
    ),
    "notch-needs-a-row": Row(
        "the notch of a chip points along the board, and {found} is across it",
        ("part U2 NE555 across 10-13 notch left", "part U2 NE555 across 10-13 notch faces c"),
        ("notch row 10", "notch top", "notch bottom"),
    ),
    "mark-meets-no-leg": Row(
        "no single leg is at {found}",
        ("part D1 1N4001 in d12 d18 band row 15", "part D1 1N4001 in d12 d18 band left", "part D1 1N4001 band row 3"),
        ("the hole of one leg",),
    ),
    "mark-behind-its-hole": Row(
        "{found} has a mark behind its hole, and a mark stands before it",
        ("LED1: led red: c12 (long) -> c14 (short)", "part LED1 led red between c12 (long) and c14"),
        ("in c12 c14 long c12",),
    ),
    "hole-and-pin": Row(
        "{found} has pins and holes in one word; holes come after in, pins after as",
        ("part Q5 BC547 c24=C c25=B c26=E", "part Q5 BC547 C=c24 B=c25 E=c26"),
        ("in c24 c25 c26 as C B E",),
    ),
    "pins-expected": Row(
        "the pins are due after as where {found} stands",
        ("part Q1 PN2222A in c10 c11 c12 as", "part Q1 PN2222A in c10 c11 c12 as measured"),
        ("pins such as E B C",),
        _where("CLAIM_PIN"),
    ),
    # ── program and expectations ────────────────────────────────────────────────────────────────────────────────────
    "way-expected": Row(
        "{found} is no way to feed a controller",
        ("power U1", "power U1 battery", "power U1 from PACK"),
        ("usb", "vin", "5v", "off"),
        _where("WAY"),
    ),
    "role-expected": Row(
        "what the program does with the pin is due where {found} stands",
        ("pin U1.D9", "pin U1.D9 as"),
        ("output", "pwm", "input", "pullup", "analog", "bus", "high", "low", "unused"),
        _where("ROLE"),
    ),
    "frequency-unit": Row(
        "{found} is no frequency: after pwm stands how often the pin pulses, in Hz or kHz, or nothing",
        ("pin U1.D9 pwm 50%", "pin U1.D9 pwm 128", "pin U1.D9 pwm at 5V", "pin U1.D9 pwm 0Hz"),
        ("pwm 20kHz", "pwm"),
    ),
    "frequency-without-pwm": Row(
        "only pwm has a frequency, and {found} stands behind another role",
        ("pin U1.D9 output 20kHz", "pin U1.D2 input pullup 1kHz"),
        ("pwm 20kHz",),
    ),
    "apart-expected": Row(
        "keep takes two names that are kept apart, and {found} is not of that form",
        ("keep A", "keep A together with B"),
        ("keep A apart from B",),
        _where("_APART"),
    ),
    "apart-missing": Row(
        "apart is due where {found} stands",
        ("keep A and B", "keep A and B together"),
        ("keep A and B apart",),
        _where("_APART_END"),
    ),
    "amount-expected": Row(
        "a value with its unit is due where {found} stands",
        ("expect a10 at 4V to", "expect PUMP carries under plenty", "expect a10 at 5V when POT1 at"),
        ("a value such as 5V or 100mA",),
        _where("QUANTITY"),
    ),
    "bound-expected": Row(
        "a value is due where {found} stands",
        ("expect PUMP carries", "expect PUMP carries plenty", "expect a10 at when S1 pressed"),
        ("80mA to 120mA", "under 1mA", "over 5mA", "about 5V"),
        _where("QUANTITY", "_UNDER"),
    ),
    "verb-expected": Row(
        "what is expected is due where {found} stands",
        ("expect PUMP", "expect PUMP wobbles", "expect a10 when S1 pressed"),
        ("carries", "at", "drops", "dissipates", "lit", "dark", "on", "off", "runs", "stopped", "high", "low"),
        _where("STATE_VERB", "BOUND_VERB"),
    ),
    "bound-unit": Row(
        "{found} is not in {unit}, which is what {before} is judged in",
        ("expect PUMP carries 5V", "expect R1 dissipates 1A", "expect PUMP carries 5V to 80mA"),
        ("a value in A, V or W",),
    ),
    "bound-without-unit": Row(
        "{found} has no unit, and {before} is judged in {unit}",
        ("expect a10 at 5", "expect PUMP carries 5 to 15", "expect PUMP carries 5mA to 15", "expect R1 dissipates under 0.25"),
        ("a value in A, V or W",),
    ),
    "bound-empty": Row(
        "no value lies between {found}, as the first is the larger",
        ("expect a10 at 5V to 4V", "expect PUMP carries between 2A and 1A"),
        ("the smaller value first",),
    ),
    "state-expected": Row(
        "the state is due where {found} stands",
        ("expect PUMP runs when S1", "expect LED1 lit when U1.D9 is"),
        ("high", "low", "pressed", "at 50%"),
        _where("STATE"),
    ),
    "not-understood": Row(
        "{found} does not fit here",
        ("expect LED1 lit banana", "keep A apart from B banana", "power U1 usb banana", "pin U1.D9 pwm banana"),
    ),
}


def row_for(could_follow: frozenset[str]) -> str:
    """The label of the last row whose terminals could all have come next. Where the statement could have ended instead,
    and where no row fits, the word is simply ``not-understood``."""
    fitting = [label for label, row in PROBLEMS.items() if row.where and row.where <= could_follow]
    return "not-understood" if "$END" in could_follow or not fitting else fitting[-1]
