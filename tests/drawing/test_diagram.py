"""The diagram of connections, read back: it joins what the circuit joins and nothing else, plus is above minus.

Symbols follow the ideas of IEC 60617 (a box for a resistor, a triangle whose bar is the cathode, a circle for a motor; from
memory). What is joined is read from the lines of the drawing, not from its names.
"""

from __future__ import annotations

from itertools import combinations
from xml.etree import ElementTree
from xml.etree.ElementTree import Element

import networkx as nx
import pytest

from checker.drawing import diagram_svg
from checker.drawing.columns import columns_of
from checker.drawing.diagram import laid_out
from checker.drawing.levels import levels_of
from checker.drawing.sheet import Sheet
from tests.drawing.reading import EXAMPLES, SVG, example, of_class, part, points_of, surveyed_of, texts_of

Piece = tuple[tuple[float, float], tuple[float, float]]
SLACK = 0.6


def sheet_of(name: str) -> Sheet:
    return laid_out(example(name))


def pieces_of(svg: Element) -> list[Piece]:
    """The straight lines of the nets: level ones and those to pins."""
    groups = [*of_class(svg, "bars"), *of_class(svg, "net")]
    paths = [path for group in groups for path in group.iter(f"{SVG}path")]
    return [piece for path in paths for piece in zip(points_of(path), points_of(path)[1:])]


def joined(one: Piece, other: Piece) -> bool:
    """True where two lines meet at an end of one of them (lines that only cross are not joined)."""
    return any(on(end, other) for end in one) or any(on(end, one) for end in other)


def on(point: tuple[float, float], piece: Piece) -> bool:
    (xa, ya), (xb, yb) = piece
    return (min(xa, xb) - SLACK <= point[0] <= max(xa, xb) + SLACK) and (min(ya, yb) - SLACK <= point[1] <= max(ya, yb) + SLACK)


@pytest.mark.parametrize("name", EXAMPLES)
def test_the_lines_join_the_pins_that_the_circuit_joins_and_no_others(name: str) -> None:
    surveyed = example(name)
    circuit = surveyed.operatings[0].circuit
    pieces = pieces_of(ElementTree.fromstring(diagram_svg(surveyed)))
    graph: nx.Graph[int] = nx.Graph()
    graph.add_nodes_from(range(len(pieces)))
    graph.add_edges_from((i, j) for (i, one), (j, other) in combinations(enumerate(pieces), 2) if joined(one, other))
    drawn = {frozenset(pin for pin, place in pins_of(name).items() if any(on(place, pieces[i]) for i in group))
             for group in nx.connected_components(graph)}
    wired = {frozenset(pin for pin in pins if pin in circuit.touched) for net, pins in circuit.pins_on.items()
             if not circuit.is_alone(net)}

    assert {pins for pins in wired if pins} == {pins for pins in drawn if pins}


def pins_of(name: str) -> dict[tuple[str, str], tuple[float, float]]:
    """Where each pin leaves its symbol."""
    return {(at.part.key, pin): (at.x + at.part.symbol.pins[pin].x, at.y + at.part.symbol.pins[pin].y)
            for at in sheet_of(name).places for pin in at.part.nets}


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_wired_part_is_drawn_once(name: str) -> None:
    surveyed = example(name)
    svg = ElementTree.fromstring(diagram_svg(surveyed))
    drawn = sorted(group.get("data-part") or "" for group in of_class(svg, "part"))
    circuit = surveyed.operatings[0].circuit
    wired = {key for net, pins in circuit.pins_on.items() if not circuit.is_alone(net) for key, pin in pins
             if (key, pin) in circuit.touched}

    assert sorted(circuit.part(key).name for key in wired) == drawn


@pytest.mark.parametrize("name", EXAMPLES)
def test_a_supply_has_its_plus_above_its_minus(name: str) -> None:
    sheet = sheet_of(name)
    found = 0
    for at in sheet.places:
        nets = at.part.nets
        if {"+", "-"} <= set(nets) and example(name).bench.parts[at.part.key].is_supply and nets["+"] != nets["-"]:
            found += 1
            assert sheet.lines[nets["+"]] < sheet.lines[nets["-"]]
    assert found == sum({"+", "-"} <= set(at.part.nets) and at.part.nets["+"] != at.part.nets["-"]
                        for at in sheet.places if example(name).bench.parts[at.part.key].is_supply)


@pytest.mark.parametrize("name", EXAMPLES)
def test_words_of_a_diagram_do_not_run_into_each_other(name: str) -> None:
    svg = ElementTree.fromstring(diagram_svg(example(name)))
    boxes = [box_of(text) for text in svg.iter(f"{SVG}text")]
    width = float((svg.get("viewBox") or "").split()[2])

    assert [] == [text for text, (left, _, right, _) in boxes if left < 0 or right > width]
    assert [] == [(one, other) for (one, a), (other, b) in combinations([(text, box) for text, box in boxes], 2)
                  if min(a[2], b[2]) - max(a[0], b[0]) > 2 and min(a[3], b[3]) - max(a[1], b[1]) > 2]


def box_of(text: Element) -> tuple[str, tuple[float, float, float, float]]:
    """Text with its left, top, right and bottom, for letters 0.6 as wide as their size."""
    size, words = float(text.get("font-size") or 0), "".join(text.itertext())
    x, y, width = float(text.get("x") or 0), float(text.get("y") or 0), len(words) * size * 0.6
    if text.get("transform"):
        return words, (x - 0.35 * size, y - 0.35 * size - width / 2, x + 0.35 * size, y - 0.35 * size + width / 2)
    left = x - {"start": 0.0, "middle": width / 2, "end": width}[text.get("text-anchor") or "start"]
    return words, (left, y - 0.72 * size, left + width, y)


SERIES = '''supply BAT 9v-block
part R1 470
part LED1 led red
part D1 1N4148
wire BAT.+ to R1.1
wire R1.2 to LED1.A
wire LED1.K to BAT.-
wire D1.K to BAT.+
wire D1.A to R1.2
'''


def test_parts_in_series_stand_one_below_the_other() -> None:
    surveyed = surveyed_of(SERIES)
    columns = columns_of(surveyed.operatings[0].circuit, levels_of(surveyed))

    assert [["R1", "LED1"]] == [[one.name for one in column] for column in columns if len(column) > 1]


@pytest.mark.parametrize(("name", "below"), [("LED1", True), ("D1", False)])
def test_the_bar_of_a_diode_is_at_its_cathode(name: str, below: bool) -> None:
    """LED1 conducts from plus to minus, so its bar is at the lower end; D1 blocks, its cathode is at plus, above."""
    group = part(ElementTree.fromstring(diagram_svg(surveyed_of(SERIES))), name)
    [bar] = of_class(group, "cathode")
    triangle = next(path for path in group.iter(f"{SVG}path") if (path.get("d") or "").endswith("Z"))
    middle = sum(y for _, y in points_of(triangle)[:3]) / 3

    assert below == (points_of(bar)[0][1] > middle)


def test_the_cells_of_a_battery_have_their_longer_line_at_plus() -> None:
    group = part(ElementTree.fromstring(diagram_svg(surveyed_of(SERIES))), "BAT")
    lines = sorted((points_of(path) for path in group.iter(f"{SVG}path")), key=lambda points: points[0][1])
    level = [abs(points[0][0] - points[-1][0]) for points in lines if points[0][1] == points[-1][1]]

    assert level[0] > level[1]


def test_nets_are_named_and_what_hangs_free_is_said() -> None:
    svg = ElementTree.fromstring(diagram_svg(surveyed_of(SERIES + "part R7 1k\nwire R1.2 to @tap\n")))

    assert {"BAT +", "BAT −", "@tap"} <= set(texts_of(svg))
    assert "Nothing is wired to R7" in texts_of(svg)


@pytest.mark.parametrize("text", ["", "board half\n", "part R1 1k\n", "supply B 9v-block\nwire B.+ to B.-\n",
                                  "board half\npart R1 1k in a5 b5\n", "part X1 frobnicator\nwire X1.1 to X1.2\n"])
def test_a_list_with_next_to_nothing_in_it_is_drawn_too(text: str) -> None:
    assert "svg" in ElementTree.fromstring(diagram_svg(surveyed_of(text))).tag
