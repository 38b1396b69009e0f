"""What is set beside a report on a page: the drawing of the board, the diagram of the connections, the meter sheet.

Input: the survey of a list and its report. Output: an Enclosure. A piece that fails is left out with a complaint, for the
report is worth more than its drawing.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from checker.commands.shared import complain

if TYPE_CHECKING:
    from checker.report.model import Report
    from checker.report.page import Enclosure
    from checker.survey import Survey

_LEFT_OUT = "the {piece} of {file} is left out: {problem}"


def enclosure_of(surveyed: Survey, report: Report, kit: Path | None) -> Enclosure:
    """All that can be set beside the report; nothing where there is no way to understand the list that could be drawn."""
    from checker.drawing import board_svg, diagram_svg
    from checker.markup import xml
    from checker.metering import meter_element, meter_sheet
    from checker.report.page import Enclosure
    from parts_library import load_library

    if not surveyed.operatings:
        return Enclosure()
    on_a_board = bool(surveyed.seated.readings[0].plans)
    return Enclosure(
        drawing=_piece("drawing", report.file, lambda: board_svg(surveyed, report)) if on_a_board else "",
        diagram=_piece("connection diagram", report.file, lambda: diagram_svg(surveyed)),
        meter=_piece("meter sheet", report.file, lambda: xml(meter_element(meter_sheet(surveyed, report, load_library(kit))))),
    )


def _piece(name: str, file: str, make: Callable[[], str]) -> str:
    try:
        return make()
    except Exception as problem:
        if sys.flags.dev_mode:
            raise
        complain(_LEFT_OUT.format(piece=name, file=file, problem=f"{type(problem).__name__}: {problem}"))
        return ""
