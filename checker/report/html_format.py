"""The report as one HTML file that needs nothing else: to read on a phone, to print, to hand in.

Input: reports and a page with what is set beside them. Output: a document with its own style sheet, no script, nothing
fetched; its content security policy holds it to that. Text from a list is only ever text (``checker.markup``).
"""

from __future__ import annotations

from base64 import b64encode
from collections.abc import Iterator, Sequence
from hashlib import sha256
from itertools import zip_longest

from checker.markup import Child, Element, html, tag
from checker.report.html_finding import Place, finding_section
from checker.report.listing import marks_of, whole_list
from checker.report.model import Finding, Report
from checker.report.page import Enclosure, Page, Section
from checker.report.set_in import seen, set_in
from checker.report.style import stylesheet
from checker.report.words import (
    SAFETY,
    VERDICT_WORDS,
    about,
    assumed_in_words,
    checked_words,
    counted,
    file_name,
    first_step,
    is_hazardous,
)

_NOTHING = "Nothing was found."


def render(reports: Sequence[Report], page: Page) -> str:
    """One document; of several lists with a table of contents before them. No text for no list at all."""
    if not reports and not page.several:
        return ""
    several = page.several or len(reports) > 1
    enclosures = zip_longest(reports, page.enclosures[: len(reports)], fillvalue=Enclosure())
    articles = [_article(report, beside, page, f"list-{number}-" if several else "")
                for number, (report, beside) in enumerate(enclosures, 1) if isinstance(report, Report)]
    body = tag("body", _contents(reports, page) if several else None, tag("main", articles), _foot(reports))
    title = f"{len(reports)} lists" if several else f"{VERDICT_WORDS[reports[0].verdict]}: {about(reports[0])}"
    return html(seen(tag("html", _head(title), body, lang="en")))


def _head(title: str) -> Element:
    style = stylesheet()
    digest = b64encode(sha256(style.encode("utf-8")).digest()).decode("ascii")
    policy = f"default-src 'none'; style-src 'sha256-{digest}'; base-uri 'none'; form-action 'none'"
    return tag("head", tag("meta", charset="utf-8"),
               tag("meta", http_equiv="Content-Security-Policy", content=policy),
               tag("meta", name_="viewport", content="width=device-width, initial-scale=1"),
               tag("meta", name_="color-scheme", content="light dark"),
               tag("title", f"{title} - legwise"), tag("style", style))


def _contents(reports: Sequence[Report], page: Page) -> Element:
    """All lists at a glance: verdict, which list, how much was found."""
    rows = [tag("tr", tag("td", _stamp(report)),
                tag("td", tag("a", about(report), href=f"#list-{number}-report"), tag("br"), report.headline),
                tag("td", counted(report.summary) or "nothing"))
            for number, report in enumerate(reports, 1)]
    rows += [tag("tr", tag("td", "NOT CHECKED"), tag("td", file_name(name)), tag("td", "no report"))
             for name in page.unopened]
    head = tag("thead", tag("tr", *(tag("th", word, scope="col") for word in ("Verdict", "List", "Found"))))
    return tag("header", tag("h1", f"{len(rows)} {'list' if len(rows) == 1 else 'lists'}"),
               tag("nav", tag("table", head, tag("tbody", rows), class_="contents"), aria_label="Contents"))


def _foot(reports: Sequence[Report]) -> Element:
    made = f"Made by legwise {reports[0].legwise}." if reports else "Made by legwise."
    return tag("footer", tag("p", SAFETY, class_="safety"), tag("p", made))


# ── one list ──────────────────────────────────────────────────────────────────────────────────────────────────────


def _article(report: Report, beside: Enclosure, page: Page, prefix: str) -> Element:
    place = Place(prefix, 2 if prefix else 1, report.lines, is_hazardous(report))
    numbered = list(enumerate(report.findings, 1))
    findings = _findings(report, numbered, place, page.rules)
    listing = _listing(report, numbered, place)
    board = _part(place, "The board", _figure(beside.drawing, f"{prefix}board-", "drawing")) if beside.drawing else None
    # What is worked on stands left, what is looked at beside it: the board, or without one the list.
    columns = ((findings, listing), (board,)) if board is not None else ((findings,), (listing,))
    return tag("article", _opening(report, place),
               tag("div", [tag("div", column, class_="column") for column in columns], class_="spread"),
               _beside(beside, place), _closing(report, place), id=f"{prefix}report", aria_labelledby=f"{prefix}title")


def _opening(report: Report, place: Place) -> Element:
    first = first_step(report)
    count = counted(report.summary)
    return tag("header", place.heading(about(report), id=f"{place.prefix}title"),
               tag("p", _stamp(report), class_="verdict"), tag("p", report.headline, class_="headline"),
               tag("p", tag("b", "First: "), first.say, class_="first") if first else None,
               tag("p", f"Found: {count}.", class_="count") if count else None)


def _stamp(report: Report) -> Element:
    return tag("strong", VERDICT_WORDS[report.verdict], class_=f"stamp {report.verdict}")


def _findings(
    report: Report, numbered: Sequence[tuple[int, Finding]], place: Place, rules: dict[str, tuple[Section, ...]]
) -> Element:
    """Every finding in order; what a rule means is told where it comes first."""
    told: set[str] = set()
    sections = []
    for number, finding in numbered:
        explained = rules.get(finding.rule, ()) if finding.rule not in told else ()
        told.add(finding.rule)
        sections.append(finding_section(number, finding, place, explained))
    checked = checked_words(report.findings)
    return _part(place, "Findings", sections or tag("p", _NOTHING), tag("p", checked, class_="aside") if checked else None)


def _listing(report: Report, numbered: Sequence[tuple[int, Finding]], place: Place) -> Element | None:
    if not report.lines:
        return None
    return _part(place, "The list", whole_list(report.lines, marks_of(numbered, report.lines), place.prefix), class_="list")


def _beside(beside: Enclosure, place: Place) -> Iterator[Element]:
    """The connections and the meter sheet, those that there are."""
    if beside.diagram:
        yield _part(place, "Connections", _figure(beside.diagram, f"{place.prefix}diagram-", "diagram"))
    if beside.meter:
        yield _part(place, "With the meter", set_in(beside.meter, f"{place.prefix}meter-", place.level + 2), class_="meter")


def _figure(drawn: str, prefix: str, kind: str) -> Element:
    # It can be wider than a phone: then it scrolls, and can be reached from the keyboard for that.
    return tag("figure", set_in(drawn, prefix), class_=kind, tabindex="0")


def _closing(report: Report, place: Place) -> Iterator[Element]:
    if report.assumed:
        yield _part(place, "Assumed", tag("ul", [tag("li", each) for each in assumed_in_words(report.assumed)]), class_="assumed")
    if report.advice:
        yield _part(place, "What next", [tag("p", each) for each in report.advice], class_="advice")


def _part(place: Place, heading: str, *children: Child, class_: str | None = None) -> Element:
    name = f"{place.prefix}{heading.lower().replace(' ', '-')}"
    return tag("section", place.heading(heading, below=1, id=name), *children, class_=class_, aria_labelledby=name)
