"""Reading a drawing back: elements of an SVG by class and name, points of its paths, the list that it was made of."""

from __future__ import annotations

import re
from functools import cache
from xml.etree import ElementTree
from xml.etree.ElementTree import Element

from checker.compose import compose
from checker.drawing import board_svg
from checker.examples import names, text_of
from checker.explain import explain
from checker.report.model import Report
from checker.survey import Survey, survey
from parts_library import Library, load_library

SVG = "{http://www.w3.org/2000/svg}"
LIBRARY: Library = load_library()
EXAMPLES = tuple(names())

Point = tuple[float, float]


def surveyed_of(text: str) -> Survey:
    return survey([text], LIBRARY)[0]


def report_of(surveyed: Survey) -> Report:
    return compose(surveyed, explain(surveyed, LIBRARY), "list.legs")


@cache
def example(name: str) -> Survey:
    return surveyed_of(text_of(name))


@cache
def drawn_example(name: str) -> Element:
    return ElementTree.fromstring(board_svg(example(name)))


def drawn(text: str) -> Element:
    return ElementTree.fromstring(board_svg(surveyed_of(text)))


def part(svg: Element, name: str) -> Element:
    """The group of a part."""
    return next(group for group in svg.iter(f"{SVG}g") if group.get("data-part") == name)


def of_class(element: Element, name: str) -> list[Element]:
    return [one for one in element.iter() if name in (one.get("class") or "").split()]


def points_of(path: Element) -> list[Point]:
    """All points of a path, those that steer its curves among them."""
    numbers = [float(word) for word in re.findall(r"-?\d+(?:\.\d+)?(?:e-?\d+)?", path.get("d") or "")]
    return list(zip(numbers[::2], numbers[1::2]))


def centre(element: Element) -> Point:
    """The middle of a circle, or of what a path covers."""
    if element.tag == f"{SVG}circle":
        return float(element.get("cx") or 0), float(element.get("cy") or 0)
    xs, ys = zip(*points_of(element))
    return (min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2


def holes_of(svg: Element) -> dict[str, Point]:
    return {one.get("data-hole") or "": centre(one) for one in svg.iter() if one.get("data-hole")}


def legs_of(group: Element) -> dict[str, Point]:
    """Where each pin's leg ends."""
    return {one.get("data-pin") or "": centre(one) for one in of_class(group, "leg-end")}


def texts_of(svg: Element) -> list[str]:
    return ["".join(one.itertext()) for one in svg.iter(f"{SVG}text")]
