"""Drawings of packages: exactly as printed, every pin once, and the way round that the checker itself reads the marks.

The drawings below were looked over against the makers' outline drawings. Three legs: TO-92 at the flat side and TO-220
at the printed side, legs down, pin 1 at the left (JEDEC TO-226 and TO-220; PN2222A, Fairchild, Rev. 1.0.0; L78, DS0422,
STMicroelectronics). Two rows: from above, notch at the top, down the left side and up the right (JEDEC MS-001; NE555,
Diodes Incorporated; L293x, SLRS008, Texas Instruments). The band is the cathode (1N4001, from memory), the longer leg of
an LED the anode and its flat at the cathode, the stripe of an aluminium electrolytic at minus (common practice, no source).
"""

from __future__ import annotations

import re
from collections import Counter
from textwrap import dedent

import pytest
from msgspec.structs import replace

from checker.bench.inventory import lay_out
from checker.cards.drawing import draw
from checker.cards.leg import legs_of
from checker.cards.marks import marks_of
from checker.seating.seat import seat
from grammar import read
from parts_library import load_library

LIBRARY = load_library()
WIDEST = 76  # A page of 80 less the indent of the card.


def drawn(name: str) -> list[str]:
    entry = LIBRARY.entries[name]
    return list(draw(entry, LIBRARY.packages[entry.package]).lines)


DRAWINGS = {
    "PN2222A": """
        ╭───────────────╮
        │      flat     │
        │      side     │
        └──┬────┬────┬──┘
           │    │    │
           1    2    3
           E    B    C
        """,
    "7805": """
        ┌───────────────┐
        │       O       │
        │      tab      │
        ├───────────────┤
        │    printed    │
        │      side     │
        └──┬────┬────┬──┘
           │    │    │
           1    2    3
           IN  GND  OUT
        """,
    "BD139": """
        ┌───────────────┐
        │       O       │
        │    printed    │
        │      side     │
        └──┬────┬────┬──┘
           │    │    │
           1    2    3
           E    C    B
        """,
    "NE555": """
                ┌──╮ ╭──┐
                │  ╰─╯  │
          GND 1 ┤•      ├ 8 VCC
         TRIG 2 ┤       ├ 7 DISCH
          OUT 3 ┤       ├ 6 THRES
        RESET 4 ┤       ├ 5 CONT
                └───────┘
        """,
    "1N4001": """
              ╭──────────╮
        1 A ──┤      ███ ├── 2 K
              ╰──────────╯
                     band
        """,
    "ir-receiver": """
        ┌───────────────┐
        │    ( dome )   │
        │               │
        └──┬────┬────┬──┘
           │    │    │
           1    2    3
          OUT  GND   VS
        """,
    "dip-switch-2": """
           ┌──╮ ╭──┐
           │  ╰─╯  │
         1 ┤•      ├ 4
         2 ┤       ├ 3
           └───────┘
        """,
    "relay": """
        ∙─ 1 A1
        ∙─ 2 A2
        ∙─ 3 COM
        ∙─ 4 NO
        ∙─ 5 NC
        """,
    "resistor": """
            ╭──────────╮
        1 ──┤          ├── 2
            ╰──────────╯
        """,
    "led red": """
         ╭───────╮
         │       │
        ╭┴───────┤  the rim is flat on this side
        ╰─┬─────┬┘
          │     │
          │     2 K  shorter leg
          │
          1 A  longer leg
        """,
    "phototransistor": """
         ╭───────╮
         │       │
        ╭┴───────┤  the rim is flat on this side
        ╰─┬─────┬┘
          │     │
          │     1 C  shorter leg
          │
          2 E  longer leg
        """,
    "electrolytic": """
        ┌─────┬───┐
        │     │ - │  the stripe
        │     │ - │
        └─┬───┴─┬─┘
          │     │
          │     2 -  shorter leg
          │
          1 +  longer leg
        """,
    "tantalum": """
        ╭─────────╮
        │ +       │  the bar or + is on this side
        │         │
        ╰─┬─────┬─╯
          │     │
          │     2 -  shorter leg
          │
          1 +  longer leg
        """,
    "button": """
           ┌───────┐
        1 ─┼───────┼─ 2
           │  (_)  │
        3 ─┼───────┼─ 4
           └───────┘
        """,
    "pot": """
        ┌───────────────┐
        │               │
        └──┬────┬────┬──┘
           │    │    │
           1    2    3
                W
        """,
    "rgb-led common-cathode": """
        ╭────────────────────╮
        │                    │
        └──┬────┬────┬────┬──┘
           │    │    │    │
           1    │    3    4
           R    │    G    B
                2
               COM
        """,
    "seven-segment common-cathode": """
            10     9      8      7      6
            G      F     COM2    A      B
        ┌───┴──────┴──────┴──────┴──────┴───┐
        │                ───                │
        │               │   │               │
        │                ───                │
        │               │   │               │
        │                ─── •              │
        └───┬──────┬──────┬──────┬──────┬───┘
            1      2      3      4      5
            E      D     COM     C      DP
        """,
    "distance-sensor": """
        ┌────────────────────────────┐
        │                            │
        └───┬──────┬──────┬──────┬───┘
            │      │      │      │
            1      2      3      4
           VCC    TRIG   ECHO   GND
        """,
    "real-time-clock": """
           ┌────────┐
        1 ─┤ GND    │
        2 ─┤ VCC    │
        3 ─┤ SDA    │
        4 ─┤ SCL    │
        5 ─┤ SQW    │
        6 ─┤ 32K    │
           └────────┘
        """,
    "servo": """
        ∙─ 1 SIG
        ∙─ 2 V+
        ∙─ 3 GND
        """,
}


@pytest.mark.parametrize("name", DRAWINGS)
def test_a_part_is_drawn_from_the_side_that_a_person_looks_at(name: str) -> None:
    assert dedent(DRAWINGS[name]).strip("\n") == "\n".join(drawn(name))


# ── every pin once ────────────────────────────────────────────────────────────────────────────────────────────────


BODY = re.compile(r"\s*(?:[╭╰┌└├╱]|│.*│)")
NOTES = re.compile(r"shorter leg|longer leg|\bband\b|\(_\)")


def written_at_legs(lines: list[str]) -> Counter[str]:
    """The words of a drawing outside its body: numbers and names."""
    outside = [NOTES.sub("", line) for line in lines if not BODY.match(line)]
    return Counter(word for line in outside for word in re.findall(r"[^\s│┤├─┼•█∙]+", line))


def test_every_pin_and_its_number_stand_once_in_the_drawing_of_every_part() -> None:
    legs = {name: legs_of(entry, LIBRARY.packages[entry.package]) for name, entry in LIBRARY.entries.items()}
    expected = {name: Counter(word for leg in found for word in (leg.number, leg.name) if word) for name, found in legs.items()}

    assert [] == [name for name in expected if expected[name] != written_at_legs(drawn(name))]
    assert [] == [name for name in legs if tuple(leg.name for leg in legs[name]) != LIBRARY.entries[name].pins]


def test_a_pin_left_out_or_written_twice_is_seen() -> None:
    lines = drawn("NE555")

    assert "VCC" not in written_at_legs([line.replace("VCC", "") for line in lines])
    assert 2 == written_at_legs([line.replace("CONT", "VCC") for line in lines])["VCC"]


def test_every_drawing_fits_on_the_page_and_has_no_blanks_at_its_ends() -> None:
    lines = [(name, line) for name in LIBRARY.entries for line in drawn(name)]

    assert [] == [(name, line) for name, line in lines if len(line) > WIDEST or line != line.rstrip()]


# ── the same way round as the checker reads it ────────────────────────────────────────────────────────────────────


def legs_in(line: str) -> dict[str, str]:
    """Pin to hole, as the checker seats the one part of a list."""
    bench, mishaps = lay_out(read(f"board half\n{line}\n"), LIBRARY)
    assert mishaps == []
    (reading,) = seat(bench).readings
    return {pin: hole.text for pin, hole in reading.seats["x"].legs.items()}


@pytest.mark.parametrize("name", ["PN2222A", "BC547", "2N7000", "78L05", "TMP36", "7805", "IRLZ44N", "BD139"])
def test_three_legs_stand_in_the_order_that_the_checker_reads_from_the_same_side(name: str) -> None:
    """Looked at from column a, row 10 is at the left: hold the board with row 1 at the top and turn it by a quarter."""
    package = LIBRARY.packages[LIBRARY.entries[name].package]
    mark = "flat" if "flat" in package.marks else "front"
    seated = legs_in(f"part X {name} in c10 c11 c12 {mark} faces a")

    assert sorted(seated, key=lambda pin: seated[pin]) == drawn(name)[-1].split()


@pytest.mark.parametrize(("name", "rows"), [("NE555", "10-13"), ("L293D", "10-17"), ("74HC595", "10-17"), ("PC817", "10-11")])
def test_two_rows_stand_at_the_sides_that_the_checker_reads(name: str, rows: str) -> None:
    seated = legs_in(f"part X {name} across {rows} notch row 10")
    sides = [re.match(r"\s*(\S+) \d+ ┤.*├ +\d+ (\S+)", line) for line in drawn(name)]
    shown = [side.groups() for side in sides if side]
    at = {hole: pin for pin, hole in seated.items()}

    assert [(at[f"e{row}"], at[f"f{row}"]) for row in range(10, 10 + len(shown))] == shown
    assert len(shown) * 2 == len(seated)


@pytest.mark.parametrize(("name", "value"), [("led red", ""), ("electrolytic", "10uF"), ("tantalum", "10uF"), ("buzzer", ""),
                                             ("phototransistor", ""), ("photodiode", "")])
def test_the_longer_leg_is_the_one_that_the_checker_takes_for_it(name: str, value: str) -> None:
    seated = legs_in(f"part X {name} {value} in b10 b15 long b15")
    longer = next(line.split()[-3] for line in drawn(name) if line.endswith("longer leg"))

    assert "b15" == seated[longer]


@pytest.mark.parametrize(("name", "pins"), [("led red", ("K", "A")), ("electrolytic", ("-", "+")), ("1N4001", ("K", "A"))])
def test_the_marks_stay_at_their_pins_where_a_kit_names_the_pins_the_other_way_round(name: str, pins: tuple[str, str]) -> None:
    entry = LIBRARY.entries[name]
    package = LIBRARY.packages[entry.package]
    marks = {(mark.mark, mark.pin) for mark in marks_of(entry, package)}

    assert marks == {(mark.mark, mark.pin) for mark in marks_of(replace(entry, pins=pins), package)}
    assert marks


@pytest.mark.parametrize("name", ["1N4001", "1N4148", "1N5817", "BZX79C5V1"])
def test_the_band_is_at_the_end_that_the_checker_takes_for_it(name: str) -> None:
    seated = legs_in(f"part X {name} in b10 b15 band b15")
    (body,) = [line for line in drawn(name) if "███" in line]

    assert "b15" == seated[body.split()[-1]]
    assert body.index("███") > len(body) // 2 - len("███")
