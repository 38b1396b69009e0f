"""Three legs and a face: where the flat, the front or the tab looks, and which pin is then in which hole.

Written out by hand. Hold the board with row 1 at the top and column a at the left; look at the flat of a TO-92 or at
the printed front of a TO-220 with the legs down: pin 1 is at your left. So a flat that faces column a is seen from the
left of the board, where the lower row numbers are at the viewer's left. One that faces row 1 is seen from the top,
where column j is at the left. A tab is at the back.

Pin orders are those of ``tests/published/pin_orders.py``, where each names its sheet; 78L05 (OUT GND IN), 7805 (IN GND
OUT) and LM317 (ADJ OUT IN) are from memory, as is REF A K of the TL431.
"""

from __future__ import annotations

# A list with one placed part, and the hole of each pin.
ONE_WAY: tuple[tuple[str, str], ...] = (
    # In one column: the flat toward a has pin 1 in the lowest row, toward j in the highest.
    ("part Q1 PN2222A in c10 c11 c12 flat faces a", "E:c10 B:c11 C:c12"),
    ("part Q1 PN2222A in c10 c11 c12 flat faces j", "E:c12 B:c11 C:c10"),
    ("part Q1 PN2222A in c10 c11 c12 flat faces left", "E:c10 B:c11 C:c12"),
    ("part Q1 PN2222A in c10 c11 c12 flat faces right", "E:c12 B:c11 C:c10"),
    ("part Q1 PN2222A in c10 c11 c12 flat faces b", "E:c10 B:c11 C:c12"),
    ("part Q1 PN2222A in c10 c11 c12 flat faces d", "E:c12 B:c11 C:c10"),
    ("part Q1 PN2222A in c10 c11 c12 flat faces L+", "E:c10 B:c11 C:c12"),
    ("part Q1 PN2222A in c10 c11 c12 flat faces the right rail", "E:c12 B:c11 C:c10"),
    ("part Q1 PN2222A in h20 h21 h22 flat faces a", "E:h20 B:h21 C:h22"),
    ("part Q1 PN2222A in h20 h21 h22 flat faces g", "E:h20 B:h21 C:h22"),
    ("part Q1 PN2222A in h20 h21 h22 flat faces j", "E:h22 B:h21 C:h20"),
    ("part Q1 PN2222A in c10 c12 c14 flat faces a", "E:c10 B:c12 C:c14"),
    # The order in which `in` names the holes says nothing.
    ("part Q1 PN2222A in c12 c11 c10 flat faces a", "E:c10 B:c11 C:c12"),
    ("part Q1 PN2222A in c11 c12 c10 flat faces a", "E:c10 B:c11 C:c12"),
    ("part Q1 PN2222A in c12 c10 c11 flat faces j", "E:c12 B:c11 C:c10"),
    ("part Q1 PN2222A in C12, 10c and c-11 flat faces j", "E:c12 B:c11 C:c10"),
    ("part Q1 PN2222A in f10 e10 d10 flat faces row 1", "E:f10 B:e10 C:d10"),
    # Along a row: the flat toward row 1 has pin 1 nearest j, toward the last row nearest a.
    ("part Q1 PN2222A in d10 e10 f10 flat faces row 1", "E:f10 B:e10 C:d10"),
    ("part Q1 PN2222A in d10 e10 f10 flat faces row 30", "E:d10 B:e10 C:f10"),
    ("part Q1 PN2222A in e10 f10 g10 flat faces row 9", "E:g10 B:f10 C:e10"),
    ("part Q1 PN2222A in e10 f10 g10 flat faces row 11", "E:e10 B:f10 C:g10"),
    ("part Q1 PN2222A in e10 f10 g10 flat faces 5", "E:g10 B:f10 C:e10"),
    ("part Q1 PN2222A in e10 f10 g10 flat faces top", "E:g10 B:f10 C:e10"),
    ("part Q1 PN2222A in e10 f10 g10 flat faces bottom", "E:e10 B:f10 C:g10"),
    ("part Q1 PN2222A in d1 e1 f1 flat faces top", "E:f1 B:e1 C:d1"),
    ("part Q1 PN2222A in d30 e30 f30 flat faces bottom", "E:d30 B:e30 C:f30"),
    ("part Q1 PN2222A in b10 c10 d10 flat faces row 1", "E:d10 B:c10 C:b10"),
    ("part Q1 PN2222A in b10 c10 d10 flat faces row 30", "E:b10 B:c10 C:d10"),
    # The middle leg bent into the next column, or all three on a slant: the same projection.
    ("part Q1 PN2222A in c20 d21 c22 flat faces a", "E:c20 B:d21 C:c22"),
    ("part Q1 PN2222A in c20 d21 c22 flat faces j", "E:c22 B:d21 C:c20"),
    ("part Q1 PN2222A in c20 b21 c22 flat faces a", "E:c20 B:b21 C:c22"),
    ("part Q1 PN2222A in c22 b21 c20 flat faces e", "E:c22 B:b21 C:c20"),
    ("part Q1 PN2222A in d10 e11 f10 flat faces row 1", "E:f10 B:e11 C:d10"),
    ("part Q1 PN2222A in e20 f21 e22 flat faces a", "E:e20 B:f21 C:e22"),
    ("part Q1 PN2222A in c20 d21 e22 flat faces a", "E:c20 B:d21 C:e22"),
    ("part Q1 PN2222A in c20 d21 e22 flat faces row 1", "E:e22 B:d21 C:c20"),
    ("part Q1 PN2222A in c20 d21 e22 flat faces row 30", "E:c20 B:d21 C:e22"),
    ("part Q1 PN2222A in c22 d21 e20 flat faces row 1", "E:e20 B:d21 C:c22"),
    ("part Q1 PN2222A in c22 d21 e20 flat faces a", "E:e20 B:d21 C:c22"),
    # Legs in rails stand at the row that is named; L is left of a, R right of j.
    ("part Q1 PN2222A in L-10 a11 a12 flat faces b", "E:a12 B:a11 C:L-10"),
    ("part Q1 PN2222A in L-10 a11 L-12 flat faces b", "E:L-12 B:a11 C:L-10"),
    ("part Q1 PN2222A in j10 j11 R-12 flat faces a", "E:j10 B:j11 C:R-12"),
    ("part Q1 PN2222A in L-10 a10 b10 flat faces row 1", "E:b10 B:a10 C:L-10"),
    ("part Q1 PN2222A in L- a10 b10 flat faces row 30", "E:L- B:a10 C:b10"),
    ("part Q1 PN2222A in i10 j10 R- flat faces row 1", "E:R- B:j10 C:i10"),
    # Other pin orders: only the names change.
    ("part Q1 P2N2222A in c10 c11 c12 flat faces a", "C:c10 B:c11 E:c12"),
    ("part Q1 BC547 in c10 c11 c12 flat faces a", "C:c10 B:c11 E:c12"),
    ("part Q1 BC547 in c10 c11 c12 flat faces j", "C:c12 B:c11 E:c10"),
    ("part Q1 BC547 in d10 e10 f10 flat faces row 1", "C:f10 B:e10 E:d10"),
    ("part Q1 BC639 in c10 c11 c12 flat faces a", "E:c10 C:c11 B:c12"),
    ("part Q1 2N3906 in c10 c11 c12 flat faces a", "E:c10 B:c11 C:c12"),
    ("part U1 78L05 in c10 c11 c12 flat faces a", "OUT:c10 GND:c11 IN:c12"),
    ("part U1 78L05 in c10 c11 c12 flat faces j", "OUT:c12 GND:c11 IN:c10"),
    ("part U1 TL431 in c10 c11 c12 flat faces a", "REF:c10 A:c11 K:c12"),
    ("part Q1 2N7000 in c10 c11 c12 flat faces a", "S:c10 G:c11 D:c12"),
    ("part Q1 BS170 in c10 c11 c12 flat faces a", "D:c10 G:c11 S:c12"),
    # The printing of a TO-92 is on its flat.
    ("part Q1 PN2222A in c10 c11 c12 front faces a", "E:c10 B:c11 C:c12"),
    # TO-220: the front counts as the flat does; the tab is behind it.
    ("part U1 7805 in c10 c11 c12 front faces a", "IN:c10 GND:c11 OUT:c12"),
    ("part U1 7805 in c10 c11 c12 front faces j", "IN:c12 GND:c11 OUT:c10"),
    ("part U1 7805 in c10 c11 c12 tab faces j", "IN:c10 GND:c11 OUT:c12"),
    ("part U1 7805 in c10 c11 c12 tab faces a", "IN:c12 GND:c11 OUT:c10"),
    ("part U1 7805 in b10 c10 d10 front faces row 1", "IN:d10 GND:c10 OUT:b10"),
    ("part U1 7805 in b10 c10 d10 front faces row 30", "IN:b10 GND:c10 OUT:d10"),
    ("part U1 7805 in b10 c10 d10 tab faces row 1", "IN:b10 GND:c10 OUT:d10"),
    ("part U1 7805 in b10 c10 d10 tab faces bottom", "IN:d10 GND:c10 OUT:b10"),
    ("part U1 7805 in c10 c11 c12 tab faces j front faces a", "IN:c10 GND:c11 OUT:c12"),
    ("part U1 LM317 in c10 c11 c12 front faces a", "ADJ:c10 OUT:c11 IN:c12"),
    ("part U1 LM317 in c12 c11 c10 tab faces a", "ADJ:c12 OUT:c11 IN:c10"),
    ("part Q1 IRLZ44N in c10 c11 c12 front faces a", "G:c10 D:c11 S:c12"),
    ("part Q1 IRLZ44N in c10 c11 c12 tab faces a", "G:c12 D:c11 S:c10"),
    ("part Q1 TIP120 in c10 c12 c14 tab faces j", "B:c10 C:c12 E:c14"),
    ("part Q1 BD139 in c10 c11 c12 front faces j", "E:c12 C:c11 B:c10"),
    # A claim that agrees, one that stands in for the mark, one that a meter has settled.
    ("part Q1 PN2222A in c10 c11 c12 flat faces a as E B C", "E:c10 B:c11 C:c12"),
    ("part Q1 PN2222A in c12 c11 c10 flat faces a as C B E", "E:c10 B:c11 C:c12"),
    ("part Q1 PN2222A in c10 c11 c12 as E B C", "E:c10 B:c11 C:c12"),
    ("part Q1 PN2222A in c10 c11 c12 as C B E", "C:c10 B:c11 E:c12"),
    ("part Q1 PN2222A in c10 c11 c12 as emitter base collector", "E:c10 B:c11 C:c12"),
    ("part Q1 PN2222A in c20 d21 e22 as E B C", "E:c20 B:d21 C:e22"),
    ("part Q1 PN2222A in c10 c11 c12 flat faces a as C B E measured", "C:c10 B:c11 E:c12"),
    ("part Q1 PN2222A in c10 c11 c12 as B C E measured", "B:c10 C:c11 E:c12"),
    ("part Q1 PN2222A in e20 f20 e21 as E B C measured", "E:e20 B:f20 C:e21"),
    ("part Q1 PN2222A in L- a11 a12 as E B C measured", "E:L- B:a11 C:a12"),
    ("part Q1 2N2222 in c10 c11 c12 flat faces a as C B E measured", "C:c10 B:c11 E:c12"),
    ("part U1 7805 in c10 c11 c12 tab faces j as in gnd out", "IN:c10 GND:c11 OUT:c12"),
)

# A part in column a or j: "left" and "right" are sides of the board, not the part's own column.
LEFT_OF_COLUMN_A: tuple[tuple[str, str], ...] = (
    ("part Q1 PN2222A in a10 a11 a12 flat faces left", "E:a10 B:a11 C:a12"),
    ("part Q1 PN2222A in a10 a11 a12 flat faces L+", "E:a10 B:a11 C:a12"),
    ("part Q1 PN2222A in j10 j11 j12 flat faces right", "E:j12 B:j11 C:j10"),
)

# A list, every seat that remains (the list's own first, the others in any order), and what keeps the seats in question.
SEVERAL_WAYS: tuple[tuple[str, tuple[str, ...], str], ...] = (
    # Nothing is said: both facings that the legs allow.
    ("part Q1 PN2222A in c10 c11 c12", ("E:c10 B:c11 C:c12", "E:c12 B:c11 C:c10"), "marking-unsaid"),
    ("part Q1 PN2222A in d10 e10 f10", ("E:f10 B:e10 C:d10", "E:d10 B:e10 C:f10"), "marking-unsaid"),
    ("part Q1 PN2222A in c20 d21 c22", ("E:c20 B:d21 C:c22", "E:c22 B:d21 C:c20"), "marking-unsaid"),
    ("part Q1 PN2222A in c20 d21 e22", ("E:c20 B:d21 C:e22", "E:e22 B:d21 C:c20"), "marking-unsaid"),
    ("part U1 7805 in c10 c11 c12", ("IN:c10 GND:c11 OUT:c12", "IN:c12 GND:c11 OUT:c10"), "marking-unsaid"),
    # Legs on no line at all: four facings, four orders.
    ("part Q1 PN2222A in c20 d22 e21",
     ("E:c20 B:e21 C:d22", "E:d22 B:e21 C:c20", "E:c20 B:d22 C:e21", "E:e21 B:d22 C:c20"), "marking-unsaid"),
    # A claim against the mark: the mark comes first.
    ("part Q1 PN2222A in c10 c11 c12 flat faces a as C B E", ("E:c10 B:c11 C:c12", "C:c10 B:c11 E:c12"),
     "claim-contradicts-marking"),
    ("part Q1 BC547 in c10 c11 c12 flat faces a as E B C", ("C:c10 B:c11 E:c12", "E:c10 B:c11 C:c12"),
     "claim-contradicts-marking"),
    ("part U1 LM317 in c10 c11 c12 front faces a as IN ADJ OUT", ("ADJ:c10 OUT:c11 IN:c12", "IN:c10 ADJ:c11 OUT:c12"),
     "claim-contradicts-marking"),
    # A claim that no facing gives, with no mark: the claim and both facings.
    ("part Q1 PN2222A in c10 c11 c12 as B C E", ("B:c10 C:c11 E:c12", "E:c10 B:c11 C:c12", "E:c12 B:c11 C:c10"),
     "claim-contradicts-marking"),
    # Two marks that contradict each other.
    ("part U1 7805 in c10 c11 c12 tab faces j front faces j", ("IN:c10 GND:c11 OUT:c12", "IN:c12 GND:c11 OUT:c10"),
     "claim-contradicts-marking"),
    # A type that is sold in two orders: the mark leaves both, and so does a claim, which only comes first.
    ("part Q1 2N2222 in c10 c11 c12 flat faces a", ("E:c10 B:c11 C:c12", "C:c10 B:c11 E:c12"), "pin-order-varies"),
    ("part Q1 2N2222 in c10 c11 c12 flat faces j", ("E:c12 B:c11 C:c10", "C:c12 B:c11 E:c10"), "pin-order-varies"),
    ("part Q1 2N2222 in c10 c11 c12 flat faces a as E B C", ("E:c10 B:c11 C:c12", "C:c10 B:c11 E:c12"),
     "pin-order-varies"),
    ("part Q1 2N2222 in c10 c11 c12 flat faces a as C B E", ("C:c10 B:c11 E:c12", "E:c10 B:c11 C:c12"),
     "pin-order-varies"),
    ("part Q1 2N2222 in c10 c11 c12 as C B E", ("C:c10 B:c11 E:c12", "E:c10 B:c11 C:c12"), "pin-order-varies"),
    ("part Q1 2N2222 in c10 c11 c12 flat faces a as B C E",
     ("E:c10 B:c11 C:c12", "C:c10 B:c11 E:c12", "B:c10 C:c11 E:c12"), "claim-contradicts-marking"),
    ("part Q1 2SC945 in c10 c11 c12 flat faces a", ("E:c10 C:c11 B:c12", "E:c10 B:c11 C:c12"), "pin-order-varies"),
    ("part Q1 2SC945 in c10 c11 c12 as E B C", ("E:c10 B:c11 C:c12", "E:c10 C:c11 B:c12"), "pin-order-varies"),
    # Neither facing nor order is known: every one of them.
    ("part Q1 2SC945 in c10 c11 c12",
     ("E:c10 C:c11 B:c12", "E:c10 B:c11 C:c12", "E:c12 C:c11 B:c10", "E:c12 B:c11 C:c10"),
     "marking-unsaid pin-order-varies"),
    ("part Q1 2N2222 in c10 c11 c12", ("E:c10 B:c11 C:c12", "C:c10 B:c11 E:c12"), "marking-unsaid pin-order-varies"),
    ("part Q1 2SC945 in c10 c11 c12 as B E C",
     ("B:c10 E:c11 C:c12", "E:c10 C:c11 B:c12", "E:c10 B:c11 C:c12", "E:c12 C:c11 B:c10", "E:c12 B:c11 C:c10"),
     "claim-contradicts-marking"),
)

# A list, what is asked back, and how many ways to seat the part remain (0: none, it is left out).
ASKED_BACK: tuple[tuple[str, str, int], ...] = (
    # The part's own row or column is no direction, nor is the line of its legs.
    ("part Q1 PN2222A in c10 c11 c12 flat faces c", "bad-value facing-impossible", 0),
    ("part Q1 PN2222A in d10 e10 f10 flat faces row 10", "bad-value facing-impossible", 0),
    ("part Q1 PN2222A in c10 c11 c12 flat faces row 11", "bad-value facing-impossible", 0),
    ("part Q1 PN2222A in c20 d21 c22 flat faces d", "bad-value facing-impossible", 0),
    ("part Q1 PN2222A in c10 c11 c12 flat faces row 1", "bad-value facing-impossible", 0),
    ("part Q1 PN2222A in c10 c11 c12 flat faces row 30", "bad-value facing-impossible", 0),
    ("part Q1 PN2222A in c10 c11 c12 flat faces top", "bad-value facing-impossible", 0),
    ("part Q1 PN2222A in c10 c11 c12 flat faces bottom", "bad-value facing-impossible", 0),
    ("part Q1 PN2222A in d10 e10 f10 flat faces a", "bad-value facing-impossible", 0),
    ("part Q1 PN2222A in d10 e10 f10 flat faces j", "bad-value facing-impossible", 0),
    ("part U1 7805 in c10 c11 c12 tab faces row 5", "bad-value facing-impossible", 0),
    ("part U1 7805 in b10 c10 d10 front faces j", "bad-value facing-impossible", 0),
    # Two holes that fall together as seen from there.
    ("part Q1 PN2222A in c20 d21 c22 flat faces row 1", "bad-value facing-impossible", 0),
    ("part Q1 PN2222A in c20 d20 c21 flat faces a", "bad-value facing-impossible", 0),
    ("part Q1 PN2222A in c20 d20 c21 flat faces row 1", "bad-value facing-impossible", 0),
    ("part Q1 PN2222A in L-10 a11 a12 flat faces row 1", "bad-value facing-impossible", 0),
    ("part Q1 PN2222A in c20 d20 c21", "bad-value legs-in-one-hole", 0),
    ("part Q1 PN2222A in c20 c20 c21", "bad-value hole-twice", 0),
    # A rail runs past every row: where the leg is in it decides, and is not said.
    ("part Q1 PN2222A in L- a11 a12 flat faces b", "bad-value facing-impossible", 0),
    ("part Q1 PN2222A in L- a11 a12", "bad-value facing-impossible", 0),
    ("part Q1 PN2222A in L- L+ R+ flat faces row 1", "bad-value facing-impossible", 0),
    # Marks that the package does not have: the tab of a TO-92, the flat of a TO-220 (its front or its back?).
    ("part Q1 PN2222A in c10 c11 c12 tab faces a", "bad-value mark-not-on-package", 2),
    ("part U1 7805 in c10 c11 c12 flat faces j", "bad-value mark-not-on-package", 2),
    ("part Q1 PN2222A in c10 c11 c12 band c10", "bad-value mark-not-on-package", 2),
    ("part Q1 PN2222A in c10 c11 c12 dot c10", "bad-value mark-not-on-package", 2),
    # Claims that are no claims, and the wrong number of holes.
    ("part Q1 PN2222A in c10 c11 c12 as E B", "bad-value claim-count", 2),
    ("part Q1 PN2222A in c10 c11 c12 as E B B", "bad-value claim-count", 2),
    ("part Q1 PN2222A in c10 c11 c12 as E B X", "unknown-point claim-pin", 2),
    ("part Q1 PN2222A in c10 c11", "bad-value leg-count", 0),
    ("part Q1 PN2222A in c10 c11 c12 c13", "bad-value leg-count", 0),
    ("part Q1 PN2222A in c10 c11 @gate", "bad-value needs-holes", 0),
    ("part Q1 PN2222A across 10-12", "bad-value not-for-across", 0),
)
