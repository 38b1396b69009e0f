"""Drawings of a list: the board as it looks from above, in SVG or in a terminal, and the diagram of its connections.

Input: a survey (bench, seats, readings, circuit), and the report where its findings are to be marked. What is drawn is
the first reading; what the list leaves open is drawn with a question mark instead of a mark.
"""

from __future__ import annotations

from checker.drawing.diagram import diagram_svg
from checker.drawing.geometry import plan_of
from checker.drawing.svg import svg_of
from checker.drawing.text import text_of
from checker.report.model import Report
from checker.survey import Survey

NO_BOARD = "The list puts nothing on a board, so its connections are drawn"

__all__ = ["NO_BOARD", "board_svg", "board_text", "diagram_svg", "plan_of"]


def board_svg(surveyed: Survey, report: Report | None = None) -> str:
    """The boards with their parts and wires, seen from above, as SVG; with a report its findings are marked.

    A list that places nothing on a board gives the diagram of its connections, which says so."""
    if not surveyed.seated.readings[0].plans:
        return diagram_svg(surveyed, note=NO_BOARD)
    return svg_of(plan_of(surveyed, report))


def board_text(surveyed: Survey, report: Report | None = None, *, width: int = 80, colour: bool = False) -> str:
    """The same boards for a terminal, in lines no wider than ``width``."""
    return text_of(plan_of(surveyed, report), width, colour)
