"""The page for the desk: every list with its person, verdict and mark, and which lists are alike. Not for the projector.

Input: rows, the tally. Output: one HTML document with links to the feedback.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import islice

from checker.batch.frame import document, section
from checker.batch.model import Row
from checker.batch.tally import ClassTally
from checker.batch.words import ALIKE, counted, found_in_short, points, remarks_of, stamp, stamp_class
from checker.markup import Element, tag

MOST_LISTED = 5_000
"""Rows of the page: more make a page that no one scrolls; ``summary.csv`` has them all."""


def desk_page(rows: Iterable[Row], tally: ClassTally, title: str = "") -> str:
    """The page."""
    shown = list(islice(rows, MOST_LISTED))
    heading = "Every list" + (f": {title}" if title else "")
    rest = tally.lists + tally.missing - len(shown)
    return document(heading, tag("h1", heading), _table(shown),
                    tag("p", f"{rest} more stand in summary.csv.", class_="aside") if rest > 0 else None,
                    _alike(shown, tally))


def _table(rows: Sequence[Row]) -> Element:
    marked = any(row.mark is not None for row in rows)
    compared = any(row.likeness is not None for row in rows)
    heads = ["Who", "Verdict", *(["Mark"] if marked else []), *(["Like the reference"] if compared else []), "What was found"]
    return tag("div", tag("table", tag("thead", tag("tr", [tag("th", head, scope="col") for head in heads])),
                          tag("tbody", [_row(row, marked, compared) for row in rows]), class_="sheet every"), class_="wide")


def _row(row: Row, marked: bool, compared: bool) -> Element:
    name = tag("a", row.name, href=row.feedback) if row.feedback else row.name
    remarks = [row.identifier if row.identifier != row.name else "", *remarks_of(row),
               f"alike: group {row.alike}" if row.alike else ""]
    return tag("tr", tag("td", name, [[tag("br"), tag("span", said, class_="aside")] for said in remarks if said]),
               tag("td", tag("strong", stamp(row), class_=stamp_class(row))),
               tag("td", points(row.mark) if row.mark else "", class_="short") if marked else None,
               tag("td", f"{row.likeness:.0%}" if row.likeness is not None else "") if compared else None,
               tag("td", found_in_short(row),
                   [tag("br"), tag("span", row.first, class_="aside")] if row.first else None))


def _alike(rows: Sequence[Row], tally: ClassTally) -> Element | None:
    if not tally.alike:
        return None
    names = {row.number: row.name for row in rows}
    groups = [tag("li", f"{counted(len(group), 'list')}: ", ", ".join(names.get(number, f"row {number}") for number in group))
              for group in tally.alike]
    return section("Lists that are alike", tag("p", ALIKE, " Names, comments and the order of the lines make no difference."),
                   tag("ol", groups))
