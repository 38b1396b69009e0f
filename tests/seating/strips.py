"""What a breadboard joins by itself, and what it does not.

Written out by hand from the design: five holes of a row on one side of the channel are one strip; rails run along the
sides, joined end to end unless split (half: rows 1-15 and 16-30; full: 1-31 and 32-63). That these are the usual boards
is common practice, no source.
"""

from __future__ import annotations

# Size, rows, and the strips of each row.
ROWS: tuple[tuple[str, int], ...] = (("mini", 17), ("half", 30), ("full", 63))
STRIPS_OF_A_ROW = ("abcde", "fghij")

# A list, two points, and whether they are joined in each of its readings.
POINTS: tuple[tuple[str, str, str, tuple[bool, ...]], ...] = (
    ("board mini", "a17", "e17", (True,)),
    ("board mini", "f1", "j1", (True,)),
    ("board mini", "e17", "f17", (False,)),
    ("board mini", "a16", "a17", (False,)),
    ("board half", "a30", "e30", (True,)),
    ("board half", "e30", "f30", (False,)),
    ("board full", "f63", "j63", (True,)),
    ("board full", "a62", "a63", (False,)),
    # Rails of a half board: joined unless split after row 15. Four of them, apart from each other and from the strips.
    ("board half", "L+1", "L+30", (True,)),
    ("board half", "L+", "L+30", (True,)),
    ("board half rails joined", "R-15", "R-16", (True,)),
    ("board half rails split", "L+1", "L+15", (True,)),
    ("board half rails split", "L+15", "L+16", (False,)),
    ("board half rails split", "R-16", "R-30", (True,)),
    ("board half", "L+5", "L-5", (False,)),
    ("board half", "L+5", "R+5", (False,)),
    ("board half", "R+5", "R-5", (False,)),
    ("board half", "L-5", "a5", (False,)),
    ("board half", "R+5", "j5", (False,)),
    # Rails of a full board: split after row 31. Nothing said: both, where both pieces are in use.
    ("board full rails joined", "L+31", "L+32", (True,)),
    ("board full rails split", "L+31", "L+32", (False,)),
    ("board full rails split", "L-1", "L-31", (True,)),
    ("board full rails split", "L-32", "L-63", (True,)),
    ("board full", "L+31", "L+32", (True, False)),
    ("board full", "R-", "R-63", (True, False)),
    ("board full", "L+1", "L+31", (True,)),
    ("board full", "L+32", "L+63", (True,)),
    ("board full", "L+1", "L-63", (False,)),
    # No board said: a half one, or a full one where the rows say so.
    ("", "L+1", "L+30", (True,)),
    ("", "L+32", "L+63", (True,)),
    ("", "L+1", "L+63", (True, False)),
    # Several boards are joined by nothing but wires.
    ("board ONE half\nboard TWO half", "ONE:a12", "ONE:e12", (True,)),
    ("board ONE half\nboard TWO half", "ONE:a12", "TWO:a12", (False,)),
    ("board ONE half\nboard TWO half", "ONE:L-3", "TWO:L-3", (False,)),
    ("board ONE half\nboard TWO half", "one:a12", "One:b12", (True,)),
    ("board ONE half\nboard TWO half\nwire ONE:L-3 to TWO:L-3", "ONE:L-9", "TWO:L-20", (True,)),
    ("board ONE half rails split\nboard TWO half", "ONE:L-15", "ONE:L-16", (False,)),
    ("board ONE half rails split\nboard TWO half", "TWO:L-15", "TWO:L-16", (True,)),
    ("board ONE half", "ONE:a12", "b12", (True,)),
    # Wires and named nodes.
    ("board half\nwire a5 to a9", "b5", "c9", (True,)),
    ("board half\nwire a5 to a9 to f20", "b5", "j20", (True,)),
    ("board half\nwire @gate to a5\nwire @GATE to a9", "b5", "c9", (True,)),
    ("board half\nwire @gate to a5\nwire @gate2 to a9", "b5", "c9", (False,)),
)

# A list, two pins, and whether they are in one net in each of its readings.
PINS: tuple[tuple[str, str, str, tuple[bool, ...]], ...] = (
    # Legs in one row on one side of the channel share a strip.
    ("part Q1 PN2222A in d10 e10 f10 flat faces row 1", "Q1.E", "Q1.B", (False,)),
    ("part Q1 PN2222A in d10 e10 f10 flat faces row 1", "Q1.B", "Q1.C", (True,)),
    ("part Q1 PN2222A in b10 c10 d10 flat faces row 1", "Q1.E", "Q1.C", (True,)),
    ("part Q1 PN2222A in c10 c11 c12 flat faces a", "Q1.E", "Q1.B", (False,)),
    ("part Q1 PN2222A in c10 c11 c12 flat faces a\npart R1 1k in a11 a16", "Q1.B", "R1.1", (True,)),
    ("part Q1 PN2222A in c10 c11 c12 flat faces a\npart R1 1k in a10 a16", "Q1.E", "R1.1", (True,)),
    ("part Q1 PN2222A in c10 c11 c12 flat faces j\npart R1 1k in a10 a16", "Q1.C", "R1.1", (True,)),
    ("part Q1 PN2222A in c10 c11 c12\npart R1 1k in a10 a16", "Q1.E", "R1.1", (True, False)),
    ("part Q1 PN2222A in c10 c11 c12\npart R1 1k in a11 a16", "Q1.B", "R1.1", (True, True)),
    ("part Q1 PN2222A in c10 c11 c12 flat faces a\npart R1 1k in f11 f16", "Q1.B", "R1.1", (False,)),
    # Chips: across the channel the two sides are apart.
    ("part U2 NE555 across 10-13 notch row 10", "U2.GND", "U2.VCC", (False,)),
    ("part U2 NE555 across 10-13 notch row 10\npart R1 1k in j10 L+10", "U2.VCC", "R1.1", (True,)),
    ("part U2 NE555 across 10-13 notch row 13\npart R1 1k in a13 L+13", "U2.VCC", "R1.1", (True,)),
    ("part U2 NE555 across 10-13\npart R1 1k in a10 L-10", "U2.GND", "R1.1", (True, False)),
    # Supplies: the first point is plus; a rail is met at row 1.
    ("supply P 9V on L+ L-\npart R1 1k in L+20 a20", "P.+", "R1.1", (True,)),
    ("supply P 9V on L+ L-\npart R1 1k in L-20 a20", "P.-", "R1.1", (True,)),
    ("supply P 9V on L+ L-\npart R1 1k in L+20 a20", "P.-", "R1.1", (False,)),
    ("board full rails split\nsupply P 9V on L+ L-\npart R1 1k in L+31 a31", "P.+", "R1.1", (True,)),
    ("board full rails split\nsupply P 9V on L+ L-\npart R1 1k in L+32 a32", "P.+", "R1.1", (False,)),
    ("board full\nsupply P 9V on L+ L-\npart R1 1k in L+32 a32", "P.+", "R1.1", (True, False)),
    # Two boards.
    ("board ONE half\nboard TWO half\npart R1 1k in ONE:a1 ONE:a5\npart R2 1k in TWO:b5 TWO:b9",
     "R1.2", "R2.1", (False,)),
    ("board ONE half\nboard TWO half\npart R1 1k in ONE:a1 ONE:a5\npart R2 1k in ONE:b5 ONE:b9",
     "R1.2", "R2.1", (True,)),
    ("board ONE half\nboard TWO half\npart U2 NE555 across TWO:10-13 dot TWO:e10\npart R1 1k in TWO:a10 TWO:a20",
     "U2.GND", "R1.1", (True,)),
    ("board ONE half\nboard TWO half\npart D1 1N4001 in TWO:d2 TWO:d8 band two:d8\npart R1 1k in TWO:a8 TWO:a20",
     "D1.K", "R1.1", (True,)),
    ("board ONE half\npart D1 1N4001 in d2 d8 band ONE:d8\npart R1 1k in a8 a20", "D1.K", "R1.1", (True,)),
    # Parts off the board: by name, number and synonym; a declared part wins over a hole of the same spelling.
    ("part M1 motor 9V\npart R1 1k in a1 a9\nwire M1.1 to b1", "M1.1", "R1.1", (True,)),
    ("part M1 motor 9V\npart R1 1k in a1 a9\nwire M1.+ to b1", "M1.1", "R1.1", (True,)),
    ("part Q1 BC547\npart R1 1k in a1 a9\nwire Q1.base to b1", "Q1.B", "R1.1", (True,)),
    ("part Q1 BC547\npart R1 1k in a1 a9\nwire Q1.1 to b1", "Q1.C", "R1.1", (True,)),
    ("part Q1 PN2222A\npart R1 1k in a1 a9\nwire Q1.1 to b1", "Q1.E", "R1.1", (True,)),
    ("part Q1 PN2222A\npart R1 1k in a1 a9\nwire Q1 collector to b1", "Q1.C", "R1.1", (True,)),
    ("part U2 NE555\npart R1 1k in a1 a9\nwire U2.8 to b1", "U2.VCC", "R1.1", (True,)),
    ("part U2 NE555\npart R1 1k in a1 a9\nwire U2.THR to b1", "U2.THRES", "R1.1", (True,)),
    ("part U1 controller-5v\npart R1 1k in a1 a9\nwire U1.13 to b1", "U1.D13", "R1.1", (True,)),
    ("part U1 controller-5v\npart R1 1k in a1 a9\nwire u1.d9 to b1", "U1.D9", "R1.1", (True,)),
    ("part LED1 led red\npart R1 1k in a1 a9\nwire LED1 + to b1", "LED1.A", "R1.1", (True,)),
    ("part D1 led red\npart R1 1k in a1 a9\nwire D1.A to b1", "D1.A", "R1.1", (True,)),
    ("part M1 motor 9V\npart M2 motor 9V\nwire M1.1 to @hot\nwire @hot to M2.2", "M1.1", "M2.2", (True,)),
)

# A list, what is asked back or found, each with its points.
FOUND: tuple[tuple[str, tuple[str, ...]], ...] = (
    # The last row of each board, and the rails that a mini board does not have.
    ("board mini\nwire a1 to a17", ()),
    ("board mini\nwire a1 to a18", ("outside-board a18",)),
    ("board half\nwire a1 to j30", ()),
    ("board half\nwire a1 to j31", ("outside-board j31",)),
    ("board full\nwire a1 to j63", ()),
    ("board full\nwire a1 to j64", ("outside-board j64",)),
    ("board half\nwire L+30 to a1", ()),
    ("board half\nwire L+31 to a1", ("outside-board L+31",)),
    ("board full rails joined\nwire L+63 to a1", ()),
    ("board mini\nwire L+ to a1", ("outside-board L+",)),
    ("board mini\nwire R-3 to a1", ("outside-board R-3",)),
    ("board mini\npart R1 1k in a10 a18", ("outside-board a18",)),
    # Several holes beyond one board have one cause, its size.
    ("board mini\npart U2 NE555 across 15-18 notch row 15", ("outside-board size e18 f18",)),
    ("board half\nwire a31 to b31\nwire L+40 to a2", ("outside-board size a31 b31 L+40",)),
    ("board mini\nwire L+ to L-", ("outside-board size L+ L-",)),
    # On a split board a bare rail must say which piece; a supply's terminal is at row 1.
    ("board half rails split\nwire L+ to a1", ("bad-value which-piece L+",)),
    ("board half rails split\nwire L+2 to a1", ()),
    ("board full rails split\npart R1 1k in L- a5", ("bad-value which-piece L-",)),
    ("board full rails split\nsupply P 9V on L+ L-", ()),
    ("board full\nwire L+ to a1", ()),
    # Several boards: a hole says which.
    ("board ONE half\nboard TWO half\nwire a1 to TWO:a5", ("unknown-point which-board a1",)),
    ("board ONE half\nboard TWO half\nwire THREE:a1 to TWO:a5", ("unknown-point which-board THREE:a1",)),
    ("board ONE half\nboard TWO mini\nwire ONE:a18 to TWO:a18", ("outside-board TWO:a18",)),
    ("board ONE half\nboard ONE full", ("name-reused",)),
    # One lead or leg a hole; rail holes are many.
    ("part R1 1k in a1 a9\npart R2 1k in a1 a10", ("hole-taken a1",)),
    ("part R1 1k in a1 a9\nwire a9 to b20", ("hole-taken a9",)),
    ("wire a1 to b7\nwire b7 to c12", ("hole-taken b7",)),
    ("wire a1 to b7 to c12", ()),
    ("supply P 9V on a1 a9\nwire a1 to b20", ("hole-taken a1",)),
    ("part R1 1k in L+3 a9\nwire L+3 to b20", ()),
    ("part U2 NE555 across 10-13 notch row 10\nwire e10 to a20", ("hole-taken e10",)),
    ("board ONE half\nboard TWO half\nwire ONE:a1 to ONE:b7\nwire TWO:a1 to TWO:b7", ()),
    ("board ONE half\npart R1 1k in a1 a9\npart R2 1k in ONE:a1 a10", ("hole-taken ONE:a1",)),
    # Legs reach so far: a quarter-watt resistor 18 holes, a TO-92 three, a TO-220 two from leg to leg (memory, as in
    # the packages of the parts library). A rail without a row is met where it is nearest.
    ("part R1 1k in a1 a19", ()),
    ("part R1 1k in a1 a20", ("leads-do-not-reach a1 a20",)),
    ("part R1 1k in L+ a25", ()),
    ("part R1 1k in L+3 a25", ("leads-do-not-reach L+3 a25",)),
    ("part Q1 BC547 in a1 a4 a7 flat faces c", ()),
    ("part Q1 BC547 in a1 a5 a9 flat faces c", ("leads-do-not-reach a1 a5",)),
    ("part U1 7805 in a1 a3 a5 tab faces c", ()),
    ("part U1 7805 in a1 a4 a7 tab faces c", ("leads-do-not-reach a1 a4",)),
    ("part U1 7805 in a1 a5 a3 as IN OUT GND measured", ()),
    ("part U1 7805 in d10 e10 f10 front faces row 1", ("leads-do-not-reach e10 f10",)),
    # A declared part wins over a hole; a hole that reads like a controller's pin is asked about.
    ("part D1 1N4001 in a1 a9 band a9\nwire D1 to a20", ("unknown-point which-pin",)),
    ("part C1 100nF in a1 a5\nwire C1 to a20", ("unknown-point which-pin",)),
    ("part U1 controller-5v\nwire D9 to a16", ("ambiguous-point hole-or-pin d9",)),
    ("part U1 controller-5v\nwire a5 to a16", ("ambiguous-point hole-or-pin a5",)),
    ("part U1 controller-5v\npart R1 1k in b5 b9\nwire a5 to a16", ()),
    ("part U1 controller-5v\nwire U1.D9 to a16", ()),
    ("wire D9 to a16", ()),
    ("part U1 controller-5v\npart D9 1N4001 in a1 a9 band a9\nwire D9 to a16", ("unknown-point which-pin",)),
    # A pin of a placed part: the report asks which hole is meant. A part that has no sides is not asked about.
    ("part Q1 BC547 in c10 c11 c12 flat faces a\nwire L- to Q1.E", ("ambiguous-point pin-of-placed-part Q1.E",)),
    ("part R1 1k in a1 a9\nwire L- to R1.2", ()),
    ("part M1 motor 9V\nwire M1.3 to a1", ("unknown-point no-such-pin M1.3",)),
    ("part U1 controller-5v\nwire U1.A9 to a11", ("unknown-point no-such-pin U1.A9",)),
    ("wire M7.1 to a1", ("unknown-point no-such-part",)),
    ("part Q1 BC547\nwire gnd to a1", ("unknown-point bare-word",)),
)

# A list, a pin, and the point at which it touches the board.
PLACES: tuple[tuple[str, str, str], ...] = (
    ("part Q1 BC547 in C10 C11 C12 flat faces a", "Q1.E", "c12"),
    ("part R1 1k in L+ a5", "R1.1", "L+"),
    ("part R1 1k in L+7 a5", "R1.1", "L+7"),
    ("part M1 motor 9V\nwire M1.1 to a1", "M1.1", "M1.1"),
    ("part U2 NE555 across 10-13 notch row 13", "U2.GND", "f13"),
    ("board ONE half\nboard TWO half\npart R1 1k in two:a1 TWO:a5", "R1.2", "TWO:a5"),
    ("supply P 9V on L+ a3", "P.-", "a3"),
)

_LIT_THROUGH = "supply P 9V on L+ L-\npart S1 button across 20-22{}\npart R1 1k in L+20 a20\n{}"
_ACROSS_THE_CHANNEL = "part D1 led red in j20 j25 long j20\nwire f25 to L-25"
_ALONG_THE_COLUMN = "part D1 led red in a22 a25 long a22\nwire b25 to L-25"

# A list, a rule, and whether it finds something: what the geometry leads to.
FINDINGS: tuple[tuple[str, str, bool], ...] = (
    ("supply P 9V on L+ L-\npart Q1 PN2222A in b10 c10 d10 flat faces row 1", "part-bridged", True),
    ("supply P 9V on L+ L-\npart Q1 PN2222A in c10 c11 c12 flat faces a", "part-bridged", False),
    ("supply P 9V on L+ L-\npart R1 1k in a5 c5", "part-bridged", True),
    ("supply P 9V on L+ L-\npart R1 1k in e5 f5", "part-bridged", False),
    ("supply P 9V on L+ L-\npart U2 NE555 across 10-13 a-e notch row 10", "not-across-channel", True),
    ("supply P 9V on L+ L-\npart U2 NE555 across 10-13 notch row 10", "not-across-channel", False),
    # Legs 1 and 2 of a button are one contact: across the channel, or along a column where it is turned.
    (_LIT_THROUGH.format("", _ACROSS_THE_CHANNEL), "button-always-closed", True),
    (_LIT_THROUGH.format(" turned", _ACROSS_THE_CHANNEL), "button-always-closed", False),
    (_LIT_THROUGH.format("", _ALONG_THE_COLUMN), "button-always-closed", False),
    (_LIT_THROUGH.format(" turned", _ALONG_THE_COLUMN), "button-always-closed", True),
)
