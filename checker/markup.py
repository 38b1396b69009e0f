"""Markup: trees of elements written as HTML, SVG or XML. Every text is escaped, because no text is ever pasted into markup.

Input: names, attributes, children. Output: a string. The standard library's ElementTree does the work; it writes
characters that XML forbids (a bell, a lone surrogate) as they are, so they are replaced here.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import TypeAlias
from xml.etree import ElementTree

Element: TypeAlias = ElementTree.Element
Child: TypeAlias = "Element | str | Iterable[Child] | None"

_FORBIDDEN = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
"""What is no character of XML 1.0 (W3C recommendation, fifth edition, section 2.2)."""


def clean(text: str) -> str:
    """The text with each character that XML forbids as U+FFFD."""
    return _FORBIDDEN.sub("\ufffd", text)


def tag(name: str, *children: Child, **attributes: str | float | bool | None) -> Element:
    """One element. ``data_part="D1"`` is written ``data-part``, ``class_`` is ``class``; None and False leave an attribute
    out, True gives it its own name as value; floats are written short. Children: elements, texts, and iterables of them."""
    element = ElementTree.Element(name)
    for key, value in attributes.items():
        if value is not None and value is not False:
            word = key.rstrip("_").replace("_", "-")
            element.set(word, word if value is True else clean(_spelt(value)))
    for child in children:
        _put(element, child)
    return element


def _spelt(value: str | float) -> str:
    return value if isinstance(value, str) else f"{round(value, 3):g}"


def _put(element: Element, child: Child) -> None:
    if child is None:
        return
    if isinstance(child, ElementTree.Element):
        element.append(child)
    elif isinstance(child, str):
        _put_text(element, clean(child))
    else:
        for one in child:
            _put(element, one)


def _put_text(element: Element, text: str) -> None:
    if len(element):
        element[-1].tail = (element[-1].tail or "") + text
    else:
        element.text = (element.text or "") + text


def html(element: Element) -> str:
    """As HTML; of a whole document with its doctype."""
    text = ElementTree.tostring(element, encoding="unicode", method="html")
    return f"<!DOCTYPE html>\n{text}\n" if element.tag == "html" else text


def xml(element: Element, *, declaration: bool = False) -> str:
    """As XML or SVG."""
    text = ElementTree.tostring(element, encoding="unicode", method="xml")
    return f'<?xml version="1.0" encoding="UTF-8"?>\n{text}\n' if declaration else text


def parsed(markup: str) -> Element:
    """The element that our own ``xml`` wrote: for setting a drawing into a page. Not for text from outside."""
    return ElementTree.fromstring(markup)
