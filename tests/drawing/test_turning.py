"""Which way round a part is drawn, read back from the SVG.

The table is worked out by hand from the makers' outline drawings, not from the checker: a TO-92 seen at its flat side
with the legs down has pin 1 at the left, so that a flat toward column a has pin 1 at the lowest row; a TO-220 likewise
from its printed side, the tab behind; a DIP seen from above counts down from the notch on its left and up on its right;
the band of a diode and the flat of an LED's rim are at the cathode, the stripe of an aluminium electrolytic is at its
negative leg, the + of a tantalum at its positive one. Pin orders: 2N3904 E B C, IRLZ44N G D S, NE555 1 is GND (the
makers' datasheets; they are in the parts library with their sources).
"""

from __future__ import annotations

import pytest

from tests.drawing.reading import centre, drawn, holes_of, legs_of, of_class, part, texts_of

LEFT, RIGHT, UP, DOWN = (-1, 0), (1, 0), (0, -1), (0, 1)

FACES = [
    # what the list says of Q1, the shape that is looked for, where it must lie as seen from the legs, pin 1 and its hole
    ("2N3904 in c10 c11 c12 flat faces a", "flat", LEFT, "E", "c10"),
    ("2N3904 in c10 c11 c12 flat faces j", "flat", RIGHT, "E", "c12"),
    ("2N3904 in h10 h11 h12 flat faces f", "flat", LEFT, "E", "h10"),
    ("2N3904 in c20 d21 c22 flat faces a", "flat", LEFT, "E", "c20"),
    ("2N3904 in c10 d10 e10 flat faces row 1", "flat", UP, "E", "e10"),
    ("2N3904 in c10 d10 e10 flat faces row 30", "flat", DOWN, "E", "c10"),
    ("2N3904 in c10 c11 c12 as E B C", "flat", LEFT, "E", "c10"),
    ("2N3904 in c10 c11 c12 as C B E", "flat", RIGHT, "E", "c12"),
    ("IRLZ44N in h10 h11 h12 tab faces j", "tab", RIGHT, "G", "h10"),
    ("IRLZ44N in h10 h11 h12 tab faces f", "tab", LEFT, "G", "h12"),
    ("IRLZ44N in h10 h11 h12 front faces j", "tab", LEFT, "G", "h12"),
    ("IRLZ44N in h10 h11 h12 tab faces row 30", "tab", DOWN, "G", ""),
]


@pytest.mark.parametrize(("said", "shape", "side", "pin", "hole"), FACES[:-1], ids=lambda value: str(value))
def test_a_face_is_on_the_side_that_the_list_says_and_pin_1_in_its_hole(
        said: str, shape: str, side: tuple[int, int], pin: str, hole: str) -> None:
    svg = drawn(f"board half\npart Q1 {said}\n")
    group = part(svg, "Q1")
    [mark] = of_class(group, shape)
    x, y = centre(mark)
    legs = legs_of(group)

    assert all((x - a) * side[0] + (y - b) * side[1] > 8 for a, b in legs.values()) or _bent(said, side, (x, y), legs)
    assert holes_of(svg)[hole] == legs[pin]
    assert shape in texts_of(svg)


def _bent(said: str, side: tuple[int, int], mark: tuple[float, float], legs: dict[str, tuple[float, float]]) -> bool:
    """Of legs that are not in one line the middle one may be bent to either side."""
    return "c20 d21 c22" in said and all((mark[0] - x) * side[0] > 8 for pin, (x, _) in legs.items() if pin != "B")


DIPS = [
    # what the list says of U1, the end of the notch, the hole of pin 1, of pin 4 and of pin 5
    ("NE555 across 10-13 notch row 10", UP, "e10", "e13", "f13"),
    ("NE555 across 10-13 notch row 13", DOWN, "f13", "f10", "e10"),
    ("NE555 across 10-13 notch top", UP, "e10", "e13", "f13"),
    ("NE555 across 10-13 dot f13", DOWN, "f13", "f10", "e10"),
    ("NE555 in e10 e11 e12 e13 f13 f12 f11 f10", UP, "e10", "e13", "f13"),
]


@pytest.mark.parametrize(("said", "end", "one", "four", "five"), DIPS, ids=lambda value: str(value))
def test_a_chip_has_its_notch_at_the_end_of_pin_1_and_a_dot_beside_it(
        said: str, end: tuple[int, int], one: str, four: str, five: str) -> None:
    svg = drawn(f"board half\npart U1 {said}\n")
    group, holes = part(svg, "U1"), holes_of(svg)
    legs = legs_of(group)
    [notch], [dot] = of_class(group, "notch"), of_class(group, "dot")

    assert (holes[one], holes[four], holes[five]) == (legs["GND"], legs["RESET"], legs["CONT"])
    assert all((centre(notch)[1] - y) * end[1] > 0 for _, y in legs.values())
    assert nearest(centre(dot), legs) == "GND"


POLES = [
    # what the list says of X, the shape, the pin that it must be nearest to, and that pin's hole
    ("D1 1N4001 in d12 d18 band d18", "band", "K", "d18"),
    ("D1 1N4001 in d12 d18 band d12", "band", "K", "d12"),
    ("D1 1N4148 in d12 g12 band g12", "band", "K", "g12"),
    ("D1 1N4001 in d12 d18 as A K", "band", "K", "d18"),
    ("D1 zener 5V1 in d12 d18 band d18", "band", "K", "d18"),
    ("LED1 led red in d12 d14 long d12", "flat", "K", "d14"),
    ("LED1 led red in d12 d14 short d12", "flat", "K", "d12"),
    ("LED1 led red in d12 d14 flat d14", "flat", "K", "d14"),
    ("C1 100uF in d12 d14 stripe d14", "stripe", "-", "d14"),
    ("C1 100uF in d12 d14 long d14", "stripe", "-", "d12"),
    ("C1 tantalum 10uF in d12 d14 plus d12", "plus", "+", "d12"),
    ("BZ1 buzzer in d12 d15 plus d15", "plus", "+", "d15"),
]


@pytest.mark.parametrize(("said", "shape", "pin", "hole"), POLES, ids=lambda value: str(value))
def test_a_band_a_stripe_a_flat_rim_and_a_plus_are_at_their_pole(said: str, shape: str, pin: str, hole: str) -> None:
    svg = drawn(f"board half\npart {said}\n")
    group = part(svg, said.split()[0])
    legs = legs_of(group)
    mark = of_class(group, shape)[0]
    at = centre(mark) if mark.tag.endswith(("path", "circle")) else (float(mark.get("x") or 0), float(mark.get("y") or 0))

    assert nearest(at, legs) == pin
    assert legs[pin] == holes_of(svg)[hole]


def nearest(place: tuple[float, float], legs: dict[str, tuple[float, float]]) -> str:
    return min(legs, key=lambda pin: (legs[pin][0] - place[0]) ** 2 + (legs[pin][1] - place[1]) ** 2)


MARKS = {"flat", "tab", "notch", "dot", "band", "stripe", "plus", "front"}
OPEN = [
    "D1 1N4001 in d12 d18",
    "D1 1N4001 in d12 d18 band d18 as K A",
    "LED1 led red in d12 d14",
    "C1 100uF in d12 d14",
    "Q1 2N3904 in c10 c11 c12",
    "Q1 2N3904 in c10 c11 c12 flat faces a as C B E",
    "U1 NE555 across 10-13",
    "X1 frobnicator in b2 b3 b4",
]


@pytest.mark.parametrize("said", OPEN)
def test_what_the_list_leaves_open_has_a_question_mark_and_no_mark(said: str) -> None:
    svg = drawn(f"board half\npart {said}\n")
    group = part(svg, said.split()[0])

    assert "?" in texts_of(svg)
    assert [] == [name for name in MARKS if of_class(group, name)]
    assert len(of_class(group, "leg-end")) == len(legs_of(group)) or said.startswith("X1")


def test_where_only_the_pin_order_is_open_the_flat_is_drawn_and_the_pins_are_asked() -> None:
    svg = drawn("board half\npart Q1 2N2222 in c10 c11 c12 flat faces a as E B C\n")

    assert of_class(part(svg, "Q1"), "flat")
    assert {"E?", "B", "C?"} <= set(texts_of(svg))


BUTTONS = [("across 20-22", {("1", "2"), ("3", "4")}), ("across 20-22 turned", {("1", "2"), ("3", "4")})]


@pytest.mark.parametrize(("said", "joined"), BUTTONS)
def test_the_lines_in_a_button_join_the_legs_that_are_always_joined(said: str, joined: set[tuple[str, str]]) -> None:
    svg = drawn(f"board half\npart S1 button {said}\n")
    group = part(svg, "S1")
    legs = legs_of(group)
    found = set()
    for line in of_class(group, "joined"):
        (xa, ya), (xb, yb) = (float(word) for word in (line.get("d") or "").replace("M", "").replace("L", "").split()[:2]), (
            float(word) for word in (line.get("d") or "").replace("M", "").replace("L", "").split()[2:])
        found.add(tuple(sorted((nearest((xa, ya), legs), nearest((xb, yb), legs)))))

    assert joined == found
