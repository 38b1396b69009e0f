"""One finding as HTML: what, where, why, the numbers, what follows (folded), what to do, what the rule means (folded).

Input: a finding with its number. Output: a ``section``.
"""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import Struct

from checker.markup import Child, Element, tag
from checker.report.gauge import gauge
from checker.report.listing import edited, quoted
from checker.report.model import Evidence, Finding, Fix
from checker.report.page import Section
from checker.report.words import (
    SEVERITY_WORDS,
    Measured,
    all_measured,
    no_fix,
    not_yet_said,
    place_of,
    says_again,
    without_fix,
)

_ALL = 1_000_000


class Place(Struct, frozen=True):
    """Where in the document: ``prefix`` of its anchors, ``level`` of its headings, the ``lines`` of the list; ``hazardous`` for
    a list that gets no advice on how to go on."""

    prefix: str
    level: int
    lines: tuple[str, ...]
    hazardous: bool = False

    def heading(self, *children: Child, below: int = 0, **attributes: str | None) -> Element:
        """A heading at this level, or ``below`` it."""
        return tag(f"h{min(self.level + below, 6)}", *children, **attributes)


def finding_section(number: int, finding: Finding, place: Place, explained: Sequence[Section]) -> Element:
    """The whole finding; ``explained`` is what its rule means, nothing where that was said before."""
    name = f"{place.prefix}finding-{number}"
    title = place.heading(
        tag("span", str(number), class_="tab"), " ", tag("span", SEVERITY_WORDS[finding.severity], class_="severity"), ": ",
        finding.message, id=f"{name}-title", below=2)
    return tag("section", title, _where(finding, place), quoted(finding, place.lines),
               _why(finding.why), _evidence(not_yet_said(finding)), _fixes(finding, place),
               _consequences(finding), _about(finding.rule, explained, place),
               class_=f"finding {finding.severity}", id=name, aria_labelledby=f"{name}-title")


def _where(finding: Finding, place: Place) -> Element:
    line = tag("a", place_of(finding), href=f"#{place.prefix}line-{min(max(finding.span.line, 1), len(place.lines))}")
    words = [", ".join(words) for words in (finding.parts, finding.points) if words]
    return tag("p", line if place.lines else place_of(finding), [[" · ", each] for each in words], " · ",
               tag("code", finding.rule), class_="where")


def _why(why: str) -> Element | None:
    """A sentence, or where an answer stands on each line, a list of them."""
    lines = why.splitlines()
    if len(lines) > 1:
        return tag("ul", [tag("li", line) for line in lines], class_="why")
    return tag("p", why, class_="why") if lines else None


def _evidence(evidence: Sequence[Evidence]) -> Element | None:
    if not evidence:
        return None
    told = zip(evidence, all_measured(evidence, _ALL), strict=True)
    return tag("ul", [tag("li", _measured(each, said)) for each, said in told], class_="evidence")


def _measured(evidence: Evidence, said: Measured) -> list[Child]:
    limit: Child = [", ", tag("span", said.limit, class_="limit")] if said.limit else None
    when = tag("span", said.when, class_="when") if said.when else None
    return [tag("span", said.what, " ", tag("b", said.value), limit, class_="measured"), " ", gauge(evidence), " ", when]


def _fixes(finding: Finding, place: Place) -> list[Element]:
    if without_fix(finding):
        said = no_fix(finding)
        return [] if place.hazardous else [tag("p", f"{said[:1].upper()}{said[1:]}.", class_="aside")]
    return [_fix(fix, "Do this" if index == 0 else "Or this", place) for index, fix in enumerate(finding.fixes)]


def _fix(fix: Fix, label: str, place: Place) -> Element:
    sure = "checked" if fix.checked else "not checked"
    return tag("div", tag("p", tag("b", f"{label}: "), fix.say, " ", tag("span", sure, class_="sure"), class_="say"),
               edited(fix.edits, place.lines) if fix.edits else None, class_="fix")


def _consequences(finding: Finding) -> Element | None:
    told = [each for each in finding.consequences if not says_again(each, finding.evidence)]
    return tag("details", tag("summary", f"What follows from it ({len(told)})"), _followed(told)) if told else None


def _followed(consequences: Sequence[Finding]) -> Element:
    return tag("ul", [tag("li", tag("b", f"{SEVERITY_WORDS[each.severity]}: "), each.message,
                          f". {each.why}" if each.why else None, _evidence(each.evidence),
                          _followed(each.consequences) if each.consequences else None)
                      for each in consequences], class_="consequences")


def _about(rule: str, explained: Sequence[Section], place: Place) -> Element | None:
    if not explained:
        return None
    return tag("details", tag("summary", "More about ", tag("code", rule)),
               [[place.heading(each.heading, below=3), _text_of(each)] for each in explained], class_="about")


def _text_of(section: Section) -> list[Element]:
    if section.quoted:
        return [tag("pre", tag("code", section.text))]
    return [tag("p", paragraph) for paragraph in section.text.split("\n\n")]
