"""Setting drawn pieces into a page, and making sure that nothing in a page is hidden.

Input: SVG or XHTML that ``checker.markup`` wrote, or a whole page. Output: elements.
"""

from __future__ import annotations

import re
from collections.abc import Mapping

from checker.markup import Element, parsed
from checker.report.words import visible

_REFERS = ("aria-labelledby", "aria-describedby", "aria-controls", "for", "headers")
_HEADING = re.compile("h([1-6])")
_DEEPEST = 6


def set_in(markup: str, prefix: str, level: int | None = None) -> Element:
    """The element, its ids and what refers to them under ``prefix``, so that two pieces never share one; of XHTML the
    topmost heading is at ``level``. Namespaces go: HTML knows its SVG by the tag."""
    root = parsed(markup)
    names = {name: prefix + name for each in root.iter() if (name := each.get("id"))}
    for each in root.iter():
        each.tag = _local(each.tag)
        for key, value in list(each.attrib.items()):
            del each.attrib[key]
            each.set(_local(key), _renamed(_local(key), value, names))
    if level is not None:
        _reheaded(root, level)
    return root


def _local(name: str) -> str:
    return name.rpartition("}")[2]


def _renamed(key: str, value: str, names: Mapping[str, str]) -> str:
    if key == "id":
        return names[value]
    if key in _REFERS:
        return " ".join(names.get(word, word) for word in value.split())
    if key == "href" and value[1:] in names:
        return "#" + names[value[1:]]
    return re.sub(r"url\(#([^)]+)\)", lambda found: f"url(#{names.get(found[1], found[1])})", value)


def _reheaded(root: Element, level: int) -> None:
    """Headings moved so that the topmost is at ``level``, the others as far below it as they were."""
    found = [(each, int(match[1])) for each in root.iter() if (match := _HEADING.fullmatch(each.tag))]
    topmost = min((depth for _, depth in found), default=level)
    for each, depth in found:
        each.tag = f"h{min(depth - topmost + level, _DEEPEST)}"


def seen(root: Element) -> Element:
    """The same element; every control character, and every mark that reorders a line, is replaced by one that is seen."""
    for each in root.iter():
        if each.text and each.tag != "style":
            each.text = visible(each.text)
        if each.tail:
            each.tail = visible(each.tail)
        for key, value in each.attrib.items():
            each.set(key, visible(value))
    return root
