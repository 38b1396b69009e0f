"""The formats of a report: one table, one file a format.

Input: reports and a ``Page`` (how wide, with colour or not, one list or several). Output: the text to write. A
new format is a module with ``render(reports, page)`` and one line in ``FORMATS``. A format is imported when it
is used.
"""

from __future__ import annotations

from collections.abc import Sequence
from importlib import import_module

from checker.report.model import Report
from checker.report.page import Page
from checker.report.style import stylesheet

__all__ = ["FORMATS", "FOR_MACHINES", "WITH_ENCLOSURES", "WITH_RULES", "Page", "render", "stylesheet"]

FORMATS = {
    "terminal": "checker.report.terminal",
    "json": "checker.report.json_format",
    "html": "checker.report.html_format",
    "sarif": "checker.report.sarif_format",
    "junit": "checker.report.junit_format",
}
FOR_MACHINES = frozenset({"json", "html", "sarif", "junit"})
"""Formats that are written as UTF-8 whatever the terminal speaks."""
WITH_ENCLOSURES = frozenset({"html"})
"""Formats that can show what is set beside a report: the drawing, the connections, the meter sheet."""
WITH_RULES = frozenset({"html", "sarif"})
"""Formats that carry the rules' explanations."""


def render(name: str, reports: Sequence[Report], page: Page) -> str:
    """The reports in the format ``name``, a key of ``FORMATS``; KeyError for any other."""
    return str(import_module(FORMATS[name]).render(reports, page))
