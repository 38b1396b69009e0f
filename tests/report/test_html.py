"""The HTML report: what a reader finds in it, where it leads, and that it needs nothing else.

Every document is read by a strict parser of the HTML standard, so that each of these tests also says that it is valid.
"""

from __future__ import annotations

import re
from base64 import b64encode
from collections import Counter
from hashlib import sha256
from xml.etree import ElementTree

import msgspec
import pytest

from checker.report import Page, render, stylesheet
from checker.report.listing import Mark, marks_of, pieces
from checker.report.model import Edit, Evidence, Finding, Fix, Report, Span
from checker.report.words import SAFETY, VERDICT_WORDS
from tests.report.formats import DRAWN, EXPLAINED, RULES, SEVERAL, by_class, html_of, words_of
from tests.report.samples import CLEAR, DO_NOT_POWER, LOOK_FIRST, REVERSED, SAMPLES, UNREADABLE, WILL_NOT_WORK

ENCLOSED = Page(rules=RULES, enclosures=(DRAWN,))
TWICE = Page(rules=RULES, several=True, enclosures=(DRAWN, DRAWN))


def with_finding(finding: Finding) -> ElementTree.Element:
    return html_of(msgspec.structs.replace(DO_NOT_POWER, findings=(finding,)))


@pytest.mark.parametrize("report", SAMPLES.values(), ids=SAMPLES)
class TestEveryPage:
    def test_says_verdict_headline_and_safety_once_each(self, report: Report) -> None:
        page = html_of(report)

        assert [VERDICT_WORDS[report.verdict]] == [words_of(each) for each in by_class(page, "stamp")]
        assert [report.headline] == [words_of(each) for each in by_class(page, "headline")]
        assert [SAFETY] == [words_of(each) for each in by_class(page, "safety")]

    def test_says_all_that_the_report_holds(self, report: Report) -> None:
        text = words_of(html_of(report).find("body"))
        said = [*report.advice, *report.assumed, *(each.message for each in report.findings),
                *(each.why for each in report.findings), *(fix.say for each in report.findings for fix in each.fixes),
                *(each.message for finding in report.findings for each in finding.consequences)]

        assert [] == [each for each in said if each not in text]

    def test_shows_the_list_line_by_line_as_it_was_written(self, report: Report) -> None:
        rows = [row for row in html_of(report).iter("tr") if "line-" in (row.get("id") or "")]
        shown = [("".join(row[1].itertext()), "".join(row[2].itertext()).rstrip("\u00a0")) for row in rows]

        assert [(str(number), line) for number, line in enumerate(report.lines, 1)] == shown

    def test_every_link_leads_to_a_place_in_it_and_no_name_is_given_twice(self, report: Report) -> None:
        for page in (html_of(report, page=ENCLOSED), html_of(report, report, page=TWICE)):
            names = Counter(each.get("id") for each in page.iter() if each.get("id"))
            links = {each.get("href") for each in page.iter("a")}
            labels = {each.get("aria-labelledby") for each in page.iter() if each.get("aria-labelledby")}

            assert [] == [name for name, count in names.items() if count > 1]
            assert set() == links - {f"#{name}" for name in names}
            assert set() == labels - set(names)

    def test_headings_go_down_one_step_at_a_time_from_a_single_first(self, report: Report) -> None:
        for page in (html_of(report, page=ENCLOSED), html_of(report, report, page=TWICE)):
            levels = [int(each.tag[1]) for each in page.iter() if re.fullmatch("h[1-6]", str(each.tag))]

            assert levels.count(1) == 1
            assert levels[0] == 1
            assert [] == [(a, b) for a, b in zip(levels, levels[1:]) if b > a + 1]

    def test_fetches_nothing_and_runs_nothing(self, report: Report) -> None:
        page = html_of(report, page=ENCLOSED)
        attributes = {key for each in page.iter() for key in each.attrib}

        assert set() == {str(each.tag) for each in page.iter()} & {"script", "link", "img", "iframe", "object", "form"}
        assert {"href"} >= attributes & {"src", "href", "srcset", "style"}
        assert [] == [key for key in attributes if key.startswith("on")]
        assert [] == [each.get("href") for each in page.iter("a") if not str(each.get("href")).startswith("#")]

    def test_has_a_language_a_title_landmarks_and_a_policy(self, report: Report) -> None:
        page = html_of(report)
        landmarks = {str(each.tag) for each in page.iter()} & {"main", "article", "header", "footer"}

        assert page.get("lang") == "en"
        assert words_of(page.find("head/title")).startswith(VERDICT_WORDS[report.verdict])
        assert landmarks == {"main", "article", "header", "footer"}
        assert "default-src 'none'" in str([each.get("content") for each in page.iter("meta")])


def test_the_policy_allows_the_one_style_sheet_by_its_digest() -> None:
    page = html_of(CLEAR)
    style = page.find("head/style")
    digest = b64encode(sha256(str(style.text if style is not None else "").encode()).digest()).decode()

    assert f"'sha256-{digest}'" in str([each.get("content") for each in page.iter("meta")])
    assert "</" not in stylesheet()
    assert not re.search(r"url\(|@import|@font-face", stylesheet())


@pytest.mark.parametrize(
    ("report", "expected"),
    [
        (DO_NOT_POWER, "1 Damage: D1 is the wrong way round"),
        (WILL_NOT_WORK, "1 Fault: no wire joins the ground of U1 to the minus of PACK"),
        (LOOK_FIRST, "1 Look: a 2N2222 is sold as E-B-C and as C-B-E"),
        (UNREADABLE, "1 Look: the wire stops after 'to'"),
    ],
)
def test_a_finding_is_headed_by_its_number_severity_and_message(report: Report, expected: str) -> None:
    assert expected == words_of(by_class(html_of(report), "finding")[0][0])


@pytest.mark.parametrize(
    ("evidence", "expected", "gauges"),
    [
        (Evidence(quantity="power", of="Q1", value=8.4, unit="W", limit=0.625, state={"U1.D9": "high"}),
         "Q1: power 8.4 W, limit 625 mW (13 times the limit) when U1.D9 is high", 1),
        (Evidence(quantity="voltage", of="U1.D2", value=0.4, unit="V", limit=3.0, least=True, corner="supply-low"),
         "U1.D2: voltage 0.4 V, should be at least 3 V worst case: supply low", 1),
        (Evidence(quantity="temperature", of="D1", value=187.0, unit="°C", limit=150.0),
         "D1: temperature 187 °C, limit 150 °C", 0),
        (Evidence(quantity="gain", of="Q1", value=12.0, unit=""), "Q1: gain 12", 0),
        (Evidence(quantity="current", of="D1", value=float("inf"), unit="A", limit=1.0), "D1: current infinite, limit 1 A", 0),
    ],
)
def test_a_number_stands_beside_its_limit_and_says_when(evidence: Evidence, expected: str, gauges: int) -> None:
    page = with_finding(msgspec.structs.replace(REVERSED, evidence=(evidence,), consequences=()))
    shown = by_class(page, "evidence")[0]

    assert expected == words_of(shown)
    assert gauges == len(by_class(shown, "gauge"))


def test_a_gauge_is_as_long_as_the_value_with_its_tick_at_the_limit() -> None:
    evidence = Evidence(quantity="power", of="Q1", value=2.0, unit="W", limit=0.5)
    gauge = by_class(with_finding(msgspec.structs.replace(REVERSED, evidence=(evidence,))), "gauge")[0]

    assert ("200", "missed") == (gauge[0].get("width"), gauge[0].get("class"))
    assert "M50.0 0V12" == gauge[1].get("d")


@pytest.mark.parametrize(
    ("edits", "rows"),
    [
        ((Edit(9, "part   D1   1N4001  in d12 d18 band d18"),),
         [("−", "9", "part   D1   1N4001  in d12 d18 band d12", "d12"),
          ("+", "9", "part   D1   1N4001  in d12 d18 band d18", "d18")]),
        ((Edit(3, ""),), [("−", "3", "board half (take this line out)", "")]),
        ((Edit(11, "wire L-5 to R-5"),), [("+", "11", "wire L-5 to R-5 (new line)", "")]),
    ],
)
def test_a_fix_shows_the_line_before_and_after(edits: tuple[Edit, ...], rows: list[tuple[str, str, str, str]]) -> None:
    page = with_finding(msgspec.structs.replace(REVERSED, fixes=(Fix("do it", edits, True),)))
    shown = [(*("".join(cell.itertext()) for cell in row), "".join("".join(b.itertext()) for b in row.iter("b")))
             for row in by_class(page, "edited")[0].iter("tr")]

    assert rows == shown


def test_what_follows_is_folded_and_so_is_what_the_rule_means_told_once() -> None:
    page = html_of(msgspec.structs.replace(DO_NOT_POWER, findings=(REVERSED, REVERSED)))
    folded = [words_of(each.find("summary")) for each in page.iter("details")]

    assert ["What follows from it (3)", "More about diode-reversed", "What follows from it (3)"] == folded
    assert [] == [each for each in page.iter("details") if each.get("open") is not None]
    assert RULES["diode-reversed"][0].text[:60] in words_of(page.find("body"))


def test_answers_that_stand_on_lines_of_their_own_are_a_list() -> None:
    page = with_finding(msgspec.structs.replace(REVERSED, why="If it is E B C: fine\nIf it is C B E: Q1 sees 7 V"))

    assert ["ul"] == [each.tag for each in by_class(page, "why")]
    assert ["If it is E B C: fine", "If it is C B E: Q1 sees 7 V"] == [words_of(each) for each in by_class(page, "why")[0]]


# ── marks ─────────────────────────────────────────────────────────────────────────────────────────────────────────


@pytest.mark.parametrize(
    ("text", "marks", "expected"),
    [
        ("wire a5 to b7", [(5, 7, "fault")], ["wire ", "fault:a5", " to b7"]),
        ("wire a5", [(0, 7, "note"), (5, 7, "damage")], ["note:wire ", "damage:a5"]),
        ("wire a5", [(0, 5, "look"), (3, 7, "fault")], ["look:wir", "fault:e ", "fault:a5"]),
        ("wire", [(4, 5, "fault")], ["wire", "fault:\u00a0"]),
        ("", [(0, 1, "look")], ["look:\u00a0"]),
        ("plain", [], ["plain"]),
    ],
)
def test_a_line_is_cut_where_marks_begin_and_end(text: str, marks: list[tuple[int, int, str]], expected: list[str]) -> None:
    cut = pieces(text, [Mark(start, end, 1, severity) for start, end, severity in marks])

    assert expected == [piece if isinstance(piece, str) else f"{piece.get('class')}:{piece.text}"  # type: ignore[union-attr]
                        for piece in cut]


@pytest.mark.parametrize(
    ("span", "expected"),
    [
        (Span(1, 3, 1, 5), {1: (2, 4)}),
        (Span(1, 3, 3, 2), {1: (2, 5), 2: (0, 5), 3: (0, 1)}),
        (Span(1, 3, 2, 1), {1: (2, 5)}),
        (Span(2, 9, 2, 9), {2: (5, 6)}),
        (Span(9, 1, 9, 4), {3: (5, 6)}),
        (Span(0, 0, 0, 0), {1: (0, 5)}),
    ],
)
def test_a_span_marks_a_stretch_of_each_line_that_it_touches(span: Span, expected: dict[int, tuple[int, int]]) -> None:
    found = marks_of([(1, msgspec.structs.replace(REVERSED, span=span))], ("abcde", "fghij", "klmno"))

    assert expected == {line: (marks[0].start, marks[0].end) for line, marks in found.items()}


def test_the_margin_leads_to_every_finding_that_means_the_line() -> None:
    page = html_of(msgspec.structs.replace(DO_NOT_POWER, findings=(REVERSED, REVERSED)))
    (row,) = [row for row in page.iter("tr") if row.get("id") == "line-9"]

    assert ["#finding-1", "#finding-2"] == [each.get("href") for each in row.iter("a")]


# ── what is set beside, several lists ─────────────────────────────────────────────────────────────────────────────


def test_drawing_connections_and_meter_sheet_are_set_in_with_names_of_their_own() -> None:
    page = html_of(DO_NOT_POWER, page=ENCLOSED)
    drawing, diagram = (each[0] for each in page.iter("figure"))
    (meter,) = by_class(page, "meter")

    assert ["Findings", "The list", "The board", "Connections", "With the meter", "Assumed", "What next"] == [
        words_of(each) for each in page.iter("h2")]
    assert ("board-name", "board-name") == (drawing.get("aria-labelledby"), drawing[0].get("id"))
    assert "url(#board-dot)" == drawing[2].get("marker-end")
    assert "#diagram-name" == diagram[1].get("href")
    assert [("h2", "With the meter"), ("h3", "Before power"), ("h4", "Ohms")] == [
        (each.tag, words_of(each)) for each in meter.iter() if str(each.tag) in ("h2", "h3", "h4")]


def test_without_enclosures_there_is_no_empty_frame() -> None:
    page = html_of(CLEAR)

    assert [] == list(page.iter("figure"))
    assert [] == [each for each in page.iter("section") if len(each) < 2]


def test_several_lists_are_one_document_with_a_table_of_contents() -> None:
    page = html_of(DO_NOT_POWER, CLEAR, page=msgspec.structs.replace(SEVERAL, unopened=("gone.legs",)))
    (contents,) = page.iter("nav")

    assert "3 lists" == words_of(page.find("body/header/h1"))
    assert [("DO NOT POWER", "1 damage, 1 note"), ("CLEAR", "nothing"), ("NOT CHECKED", "no report")] == [
        (words_of(row[0]), words_of(row[2])) for row in contents.iter("tr") if row[0].tag == "td"]
    assert ["#list-1-report", "#list-2-report"] == [each.get("href") for each in contents.iter("a")]
    assert 2 == len(list(page.iter("article")))
    assert 1 == len(by_class(page, "safety"))


@pytest.mark.parametrize(("page", "expected"), [(EXPLAINED, ""), (SEVERAL, "0 lists")])
def test_no_list_at_all_is_an_empty_table_or_no_text(page: Page, expected: str) -> None:
    text = render("html", [], page)

    assert expected in text
    assert bool(text) is bool(expected)
