"""The frame of the pages of a batch: one document that needs nothing else, held to that by its content security policy.

Input: a title and the body's children. Output: HTML.
"""

from __future__ import annotations

from base64 import b64encode
from functools import cache
from hashlib import sha256
from importlib.resources import files

from checker.markup import Child, Element, html, tag
from checker.report import stylesheet
from checker.report.set_in import seen
from checker.report.words import SAFETY
from checker.version import VERSION

_WIDE = 1000.0


def document(title: str, *children: Child, class_: str | None = None, safety: bool = True) -> str:
    """A whole page with the style sheet in it and, where anything was checked, the safety sentence below it."""
    style = _style()
    policy = f"default-src 'none'; style-src 'sha256-{_digest(style)}'; base-uri 'none'; form-action 'none'"
    head = tag("head", tag("meta", charset="utf-8"), tag("meta", http_equiv="Content-Security-Policy", content=policy),
               tag("meta", name_="viewport", content="width=device-width, initial-scale=1"),
               tag("meta", name_="color-scheme", content="light dark"), tag("title", f"{title} - legwise"), tag("style", style))
    foot = tag("footer", tag("p", SAFETY, class_="safety") if safety else None, tag("p", f"Made by legwise {VERSION}."))
    return html(seen(tag("html", head, tag("body", tag("main", *children, class_=class_), foot), lang="en")))


@cache
def _style() -> str:
    return stylesheet() + files("checker.batch").joinpath("sheet.css").read_text(encoding="utf-8")


@cache
def _digest(style: str) -> str:
    return b64encode(sha256(style.encode("utf-8")).digest()).decode("ascii")


def section(heading: str, *children: Child, class_: str | None = None) -> Element:
    """A part of a page under its heading."""
    name = heading.lower().replace(" ", "-")
    return tag("section", tag("h2", heading, id=name), *children, class_=class_, aria_labelledby=name)


def bar(pieces: list[tuple[str, float]], label: str, *, thin: bool = False) -> Element:
    """A bar of pieces, each a class name and its share of the whole, 0 to 1. ``label`` says the same in words."""
    drawn, at = [], 0.0
    for name, share in pieces:
        if share > 0:
            drawn.append(tag("rect", x=_WIDE * at, y=0, width=_WIDE * share, height=40, class_=name))
        at += share
    return tag("svg", drawn, viewBox="0 0 1000 40", preserveAspectRatio="none", class_="bar thin" if thin else "bar",
               role="img", aria_label=label)
