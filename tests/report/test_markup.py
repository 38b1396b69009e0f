"""Markup is escaped wherever text goes in, and reads back as what was put in."""

from __future__ import annotations

from html.parser import HTMLParser

import pytest

from checker.markup import clean, html, parsed, tag, xml

HOSTILE = ["<script>alert(1)</script>", "\" onload=\"x", "a & b < c > d", "'; --", "]]>", "<!-- -->", "&lt;"]


@pytest.mark.parametrize("text", HOSTILE)
def test_text_in_an_element_or_an_attribute_reads_back_as_text(text: str) -> None:
    again = parsed(xml(tag("p", text, tag("b", text), text, title=text)))

    assert [again.text, again[0].text, again[0].tail, again.get("title")] == [text] * 4
    assert [child.tag for child in again.iter()] == ["p", "b"]


class _Reader(HTMLParser):
    """What a reader of HTML sees: tags with their attributes, and text."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.seen: list[object] = []
        self.feed(page)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.seen.append((tag, attrs))

    def handle_data(self, data: str) -> None:
        self.seen.append(data)


@pytest.mark.parametrize("text", HOSTILE)
def test_a_reader_of_html_sees_one_element_and_its_text(text: str) -> None:
    seen = _Reader(html(tag("p", text, title=text))).seen

    assert [("p", [("title", text)])] == seen[:1]
    assert text == "".join(str(piece) for piece in seen[1:])


def test_attributes_are_spelt_as_markup_spells_them() -> None:
    shown = tag("g", None, ["a", ["b"]], class_="part", data_part="D1", x=1.50, hidden=True, gone=None, off=False)

    assert '<g class="part" data-part="D1" x="1.5" hidden="hidden">ab</g>' == xml(shown)


def test_what_xml_forbids_is_replaced() -> None:
    assert "a\ufffdb\ufffd\tc" == clean("a\x07b\ud800\tc")


def test_a_whole_page_has_its_doctype() -> None:
    assert html(tag("html", tag("body", tag("br")))).startswith("<!DOCTYPE html>\n<html><body><br></body>")
