"""The board as SVG: everything in a list is there, in its place, readable, and safe to put into a page.

The pitch of a breadboard is 2.54 mm (0.1 in) in both directions and its channel takes a DIP of 0.3 in, so that e and f
are three pitches apart (common practice, no source).
"""

from __future__ import annotations

from itertools import combinations, pairwise
from xml.etree import ElementTree

import pytest

from checker.drawing import board_svg, plan_of
from checker.drawing.plan import Plan
from checker.drawing.shapes import PITCH, Box, Words
from checker.examples import text_of
from tests.drawing.reading import (
    EXAMPLES,
    SVG,
    drawn,
    drawn_example,
    example,
    holes_of,
    legs_of,
    of_class,
    part,
    points_of,
    report_of,
    surveyed_of,
    texts_of,
)

PLACED = [name for name in EXAMPLES if example(name).seated.readings[0].plans]
MOST_OVERLAP = 0.08
"""Share of the smaller of two words that another may cover: less than the space between letters."""
LEAST_FROM_HOLE = 4.5
"""Units that a wire keeps from the middle of a hole that is not its own; the hole has a radius of 1.7, the wire half of
that."""


# ── where the holes are ───────────────────────────────────────────────────────────────────────────────────────────

STEPS = [("a1", "b1", 1, 0), ("a1", "a2", 0, 1), ("e1", "f1", 3, 0), ("i7", "j7", 1, 0), ("L+1", "L-1", 1, 0),
         ("L-5", "a5", 2, 0), ("j5", "R+5", 2, 0), ("a1", "a30", 0, 29)]


@pytest.mark.parametrize(("one", "other", "columns", "rows"), STEPS)
def test_holes_are_a_pitch_apart_and_the_channel_is_three(one: str, other: str, columns: int, rows: int) -> None:
    holes = holes_of(drawn("board half\npart R1 1k in a2 a9\n"))

    assert (columns * PITCH, rows * PITCH) == (holes[other][0] - holes[one][0], holes[other][1] - holes[one][1])


BOARDS = [("mini", 17 * 10, False), ("half", 30 * 14, False), ("half rails split", 30 * 14, True), ("full", 63 * 14, False),
          ("full rails split", 63 * 14, True)]


@pytest.mark.parametrize(("said", "count", "gap"), BOARDS)
def test_each_board_has_its_holes_and_a_split_rail_its_gap(said: str, count: int, gap: bool) -> None:
    last = "part R3 1k in a50 a60\n" if "full" in said else ""
    svg = drawn(f"board {said}\npart R1 1k in a2 a9\npart R2 1k in a10 a16\n{last}")

    assert count == len(holes_of(svg))
    assert gap == ("gap" in texts_of(svg))


def test_the_empty_end_of_a_long_board_is_left_out_and_said_so() -> None:
    svg = drawn("board full\npart R1 1k in a2 a9\n")

    assert "a12" in holes_of(svg) and "a13" not in holes_of(svg)
    assert "rows 13-63: nothing in them" in texts_of(svg)


def test_the_two_boards_of_a_list_stand_side_by_side_and_their_holes_bear_their_names() -> None:
    svg = drawn("board LEFT mini\nboard RIGHT half\npart R1 1k in LEFT:a2 LEFT:a9\nwire LEFT:b9 to RIGHT:a3\n")
    holes = holes_of(svg)

    assert {"LEFT", "RIGHT"} <= set(texts_of(svg))
    assert holes["LEFT:j3"][0] + PITCH < holes["RIGHT:L+3"][0] and holes["LEFT:j3"][1] == holes["RIGHT:a3"][1]


# ── every part and every wire of every example ────────────────────────────────────────────────────────────────────


@pytest.mark.parametrize("name", PLACED)
def test_every_leg_ends_in_its_hole(name: str) -> None:
    surveyed, svg = example(name), drawn_example(name)
    holes = holes_of(svg)
    many = len(surveyed.seated.readings[0].plans) > 1
    for key, seat in surveyed.seated.readings[0].seats.items():
        legs = legs_of(part(svg, surveyed.bench.parts[key].name))
        assert set(seat.legs) == set(legs)
        for pin, spot in seat.legs.items():
            where = f"{spot.board}:" if many and spot.board else ""
            row = spot.row if spot.row is not None else 0
            name_ = f"{where}{getattr(spot, 'column', '') or spot.text.rpartition(':')[2][:2]}{row}"
            assert row == 0 or holes[name_] == legs[pin], f"{key}.{pin}"


@pytest.mark.parametrize("name", PLACED)
def test_every_stretch_of_wire_runs_from_its_one_end_to_its_other(name: str) -> None:
    surveyed, svg = example(name), drawn_example(name)
    jumpers = [group for group in svg.iter(f"{SVG}g") if group.get("class") == "jumper"]
    supplies = sum(len(getattr(p.statement, "terminals", ())) for p in surveyed.bench.parts.values())
    holes, pins = holes_of(svg), wired_pins(plan_of(surveyed))

    assert sum(len(wire.points) - 1 for wire in surveyed.bench.wires) + supplies == len(jumpers)
    for group in jumpers:
        points = points_of(group[1])
        for end, point in ((group.get("data-from") or "", points[0]), (group.get("data-to") or "", points[-1])):
            assert point == pytest.approx((holes | pins)[end], abs=0.02)


def wired_pins(plan: Plan) -> dict[str, tuple[float, float]]:
    return {f"{box.name}.{pin.pin}" if pin.pin else box.name: (pin.x, pin.y) for box in plan.boxes for pin in box.pins}


def test_a_wire_bears_the_number_of_its_line_and_a_colour_its_own_dash() -> None:
    svg = drawn("board half\npart R1 1k in b2 b9\nwire red a2 to L+2\nwire black a9 to L-9\nwire a20 to a25\n")
    wires = {group.get("data-line"): group for group in of_class(svg, "jumper")}

    assert {"3", "4", "5"} == set(wires)
    looks = {(wire[2].get("stroke"), wire[2].get("stroke-dasharray"), wire[2].get("stroke-width")) for wire in wires.values()}
    assert 3 == len(looks) == len({look[1:] for look in looks})
    assert {"red", "black"} <= set(texts_of(svg))


# ── readable ──────────────────────────────────────────────────────────────────────────────────────────────────────


def words_of(plan: Plan) -> list[Words]:
    """All words that can be seen: not what is printed on the board under a body."""
    printed = [shape for board in plan.boards for shape in board.shapes if isinstance(shape, Words)
               and not any(p.body.overlap(shape.box) > 0 for p in plan.parts)]
    groups = [printed, *(p.labels for p in plan.parts), *(p.shapes for p in plan.parts),
              *(box.shapes for box in plan.boxes), *(mark.shapes for mark in plan.marks), plan.written]
    return [shape for group in groups for shape in group if isinstance(shape, Words)]


def covered(one: Box, other: Box) -> float:
    """The share of the smaller of two boxes that the other covers."""
    areas = [(box.right - box.left) * (box.bottom - box.top) for box in (one, other)]
    return one.overlap(other) / min(areas)


@pytest.mark.parametrize("name", PLACED)
def test_no_words_run_into_each_other_and_all_are_on_the_paper(name: str) -> None:
    plan = plan_of(example(name))
    words = words_of(plan)
    paper = Box(0, 0, plan.width, plan.height)

    assert [] == [word.text for word in words if not (paper.holds((word.box.left, word.box.top))
                                                      and paper.holds((word.box.right, word.box.bottom)))]
    assert [] == [(a.text, b.text) for a, b in combinations(words, 2) if covered(a.box, b.box) > MOST_OVERLAP]


def test_words_that_run_into_each_other_would_be_found() -> None:
    one, other = Words(0, 0, "R1", 10).box, Words(8, 2, "R2", 10).box

    assert covered(one, other) > MOST_OVERLAP
    assert 0 == covered(one, Words(30, 0, "R2", 10).box)


@pytest.mark.parametrize("name", PLACED)
def test_no_wire_hides_a_hole_that_is_not_its_own(name: str) -> None:
    plan = plan_of(example(name))
    holes = [hole for board in plan.boards for hole in board.holes]

    assert [] == [(jumper.line, hole.name) for jumper in plan.jumpers for hole in holes if hole.name not in jumper.ends
                  and any(away(one, other, (hole.x, hole.y)) < LEAST_FROM_HOLE for one, other in pairwise(jumper.points))]


@pytest.mark.parametrize("name", PLACED)
def test_no_wire_runs_along_upon_another(name: str) -> None:
    """Wires may cross; side by side they are at least the width of a line apart, unless they come from one end."""
    jumpers = plan_of(example(name)).jumpers

    assert [] == [(one.line, other.line) for one, other in combinations(jumpers, 2) if not set(one.ends) & set(other.ends)
                  and any(run_together(a, b) for a in pairwise(one.points) for b in pairwise(other.points))]


Stretch = tuple[tuple[float, float], tuple[float, float]]


def run_together(one: Stretch, other: Stretch) -> bool:
    """True where two straight lines lie upon each other for more than a third of a pitch."""
    for along, across in ((0, 1), (1, 0)):
        if abs(one[0][across] - one[1][across]) < 0.1 and abs(other[0][across] - other[1][across]) < 0.1:
            low = max(min(point[along] for point in line) for line in (one, other))
            high = min(max(point[along] for point in line) for line in (one, other))
            return high - low > PITCH / 3 and abs(one[0][across] - other[0][across]) < 3.0
    return False


def test_lines_that_run_together_would_be_found() -> None:
    assert run_together(((0, 0), (50, 0)), ((40, 1), (90, 1))) and run_together(((5, 0), (5, 40)), ((5, 10), (5, 20)))
    assert not run_together(((0, 0), (50, 0)), ((20, -9), (20, 9))) and not run_together(((0, 0), (50, 0)), ((0, 4), (50, 4)))


def away(one: tuple[float, float], other: tuple[float, float], place: tuple[float, float]) -> float:
    """How far a point is from a stretch of a line."""
    x, y = other[0] - one[0], other[1] - one[1]
    length = x * x + y * y
    share = max(0.0, min(1.0, ((place[0] - one[0]) * x + (place[1] - one[1]) * y) / length)) if length else 0.0
    return float(((one[0] + share * x - place[0]) ** 2 + (one[1] + share * y - place[1]) ** 2) ** 0.5)


def test_the_distance_from_a_line_is_measured_to_its_nearest_point() -> None:
    assert 5.0 == away((0, 0), (10, 0), (4, 5)) == away((0, 0), (10, 0), (13, 4))


LONG = "board full\npart U1 controller-5v\n" + "".join(
    f"part R{row} 1k in b{row} b{row + 3}\nwire U1.D{row % 12 + 2} to a{row}\n" for row in range(1, 61, 5))


@pytest.mark.parametrize("text", [LONG, *map(text_of, PLACED)], ids=["63 rows", *PLACED])
def test_a_drawing_can_be_read_on_one_sheet_of_a4(text: str) -> None:
    """A4 (ISO 216: 210 mm by 297 mm) less margins of 10 mm, upright or across; then words of 9 units are set larger than
    4.5 points, which is the smallest that is usual in print (common practice, no source)."""
    plan = plan_of(surveyed_of(text))
    millimetres = max(min(190 / plan.width, 277 / plan.height), min(277 / plan.width, 190 / plan.height))

    assert 9 * millimetres > 4.5 * 25.4 / 72


# ── findings ──────────────────────────────────────────────────────────────────────────────────────────────────────


def test_a_finding_has_its_number_at_the_part_rings_at_the_holes_and_its_sentence_below() -> None:
    surveyed = example("seed-tray-mister-diode-round")
    report = report_of(surveyed)
    svg = ElementTree.fromstring(board_svg(surveyed, report))
    marks = [(one.get("data-finding"), one.get("data-at")) for one in of_class(svg, "finding")]

    assert {("0", "D1"), ("0", "d12"), ("0", "d18")} == set(marks)
    assert 2 == len(of_class(svg, "ring"))
    assert report.findings[0].message in texts_of(svg) and "1" in texts_of(svg)
    assert [] == of_class(ElementTree.fromstring(board_svg(surveyed)), "finding")


@pytest.mark.parametrize("name", ["rain-barrel-gauge-no-ground", "branch-line-signal-rail-gap", "dusk-lamp-row-off",
                                  "stable-door-grounds-apart", "tram-drive-supplies-exchanged"])
def test_marks_of_findings_cover_no_words(name: str) -> None:
    plan = plan_of(example(name), report_of(example(name)))
    words = [word for word in words_of(plan) if not any(word in mark.shapes for mark in plan.marks)]
    discs = [shape for mark in plan.marks for shape in mark.shapes if not isinstance(shape, Words) and shape.name != "ring"]

    assert plan.marks
    assert [] == [word.text for word in words for disc in discs
                  if covered(word.box, Box(disc.x - 6, disc.y - 6, disc.x + 6, disc.y + 6)) > 0.25]


# ── for a page ────────────────────────────────────────────────────────────────────────────────────────────────────


@pytest.mark.parametrize("name", ["seed-tray-mister", "floor-bell", "puppet-nose"])
def test_a_drawing_has_a_view_box_a_title_and_a_description_and_no_style(name: str) -> None:
    svg = drawn_example(name)

    assert "img" == svg.get("role") and 4 == len((svg.get("viewBox") or "").split())
    assert [f"{SVG}title", f"{SVG}desc"] == [one.tag for one in svg[:2]] and all(one.text for one in svg[:2])
    assert [] == [one.tag for one in svg.iter() if one.get("style") or one.tag in (f"{SVG}style", f"{SVG}script")]


def test_a_description_says_where_each_leg_is() -> None:
    svg = drawn_example("seed-tray-mister")

    assert "Q1, PN2222A: E in c10, B in c11, C in c12; flat toward the left" in (svg[1].text or "")
    assert "D1, 1N4001: A in d12, K in d18; band at d18" in (svg[1].text or "")


HOSTILE = "</title><script>alert(1)</script>&\u202e"


def test_what_a_list_says_cannot_become_markup() -> None:
    text = f'title "{HOSTILE}"\nboard half\npart X1 <b>&amp in b2 b3\nwire X2.<i> to a5\n'
    svg = board_svg(surveyed_of(text))

    assert "<script" not in svg and "<b>" not in svg
    assert HOSTILE.replace("\u202e", "\ufffd") == ElementTree.fromstring(svg)[0].text


LEFT_OUT = [
    ("part R1 1k in a2 a99", "R1 is not drawn: no hole a99"),
    ("wire a2 to a77", "a wire is not drawn: no hole a77"),
    ("wire a2 to Z9.1", "a wire is not drawn: Z9.1 is not known"),
]


@pytest.mark.parametrize(("line", "note"), LEFT_OUT)
def test_what_has_no_place_on_the_board_is_said(line: str, note: str) -> None:
    svg = drawn(f"board half\npart R9 1k in c3 c9\n{line}\n")

    assert note in texts_of(svg)


def test_a_list_without_a_board_gives_its_connections_and_says_so() -> None:
    svg = drawn_example("puppet-nose")

    assert "connection-diagram" == svg.get("class")
    assert any("puts nothing on a board" in text for text in texts_of(svg))


def test_a_rail_without_a_row_is_met_beside_the_other_end() -> None:
    svg = drawn("board half\nsupply PS 5V on L+ L-\npart R1 1k in b7 b14\nwire a7 to L+\nwire a14 to L-\n")
    ends = {(group.get("data-from"), group.get("data-to")) for group in of_class(svg, "jumper")}

    assert {("PS.+", "L+1"), ("PS.-", "L-1"), ("a7", "L+7"), ("a14", "L-14")} == ends
