"""What every page has around it: the head, the way past it for the keyboard, the name, the way to the other page.

Input: the title, the script and the content of a page. Output: the element of a document.
"""

from __future__ import annotations

from checker.markup import Child, Element, tag

_PAGES = (("/", "Check a list"), ("/class", "A whole class"))


def document(title: str, script: str, here: str, skip: tuple[str, str], *content: Child) -> Element:
    """A whole document. ``here`` is its path; ``skip`` the place that the first link goes to and what it says."""
    place, words = skip
    return tag(
        "html",
        tag("head", tag("meta", charset="utf-8"), tag("title", title),
            tag("meta", name_="viewport", content="width=device-width, initial-scale=1"),
            tag("meta", name_="color-scheme", content="light dark"),
            tag("link", rel="icon", href="/static/icon.svg", type="image/svg+xml"),
            tag("link", rel="stylesheet", href="/static/report.css"), tag("link", rel="stylesheet", href="/static/page.css"),
            tag("script", type="module", src=f"/static/{script}")),
        tag("body", tag("a", words, href=f"#{place}", class_="skip"), _header(here), *content),
        lang="en")


def _header(here: str) -> Element:
    links = [tag("a", words, href=path, aria_current="page" if path == here else None) for path, words in _PAGES]
    return tag("header", tag("p", tag("a", "legwise", href="/"), class_="name"),
               tag("p", "What would happen if you switched it on?", class_="motto"),
               tag("nav", links, aria_label="Pages"), class_="top")


def button(words: str, name: str, **more: str | bool) -> Element:
    """A button with an id."""
    return tag("button", words, type="button", id=name, **more)
