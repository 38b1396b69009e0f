"""The main job: from a text to a Report. ``examine`` is the table of contents; each stage has its own module.

text → (grammar) tree → (bench) parts → (seating) legs in holes → (circuit) nets → (operating, physics) operating
points → (rules, judge) findings → (fixes, explain) causes and proven fixes → (compose) Report.
"""

from __future__ import annotations

from pathlib import Path

from checker.compose import compose
from checker.explain import explain
from checker.report.model import Report
from checker.survey import Survey, survey
from parts_library import load_library


def check(text: str | bytes, file: str = "list", kit: Path | None = None) -> Report:
    """The report on one list. ``kit`` is a parts file of the user's own. Raises LibraryError for a broken kit only."""
    return examine(text, file, kit)[0]


def examine(text: str | bytes, file: str = "list", kit: Path | None = None) -> tuple[Report, Survey]:
    """The same report with the survey that it is from, for drawing the board and for what a meter should read."""
    library = load_library(kit)
    surveyed = survey([text], library)[0]
    explained = explain(surveyed, library)
    return compose(surveyed, explained, file), surveyed
