"""The sheet for a multimeter: what it should read on a board that was built from a list, before power and after.

Input: a surveyed list, its report and the library. Output: a MeterSheet, and its text, JSON, piece of XHTML or page.
"""

from __future__ import annotations

from collections.abc import Callable

from checker.metering.model import MeterSheet
from checker.metering.piece import meter_element, page
from checker.metering.sheet import meter_sheet
from checker.metering.text import json, terminal
from checker.report.page import Page

FORMATS: dict[str, Callable[[MeterSheet, Page], str]] = {"terminal": terminal, "json": json, "html": page}
"""The formats of a sheet, each a function of the sheet and the page."""


def render(name: str, sheet: MeterSheet, page: Page) -> str:
    """The sheet in the format ``name``, a key of ``FORMATS``."""
    return FORMATS[name](sheet, page)


__all__ = ["FORMATS", "MeterSheet", "meter_element", "meter_sheet", "render"]
