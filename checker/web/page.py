"""The page for one list: the list at the left, what would happen beside it, the board beside that.

Input: the nonce for the editor's own styles. Output: a document. It holds no findings: ``static/page.js`` fills it from
/page. Every control is there from the start, in the order in which a keyboard meets it.
"""

from __future__ import annotations

from checker import examples
from checker.markup import Element, tag
from checker.web import frame
from checker.web.frame import button

_HINT = "One line for each part and each wire, as you would say it aloud."
_TABS = (("board", "Board"), ("diagram", "Diagram"), ("meter", "Meter"), ("slips", "Look twice"), ("card", "Part"))
_EMPTY = {
    "board": "The drawing of your board comes here.",
    "diagram": "The connections come here, without the board.",
    "meter": "What a meter should read comes here, once there is a list.",
    "slips": "Where to look twice while you build it.",
    "card": "Put the cursor on a part in your list, and it is explained here.",
}


def document(nonce: str) -> Element:
    """The whole page."""
    return frame.document(
        "legwise: check a list", "page.js", "/", ("verdict", "Skip to the result"),
        tag("main", _list(nonce), _result(), _beside(),
            tag("a", "NO LIST YET", href="#verdict", id="peek", class_="peek", hidden=True), class_="desk"),
        _helper(), tag("p", "", id="announced", class_="unseen", role="status"))


def _list(nonce: str) -> Element:
    return tag(
        "section",
        tag("h2", "Your list", id="list-title"), tag("p", _HINT, class_="aside", id="list-hint"),
        tag("div", tag("label", "Example ", tag("select", _examples(), id="example")), button("Open", "open-example"),
            button("Add a line by answering", "ask"), class_="tools"),
        tag("div", id="editor", data_style_nonce=nonce),
        tag("div", button("Undo", "undo", disabled=True), button("Redo", "redo", disabled=True),
            button("Copy a link", "share"), button("Save the list", "save"), button("Save the report", "save-report"),
            class_="tools"),
        tag("p", "", id="told", class_="aside"),
        class_="list", aria_labelledby="list-title")


def _examples() -> list[Element]:
    """Each example that works with its faulty sisters below it."""
    names = examples.names()
    works = [name for name in names if not any(name.startswith(f"{other}-") for other in names)]
    return [tag("optgroup", [tag("option", _said(name, first), value=name)
                             for name in names if name == first or name.startswith(f"{first}-")], label=_plain(first))
            for first in works]


def _said(name: str, first: str) -> str:
    if name == first:
        return f"{_plain(name)}, as it should be"
    return f"{_plain(first)}: {name.removeprefix(first + '-').replace('-', ' ')}"


def _plain(name: str) -> str:
    return name.replace("-", " ").capitalize()


def _result() -> Element:
    return tag(
        "section",
        tag("h1", tag("span", "NO LIST YET", id="stamp", class_="stamp"), id="verdict", class_="verdict", tabindex="-1"),
        tag("p", "Paste your list, open an example, or add a line by answering.", id="headline", class_="headline"),
        tag("p", "", id="count", class_="count"),
        tag("ol", id="findings", aria_label="Findings"),
        tag("div", id="advice"),
        tag("p", "A clear verdict is not a guarantee. Disconnect power before changing wiring.", class_="safety"),
        tag("details", tag("summary", "What was assumed"), tag("ul", id="assumed"), id="assumed-box", hidden=True),
        id="result", class_="result", aria_labelledby="verdict", aria_busy="false")


def _beside() -> Element:
    tabs = [tag("button", words, type="button", role="tab", id=f"tab-{name}", aria_controls=f"panel-{name}",
                aria_selected="true" if name == "board" else "false", tabindex=None if name == "board" else "-1")
            for name, words in _TABS]
    panels = [tag("div", tag("p", _EMPTY[name], class_="aside"), role="tabpanel", id=f"panel-{name}",
                  aria_labelledby=f"tab-{name}", tabindex="0", hidden=name != "board") for name, _ in _TABS]
    return tag("section", tag("h2", "Beside it", id="beside-title", class_="unseen"),
               tag("div", tabs, role="tablist", aria_labelledby="beside-title"), panels,
               class_="beside", aria_labelledby="beside-title")


def _helper() -> Element:
    return tag(
        "dialog",
        tag("form",
            tag("h2", "Add a line", id="helper-title"),
            tag("div", id="helper-questions"),
            tag("p", "It will read:", class_="aside"),
            tag("output", id="helper-line"),
            tag("p", "", id="helper-problem", role="status"),
            tag("div", tag("button", "Add this line", id="helper-add", type="submit"), button("Cancel", "helper-cancel"),
                class_="tools"),
            method="dialog", id="helper-form"),
        id="helper", aria_labelledby="helper-title")
