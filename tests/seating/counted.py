"""Legs that are counted: chips, buttons, potentiometers, switches, modules.

Written out by hand from the design. A DIP seen from above with its notch at the top has pin 1 at the top left and
counts down the left side and up the right (common to all makers' drawings). A button `across 20-22` has 1 2 3 4 at
e20 f20 e22 f22, 1-2 one contact and 3-4 the other; turned, e20-e22 is one contact. The pins of the chips are those of
``tests/published/test_chip_pins.py``; those of the modules are as printed on them (memory).
"""

from __future__ import annotations

_TIMER = "GND:{} TRIG:{} OUT:{} RESET:{} CONT:{} THRES:{} DISCH:{} VCC:{}"


def timer(holes: str) -> str:
    """A 555 with pins 1 to 8 in these holes."""
    return _TIMER.format(*holes.split())


def pins(names: str, holes: str) -> str:
    """These pins in these holes, one by one."""
    return " ".join(f"{pin}:{hole}" for pin, hole in zip(names.split(), holes.split(), strict=True))


TIMER_IN_NOTCH_FIRST = "part U2 NE555 in e10 e11 e12 e13 f13 f12 f11 f10"
TIMER_IN_NOTCH_LAST = "part U2 NE555 in f13 f12 f11 f10 e10 e11 e12 e13"
TIMER_IN_ZIGZAG = "part U2 NE555 in e10 e11 e12 e13 f10 f11 f12 f13"
NOTCH_AT_10 = timer("e10 e11 e12 e13 f13 f12 f11 f10")
NOTCH_AT_13 = timer("f13 f12 f11 f10 e10 e11 e12 e13")

ONE_WAY: tuple[tuple[str, str], ...] = (
    # Across the channel, the notch at the first or the last row.
    ("part U2 NE555 across 10-13 notch row 10", NOTCH_AT_10),
    ("part U2 NE555 across 10-13 notch row 13", NOTCH_AT_13),
    ("part U2 NE555 across 13-10 notch row 10", NOTCH_AT_10),
    ("part U2 NE555 across 10 to 13 notch top", NOTCH_AT_10),
    ("part U2 NE555 across 10-13 notch bottom", NOTCH_AT_13),
    ("part U2 NE555 across 10-13 notch row 9", NOTCH_AT_10),
    ("part U2 NE555 across 10-13 notch faces row 1", NOTCH_AT_10),
    ("part U2 NE555 across 10-13 notch faces row 30", NOTCH_AT_13),
    # A dot is at pin 1: top left or bottom right.
    ("part U2 NE555 across 10-13 dot e10", NOTCH_AT_10),
    ("part U2 NE555 across 10-13 dot f13", NOTCH_AT_13),
    ("part U2 NE555 across 10-13 notch row 13 dot f13", NOTCH_AT_13),
    # Six pins, and wide ones in the columns that are named.
    ("part OK1 4N35 across 10-12 notch row 10", pins("A K NC E C B", "e10 e11 e12 f12 f11 f10")),
    ("part OK1 4N35 across 10-12 notch row 12", pins("A K NC E C B", "f12 f11 f10 e10 e11 e12")),
    ("part OK1 PC817 across 5-6 notch row 5", pins("A K E C", "e5 e6 f6 f5")),
    ("part U2 NE555 across 10-13 d-g notch row 10", timer("d10 d11 d12 d13 g13 g12 g11 g10")),
    ("part U2 NE555 across 10-13 c-h notch row 10", timer("c10 c11 c12 c13 h13 h12 h11 h10")),
    ("part U2 NE555 across 10-13 c-h notch row 13", timer("h13 h12 h11 h10 c10 c11 c12 c13")),
    ("part U2 NE555 across 10-13 c-h dot h13", timer("h13 h12 h11 h10 c10 c11 c12 c13")),
    # By `in`, which counts from pin 1; a dot or a notch that agrees changes nothing.
    (TIMER_IN_NOTCH_FIRST, NOTCH_AT_10),
    (f"{TIMER_IN_NOTCH_FIRST} dot e10", NOTCH_AT_10),
    (f"{TIMER_IN_NOTCH_FIRST} notch row 10", NOTCH_AT_10),
    (f"{TIMER_IN_NOTCH_FIRST} notch top", NOTCH_AT_10),
    (TIMER_IN_NOTCH_LAST, NOTCH_AT_13),
    (f"{TIMER_IN_NOTCH_LAST} notch row 13", NOTCH_AT_13),
    (f"{TIMER_IN_NOTCH_LAST} dot f13", NOTCH_AT_13),
    (f"{TIMER_IN_NOTCH_FIRST} as 5 6 7 8 1 2 3 4 measured", NOTCH_AT_13),
    # Buttons: the corners, however they are listed.
    ("part S1 button across 20-22", "1:e20 2:f20 3:e22 4:f22"),
    ("part S1 button across 20-22 turned", "1:e20 2:e22 3:f20 4:f22"),
    ("part S1 button across 20-22 d-g", "1:d20 2:g20 3:d22 4:g22"),
    ("part S1 button across 20-22 d-g turned", "1:d20 2:d22 3:g20 4:g22"),
    ("part S1 button in e20 f20 e22 f22", "1:e20 2:f20 3:e22 4:f22"),
    ("part S1 button in f22 e20 f20 e22", "1:e20 2:f20 3:e22 4:f22"),
    ("part S1 button in e22 e20 f22 f20", "1:e20 2:f20 3:e22 4:f22"),
    # Potentiometers and slide switches: the middle leg is known, the order of the holes says nothing.
    ("part P1 pot 10k in c10 c11 c12", "1:c10 W:c11 3:c12"),
    ("part P1 pot 10k in c12 c10 c11", "1:c10 W:c11 3:c12"),
    ("part P1 pot 10k in d10 b10 c10", "1:b10 W:c10 3:d10"),
    ("part P1 pot 10k in c10 d11 c12", "1:c10 W:d11 3:c12"),
    ("part P1 trimmer 10k in c11 c12 c10", "1:c10 W:c11 3:c12"),
    ("part S1 slide-switch in c12 c10 c11", "1:c10 COM:c11 3:c12"),
    ("part S1 slide-switch in e10 f10 g10", "1:e10 COM:f10 3:g10"),
    ("part P1 pot 10k in c10 c11 c12 as 3 W 1", "3:c10 W:c11 1:c12"),
    ("part P1 pot 10k in c10 c11 c12 as W 1 3 measured", "W:c10 1:c11 3:c12"),
    # Modules: the printed names settle it; four pins or more count from pin 1.
    ("part M1 pir-sensor in c10 c11 c12 as GND OUT VCC", "GND:c10 OUT:c11 VCC:c12"),
    ("part M1 pir-sensor in c12 c11 c10 as GND OUT VCC", "GND:c12 OUT:c11 VCC:c10"),
    ("part M1 distance-sensor in c10 c11 c12 c13", "VCC:c10 TRIG:c11 ECHO:c12 GND:c13"),
    ("part M1 distance-sensor in c13 c12 c11 c10", "VCC:c13 TRIG:c12 ECHO:c11 GND:c10"),
    ("part M1 distance-sensor in c10 c11 c12 c13 as GND ECHO TRIG VCC", "GND:c10 ECHO:c11 TRIG:c12 VCC:c13"),
    # The longest leg of an RGB LED is the common one, the second from the left.
    ("part D1 rgb-led common-cathode in c10 c11 c12 c13 long c11", "R:c10 COM:c11 G:c12 B:c13"),
)

# A button that is listed by `in` and said to be turned by a quarter.
TURNED_IN: tuple[tuple[str, str], ...] = (
    ("part S1 button in e20 f20 e22 f22 turned", "1:e20 2:e22 3:f20 4:f22"),
    ("part S1 button turned in f22 e20 f20 e22", "1:e20 2:e22 3:f20 4:f22"),
)

SEVERAL_WAYS: tuple[tuple[str, tuple[str, ...], str], ...] = (
    ("part U2 NE555 across 10-13", (NOTCH_AT_10, NOTCH_AT_13), "marking-unsaid"),
    ("part OK1 PC817 across 5-6", (pins("A K E C", "e5 e6 f6 f5"), pins("A K E C", "f6 f5 e5 e6")), "marking-unsaid"),
    ("part U2 NE555 across 10-13 notch row 10 dot f13", (NOTCH_AT_10, NOTCH_AT_13), "claim-contradicts-marking"),
    # The mark against the count of `in`: as listed, and as the mark has it.
    (f"{TIMER_IN_NOTCH_FIRST} dot f13", (NOTCH_AT_10, NOTCH_AT_13), "claim-contradicts-marking"),
    (f"{TIMER_IN_NOTCH_FIRST} notch row 13", (NOTCH_AT_10, NOTCH_AT_13), "claim-contradicts-marking"),
    (f"{TIMER_IN_NOTCH_LAST} notch row 10", (NOTCH_AT_13, NOTCH_AT_10), "claim-contradicts-marking"),
    (f"{TIMER_IN_NOTCH_FIRST} as 5 6 7 8 1 2 3 4", (NOTCH_AT_10, NOTCH_AT_13), "claim-contradicts-marking"),
    # No DIP counts down both sides: as listed, and as a DIP with pin 1 there counts.
    (TIMER_IN_ZIGZAG, (timer("e10 e11 e12 e13 f10 f11 f12 f13"), NOTCH_AT_10), "claim-contradicts-marking"),
    (f"{TIMER_IN_ZIGZAG} notch row 10", (timer("e10 e11 e12 e13 f10 f11 f12 f13"), NOTCH_AT_10),
     "claim-contradicts-marking"),
    (f"{TIMER_IN_ZIGZAG} notch row 13", (timer("e10 e11 e12 e13 f10 f11 f12 f13"), NOTCH_AT_13),
     "claim-contradicts-marking"),
    # Nor has one pin 1 at the bottom left.
    ("part U2 NE555 in e13 e12 e11 e10 f10 f11 f12 f13",
     (timer("e13 e12 e11 e10 f10 f11 f12 f13"), NOTCH_AT_10, NOTCH_AT_13), "claim-contradicts-marking"),
    # A row of pins is turned round, not shifted along.
    ("part K1 reed-relay in c10 c12 c14 c16 dot c16",
     (pins("NO A1 A2 COM", "c10 c12 c14 c16"), pins("NO A1 A2 COM", "c16 c14 c12 c10")), "claim-contradicts-marking"),
    ("part D1 rgb-led common-cathode in c10 c11 c12 c13 long c12",
     ("R:c10 COM:c11 G:c12 B:c13", "R:c13 COM:c12 G:c11 B:c10"), "claim-contradicts-marking"),
    ("part P1 pot 10k in c10 c11 c12 as W 1 3", ("1:c10 W:c11 3:c12", "W:c10 1:c11 3:c12"),
     "claim-contradicts-marking"),
    ("part M1 pir-sensor in c10 c11 c12", ("VCC:c10 OUT:c11 GND:c12", "VCC:c12 OUT:c11 GND:c10"), "marking-unsaid"),
)

ASKED_BACK: tuple[tuple[str, str, int], ...] = (
    # `turned` is said of a button with four legs.
    ("part U2 NE555 across 10-13 notch row 10 turned", "bad-value mark-not-on-package", 1),
    ("part OK1 PC817 in e5 e6 f6 f5 turned", "bad-value mark-not-on-package", 1),
    ("part U2 NE555 across 10-14 notch row 10", "bad-value row-count", 0),
    ("part U2 NE555 across 10-12 notch row 10", "bad-value row-count", 0),
    ("part U2 NE555 across 10-13 notch row 11", "bad-value notch-in-the-middle", 2),
    ("part U2 NE555 across 10-13 notch row 12", "bad-value notch-in-the-middle", 2),
    ("part U2 NE555 across 10-13 dot e13", "bad-value dot-not-at-pin-1", 2),
    ("part U2 NE555 across 10-13 dot f10", "bad-value dot-not-at-pin-1", 2),
    ("part U2 NE555 across 10-13 flat faces a", "bad-value mark-not-on-package", 2),
    ("part U2 NE555 across 10-13 notch row 10 as 1 2 3 4 5 6 7 8", "bad-value claim-without-in", 1),
    (f"{TIMER_IN_NOTCH_FIRST} dot f10", "bad-value dot-not-at-pin-1", 1),
    (f"{TIMER_IN_NOTCH_FIRST} dot a10", "bad-value mark-elsewhere", 1),
    (f"{TIMER_IN_NOTCH_FIRST} notch row 11", "bad-value notch-in-the-middle", 1),
    (f"{TIMER_IN_NOTCH_FIRST} flat faces a", "bad-value mark-not-on-package", 1),
    (f"{TIMER_IN_NOTCH_FIRST} band e10", "bad-value mark-not-on-package", 1),
    ("part U2 NE555 in e10 e11 e12 e13 f13 f12 f11", "bad-value leg-count", 0),
    ("part K1 reed-relay in c10 c12 c14 c16 dot c12", "bad-value dot-not-at-pin-1", 1),
    ("part K1 reed-relay in c10 c12 c14 c16 notch row 10", "bad-value mark-not-on-package", 1),
    ("part D1 rgb-led common-cathode in c10 c11 c12 c13 long c13", "bad-value mark-elsewhere", 1),
    ("part M1 pir-sensor in c10 c11 c12 front faces a", "bad-value mark-not-on-package", 2),
    ("part S1 button in e20 f20 e22 g22", "bad-value corners-of-button", 0),
    ("part S1 button in e20 e21 e22 e23", "bad-value corners-of-button", 0),
    ("part S1 button in e20 f20", "bad-value leg-count", 0),
)
