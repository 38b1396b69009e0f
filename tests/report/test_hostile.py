"""Whatever text stands in whatever field of a report, it is only ever text: no format makes markup, code or control of it."""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any
from xml.etree import ElementTree

import msgspec
import pytest

from checker.report import Page, render
from checker.report.model import Report
from checker.report.words import visible
from tests.report.formats import EXPLAINED, parsed_html, words_of
from tests.report.samples import DO_NOT_POWER, SAMPLES, WILL_NOT_WORK
from tests.report.test_junit import SCHEMA as JUNIT
from tests.report.test_sarif import VALIDATOR as SARIF

HOSTILE = (
    "<script>alert(1)</script>", "\"><img src=x onerror=alert(1)>", "' onload='x", "</style><style>*{display:none}</style>",
    "</title></textarea><b>", "]]><x/>", "<!-- -->", "&lt;b&gt; &#x3c; &amp", "javascript:alert(1)", "{{0}} {0} [a](1)",
    "\x1b[2J\x07\x00", "\u202egnp.exe\u202c", "\ud800 \uffff", "{% raw %} ${x} `x`", "../../etc/passwd%00", "\r\n\r\nx: y",
)
WHOLE = tuple(text for text in HOSTILE if not any("\ud800" <= character <= "\udfff" for character in text))
"""Half a character is no JSON; the reader of lists never gives one."""
KEPT = {"verdict", "severity", "unit"}
"""Words of the contract, which a list cannot choose."""
BASE = msgspec.structs.replace(
    DO_NOT_POWER, findings=(*DO_NOT_POWER.findings, *WILL_NOT_WORK.findings), lines=DO_NOT_POWER.lines[:3])


def places(value: Any, path: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    """The path to every text and every key of a table of states; of lists the first two elements are enough."""
    if isinstance(value, str):
        yield path
    elif isinstance(value, dict):
        for key, below in value.items():
            if path and path[-1] in ("state", "reading"):
                yield (*path, ("key", key))
            if key not in KEPT:
                yield from places(below, (*path, key))
    elif isinstance(value, list | tuple):
        for index, below in enumerate(value[:3]):
            yield from places(below, (*path, index))


def put(value: Any, path: tuple[Any, ...], text: str) -> Any:
    """The value with ``text`` at the place."""
    if not path:
        return text
    step, *rest = path
    if isinstance(step, tuple):
        return {text if key == step[1] else key: below for key, below in value.items()}
    if isinstance(value, dict):
        return {key: put(below, tuple(rest), text) if key == step else below for key, below in value.items()}
    return [put(below, tuple(rest), text) if index == step else below for index, below in enumerate(value)]


PLAIN = msgspec.to_builtins(BASE)
PLACES = sorted(set(places(PLAIN)), key=str)


def report_with(path: tuple[Any, ...], text: str) -> Report:
    return msgspec.convert(put(PLAIN, path, text), Report)


def shape(text: str) -> set[tuple[str, tuple[str, ...]]]:
    """The elements of a document with the names of their attributes."""
    return {(str(each.tag), tuple(sorted(each.attrib))) for each in parsed_html(text).iter()}


KNOWN = set().union(*(shape(render("html", [report], EXPLAINED)) for report in (BASE, *SAMPLES.values())))


def test_every_field_that_can_hold_text_is_reached() -> None:
    reached = {next(step for step in reversed(path) if isinstance(step, str)) for path in PLACES}

    assert {"title", "by", "file", "lines", "message", "why", "parts", "points", "of", "quantity", "corner", "state", "reading",
            "say", "text", "headline", "assumed", "advice", "rule", "legwise"} <= reached


@pytest.mark.parametrize("path", PLACES, ids=str)
class TestEveryPlace:
    def test_html_has_no_element_and_no_attribute_more(self, path: tuple[Any, ...]) -> None:
        for text in HOSTILE:
            page = render("html", [report_with(path, text)], EXPLAINED)

            assert set() == shape(page) - KNOWN
            assert not set(page) & set("\x1b\x07\x00\u202e")

    def test_junit_is_valid_xml(self, path: tuple[Any, ...]) -> None:
        for text in HOSTILE:
            root = ElementTree.fromstring(render("junit", [report_with(path, text)], Page()).encode("utf-8", "replace"))

            JUNIT.validate(root)

    def test_sarif_is_valid_and_its_messages_hold_no_link(self, path: tuple[Any, ...]) -> None:
        for text in WHOLE:
            log = json.loads(render("sarif", [report_with(path, text)], Page()))

            assert [] == [error.message for error in SARIF.iter_errors(log)]
            assert "](" not in "".join(result["message"]["text"] for result in log["runs"][0]["results"])

    def test_the_terminal_gets_no_control_character(self, path: tuple[Any, ...]) -> None:
        for text in HOSTILE:
            shown = render("terminal", [report_with(path, text)], Page())

            assert shown == visible(shown)


@pytest.mark.parametrize("text", [text for text in HOSTILE if text.isprintable()])
@pytest.mark.parametrize("field", ["title", "by", "file", "headline"])
def test_it_can_still_be_read_as_it_was_written(field: str, text: str) -> None:
    page = parsed_html(render("html", [report_with((field,), text)], EXPLAINED))

    assert " ".join(text.split()) in words_of(page.find("body"))
