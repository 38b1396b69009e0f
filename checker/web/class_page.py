"""The page for a class: drop what was handed in, get the table.

No input. Output: a document, which ``static/class.js`` fills from /class.
"""

from __future__ import annotations

from checker.markup import Element, tag
from checker.web import frame


def document() -> Element:
    """The whole page."""
    return frame.document("legwise: a whole class", "class.js", "/class", ("class-result", "Skip to the table"),
                          tag("main", _form(), _result(), class_="class"))


def _form() -> Element:
    return tag(
        "form",
        tag("h1", "Check a whole class"),
        tag("p", "A zip as your course system gives it, or the lists themselves. They are checked on this machine and not kept."),
        tag("div", _file("lists", "What was handed in", accept=".zip,.legs,.txt,.csv", multiple=True), class_="drop", id="drop"),
        tag("details", tag("summary", "More to check against"),
            _file("reference", "A list that is right, to compare with (optional)", accept=".legs,.txt"),
            _file("marks", "A scheme of marks (optional)", accept=".toml"),
            _file("roster", "A roster (optional)", accept=".csv,.txt")),
        tag("p", "", id="chosen", class_="aside", role="status"),
        tag("p", tag("button", "Check them", type="submit", id="check-class")),
        tag("p", "", id="class-told", role="status"),
        id="class-form")


def _file(name: str, words: str, *, accept: str, multiple: bool = False) -> Element:
    return tag("p", tag("label", words, for_=f"file-{name}"), tag("br"),
               tag("input", type="file", id=f"file-{name}", accept=accept, multiple=multiple))


def _result() -> Element:
    return tag("section", tag("h2", "The table", id="class-title"), tag("p", "", id="class-summary"),
               tag("div", id="downloads", class_="tools"),
               tag("div", tag("table", id="class-table"), class_="wide", tabindex="0", role="region",
                   aria_labelledby="class-title"),
               id="class-result", aria_labelledby="class-title", hidden=True, tabindex="-1")
