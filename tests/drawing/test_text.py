"""The board in a terminal: rows in use, signs for what is seen, words at the side, no line too wide.

Two drawings are kept whole and meant to be read.
"""

from __future__ import annotations

import pytest

from checker.drawing import board_text
from tests.drawing.reading import EXAMPLES, example, report_of, surveyed_of

PUMP = '''title "Pump stage"
board mini
part Q1 PN2222A in c3 c4 c5 flat faces a as E B C
part D1 1N4001 in d5 d9 band d9
part R1 220 in b4 b8
wire red e9 to f9
'''

PUMP_DRAWN = '''\
Pump stage

mini board, 17 rows
     a  b  c  d  e       f  g  h  i  j
  ⋮   1 row with nothing in it
  2  ·  ·  ·  ·  ·       ·  ·  ·  ·  ·
  3  ·  · ▐E  ·  ·       ·  ·  ·  ·  ·  c3 Q1 E (flat left)
  4  ·  R1▐B  ·  ·       ·  ·  ·  ·  ·  b4 R1  c4 Q1 B
  5  ·  · ▐C  A  ·       ·  ·  ·  ·  ·  c5 Q1 C  d5 D1 A
  6  ·  ·  ·  ·  ·       ·  ·  ·  ·  ·
  7  ·  ·  ·  ·  ·       ·  ·  ·  ·  ·
  8  ·  R1 ·  ·  ·       ·  ·  ·  ·  ·  b8 R1
  9  ·  ·  · ╫K╫ o       o  ·  ·  ·  ·  d9 D1 K (band)  e9 → f9 red
 10  ·  ·  ·  ·  ·       ·  ·  ·  ·  ·
  ⋮   down to row 17
'''

CHIP = '''title "Blinker"
board half rails split
supply BAT 9v-block on L+1 L-1
part U1 NE555 across 14-17 notch row 17
part C1 10uF in h20 h22 stripe h22
part LED1 led red in b20 b22
part S1 button
wire L+16 to a16
wire S1.1 to j20
'''

CHIP_DRAWN = '''\
Blinker

half board, 30 rows
      +  -  a  b  c  d  e       f  g  h  i  j   +  -
  1  o  o   ·  ·  ·  ·  ·       ·  ·  ·  ·  ·   ·  ·  L+1 → BAT.+  L-1 → BAT.-
  2  ·  ·   ·  ·  ·  ·  ·       ·  ·  ·  ·  ·   ·  ·
  ⋮   10 rows with nothing in them
 13  ·  ·   ·  ·  ·  ·  ·       ·  ·  ·  ·  ·   ·  ·
 14  ·  ·   ·  ·  ·  ·  5 ┤   ├ 4  ·  ·  ·  ·   ·  ·  e14 U1 CONT  f14 U1 RESET
 15  ·  ·   ·  ·  ·  ·  6 ┤   ├ 3  ·  ·  ·  ·   ·  ·  e15 U1 THRES  f15 U1 OUT
    ══ gap                                    ══ gap
 16  o  ·   o  ·  ·  ·  7 ┤U1 ├ 2  ·  ·  ·  ·   ·  ·  L+16 → a16  e16 U1 DISCH
                                                      f16 U1 TRIG
 17  ·  ·   ·  ·  ·  ·  8 ┤ ∩ ├ 1  ·  ·  ·  ·   ·  ·  e17 U1 VCC  f17 U1 GND
 18  ·  ·   ·  ·  ·  ·  ·       ·  ·  ·  ·  ·   ·  ·
 19  ·  ·   ·  ·  ·  ·  ·       ·  ·  ·  ·  ·   ·  ·
 20  ·  ·   ·  A? ·  ·  ·       ·  ·  +  ·  o   ·  ·  b20 LED1 A? (which way: ?)
                                                      h20 C1 +  j20 → S1.1
 21  ·  ·   ·  ·  ·  ·  ·       ·  ·  ·  ·  ·   ·  ·
 22  ·  ·   ·  K? ·  ·  ·       ·  · ▒−▒ ·  ·   ·  ·  b22 LED1 K?
                                                      h22 C1 - (stripe)
 23  ·  ·   ·  ·  ·  ·  ·       ·  ·  ·  ·  ·   ·  ·
  ⋮   down to row 30

Beside the board:
  BAT (9v-block): + → L+1, - → L-1
  S1 (button): 1 → j20

  ?: the list leaves this open. Drawn is the first way to read it.
'''


@pytest.mark.parametrize(("text", "drawing"), [(PUMP, PUMP_DRAWN), (CHIP, CHIP_DRAWN)], ids=["pump", "chip"])
def test_two_drawings_as_they_are_to_be_read(text: str, drawing: str) -> None:
    assert drawing.splitlines() == board_text(surveyed_of(text)).splitlines()


@pytest.mark.parametrize("width", [56, 80, 120])
@pytest.mark.parametrize("name", EXAMPLES)
def test_no_line_is_wider_than_the_terminal(name: str, width: int) -> None:
    assert [] == [line for line in board_text(example(name), width=width).splitlines() if len(line) > width]


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_part_of_a_list_is_named(name: str) -> None:
    shown = board_text(example(name), width=120)

    assert [] == [part.name for part in example(name).bench.parts.values() if part.name not in shown]


FACES = [("a", "▐E ", "flat left"), ("j", "E▌", "flat right")]


@pytest.mark.parametrize(("column", "sign", "words"), FACES)
def test_a_flat_is_a_bar_on_its_side_of_the_pin(column: str, sign: str, words: str) -> None:
    shown = board_text(surveyed_of(f"board mini\npart Q1 2N3904 in c3 c4 c5 flat faces {column}\n"))

    assert sign in shown and f"({words})" in shown


def test_findings_are_numbered_at_their_holes_and_said_below() -> None:
    surveyed = example("seed-tray-mister-diode-round")
    lines = board_text(surveyed, report_of(surveyed)).splitlines()

    assert any("d12 D1 K (band) (1)" in line for line in lines)
    assert any("(1) D1 is the wrong way round" in line for line in lines)


def test_colour_is_only_in_the_title_and_control_characters_are_shown() -> None:
    surveyed = surveyed_of('title "Bell\x7f\u202e"\nboard mini\npart R1 1k in b2 b9\n')
    plain, colour = board_text(surveyed), board_text(surveyed, colour=True)

    assert plain.startswith("Bell\ufffd\ufffd\n") and "\x1b" not in plain
    assert plain.splitlines()[1:] == colour.splitlines()[1:] and colour.startswith("\x1b[1m")
