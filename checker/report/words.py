"""The words every format shares: verdicts, severities, a computed value against its limit, the safety sentence.

Input: the values of a report. Output: plain sentences without colour or layout. Control characters that a
pasted list may hold are made visible here, so that no list can steer the terminal that prints its report.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from itertools import pairwise
from math import isfinite

from msgspec import Struct
from msgspec.structs import replace

from checker.report.model import Edit, Evidence, Finding, Fix, Report, Summary
from grammar.quantities import show_quantity

VERDICT_WORDS = {
    "do-not-power": "DO NOT POWER",
    "unreadable": "COULD NOT READ ALL OF IT",
    "will-not-work": "WILL NOT WORK",
    "look-first": "LOOK FIRST",
    "clear": "CLEAR",
}
SEVERITY_WORDS = {"danger": "Danger", "damage": "Damage", "fault": "Fault", "look": "Look", "note": "Note"}
SAFETY = "A clear verdict is not a guarantee. Disconnect power before changing wiring."
CHECKED = (
    "Checked: the list was run again with that change. The finding is gone and nothing as bad has come in its place."
)
CHECKED_EACH = (
    "Checked: the list was run again with each of these changes, one at a time. The finding was gone each time and nothing as "
    "bad had come in its place."
)
CORNER_WORDS = {
    "stalled": "motors held still",
    "supply-high": "supply high",
    "supply-high-stalled": "supply high, motors held still",
    "lowest-gain": "supply high, lowest gain",
    "supply-low": "supply low",
    "first-supply-high": "one supply a little higher than the other",
    "first-supply-low": "one supply a little lower than the other",
}
"""The corners of the JSON as a person calls them."""
NO_FIX = "no single change was found that mends this"
HAZARD = "hazardous-voltage"
NOT_BY_A_MOVE = frozenset({
    "syntax", "unknown-part", "unknown-point", "name-reused", "bad-value", "nothing-powered", "hazardous-voltage"})
"""Findings whose own words say what to do, or that nothing is to be done."""
STANDARD_INPUT = "-"

_COUNTED = {
    "danger": ("danger", "dangers"),
    "damage": ("damage", "damage"),
    "fault": ("fault", "faults"),
    "look": ("to look at", "to look at"),
    "note": ("note", "notes"),
}
# A ratio says something only for quantities that start at zero: 120 °C is not twice 60 °C.
_RATIO_UNITS = frozenset({"A", "V", "W", "ohm"})
_LEAST_RATIO = 2.0
_MOST_STATES = 4

_CONTROLS = {code: chr(0x2400 + code) for code in range(32) if chr(code) not in "\t\n"}
# Deletion, the second set of controls, and the marks that reorder a line on the screen.
_HIDDEN = [0x7F, *range(0x80, 0xA0), 0x200E, 0x200F, *range(0x202A, 0x202F), 0x2028, 0x2029, *range(0x2066, 0x206A)]
_VISIBLE = {**_CONTROLS, **dict.fromkeys(_HIDDEN, "\ufffd"), **dict.fromkeys(range(0xD800, 0xE000), "\ufffd")}


def visible(text: str) -> str:
    """The text with every control character but tab and newline replaced by a character that can be seen."""
    return text.translate(_VISIBLE)


def concise(finding: Finding, file: str) -> str:
    """One line that stands alone: ``file:line:column: severity: message [rule]``."""
    place = f"{file}:{finding.span.line}:{finding.span.column}"
    return visible(f"{place}: {finding.severity}: {finding.message} [{finding.rule}]").replace("\n", " ")


def file_name(file: str) -> str:
    """How a file is called in a sentence."""
    return "standard input" if file == STANDARD_INPUT else file


def about(report: Report) -> str:
    """Whose list this is and where it lies: ``Seed-tray mister, by Ada (mister.legs)``."""
    named = ", by ".join(word for word in (report.title or ("a list" if report.by else ""), report.by) if word)
    return f"{named} ({file_name(report.file)})" if named else file_name(report.file)


def counted(summary: Summary) -> str:
    """The findings counted, worst first: ``1 damage, 2 faults``; empty where there are none."""
    amounts = ((getattr(summary, name), one, more) for name, (one, more) in _COUNTED.items())
    return ", ".join(f"{amount} {one if amount == 1 else more}" for amount, one, more in amounts if amount)


def place_of(finding: Finding) -> str:
    """``line 3`` or ``lines 3-5``; a span that ends at the first column of a line does not touch that line."""
    span = finding.span
    last = span.end_line if span.end_column > 1 else span.end_line - 1
    return f"lines {span.line}-{last}" if last > span.line else f"line {span.line}"


def without_fix(finding: Finding) -> bool:
    """True where something has to change and no change was proven. What has no number was not asked for."""
    by_a_move = finding.rule not in NOT_BY_A_MOVE and (finding.rule != "expectation-missed" or finding.evidence)
    return bool(not finding.fixes and finding.severity in ("danger", "damage", "fault") and by_a_move)


def no_fix(finding: Finding) -> str:
    """That no change was proven, and where to look instead: at the parts and points of the finding."""
    where = [*finding.parts, *(point for point in finding.points if "." not in point or not finding.parts)]
    return f"{NO_FIX}. Look at {_joined(list(dict.fromkeys(where))) if where else place_of(finding)}"


def is_hazardous(report: Report) -> bool:
    """True for a list that can hurt its reader: it gets no advice on how to go on."""
    return any(finding.rule == HAZARD for finding in report.findings)


def checked_words(findings: Sequence[Finding]) -> str:
    """What is meant by checked; "" where no fix was."""
    count = sum(fix.checked for finding in findings for fix in finding.fixes)
    return "" if not count else CHECKED if count == 1 else CHECKED_EACH


def first_step(report: Report) -> Fix | None:
    """What to do before anything else: the checked fix of the first finding, where it has one."""
    if report.verdict == "clear" or not report.findings:
        return None
    return next((fix for fix in report.findings[0].fixes if fix.checked), None)


class Measured(Struct, frozen=True):
    """Evidence in words, part by part: ``what`` was computed, its ``value``, its ``limit`` and ``when`` it occurs, the last
    two empty where there is nothing to say."""

    what: str
    value: str
    limit: str
    when: str


def evidence_in_words(evidence: Evidence) -> str:
    """The words of one evidence alone."""
    return in_words(measured(evidence))


def all_measured(evidence: Sequence[Evidence], most_states: int = _MOST_STATES) -> list[Measured]:
    """Each in words; when it occurs is told once where it is the same for the next ones."""
    told = [measured(each, most_states) for each in evidence]
    again = [bool(said.when) and said.when == before.when for before, said in pairwise(told)]
    return [replace(said, when="at the same time") if same else said
            for said, same in zip(told, [False, *again], strict=False)]


def not_yet_said(finding: Finding) -> list[Evidence]:
    """The evidence without what only says again, for the same moment as the first, numbers of the finding's own sentences."""
    first, *others = finding.evidence or (None,)
    if first is None:
        return []
    said = set(_NUMBER.findall(f"{finding.message} {finding.why}"))
    moment = (first.state, first.corner, first.reading)
    return [first, *(each for each in others
                     if (each.state, each.corner, each.reading) != moment or not _numbers_of(each) <= said)]


_NUMBER = re.compile(r"-?\d[\d.]* \S*[^\s.,;:)]")


def _numbers_of(evidence: Evidence) -> set[str]:
    limit = [] if evidence.limit is None else [show_quantity(evidence.limit, evidence.unit)]
    return {value_in_words(evidence), *limit}


def says_again(finding: Finding, shown: Sequence[Evidence]) -> bool:
    """True for a consequence whose sentence only says a number that is shown already, of the same part."""
    known = {(each.of, value_in_words(each)) for each in shown}
    return any((each.of, value_in_words(each)) in known and value_in_words(each) in finding.message for each in finding.evidence)


def in_words(said: Measured) -> str:
    """``Q1: power 8.4 W, limit 625 mW (13 times the limit), when U1.D9 is high``."""
    return ", ".join(clause for clause in (f"{said.what} {said.value}", said.limit, said.when) if clause)


def measured(evidence: Evidence, most_states: int = _MOST_STATES) -> Measured:
    """The parts of the sentence; of the states that were switched the first ``most_states`` are named."""
    clauses = (_state(evidence, most_states), _corner(evidence), _reading(evidence))
    return Measured(
        what=f"{evidence.of}: {evidence.quantity}",
        value=value_in_words(evidence),
        limit="" if evidence.limit is None else _limit(evidence, evidence.limit),
        when=", ".join(clause for clause in clauses if clause),
    )


NOTHING = 1e-3
"""A value below this part of its bound is told as nothing: its digits say nothing to a reader."""


def is_nothing(evidence: Evidence) -> bool:
    """True where a current or a voltage is next to nothing beside its bound."""
    return evidence.unit in ("A", "V") and evidence.limit is not None and abs(evidence.value) < NOTHING * abs(evidence.limit)


def value_in_words(evidence: Evidence) -> str:
    """The value with its unit; 0 where it is next to nothing."""
    return show_quantity(0.0 if is_nothing(evidence) else evidence.value, evidence.unit)


def assumed_in_words(assumed: Sequence[str]) -> list[str]:
    """What was assumed, once for all the parts of which it is the same: "R1, R2 and R3 are each 1/4 W, 5 %"."""
    names: dict[str, list[str]] = {}
    for sentence in dict.fromkeys(assumed):
        name, _, what = sentence.partition(" is ")
        names.setdefault(what or sentence, []).append(name)
    return [f"{_joined(each)} are each {what}" if len(each) > 1 else f"{each[0]} is {what}" if each[0] != what else what
            for what, each in names.items()]


def _limit(evidence: Evidence, limit: float) -> str:
    shown = show_quantity(limit, evidence.unit)
    if evidence.least:
        return f"should be at least {shown}"
    return f"limit {shown}{_ratio(evidence, limit)}"


def _ratio(evidence: Evidence, limit: float) -> str:
    """How many times the limit, where that is easier to grasp than two numbers."""
    if evidence.unit not in _RATIO_UNITS or not limit or not isfinite(evidence.value):
        return ""
    ratio = evidence.value / limit
    if not isfinite(ratio) or ratio < _LEAST_RATIO:
        return ""
    times = f"{ratio:.0f}" if ratio < 1000 else "over 1000"
    return f" ({times} times the limit)"


def _state(evidence: Evidence, most: int) -> str:
    switched = [f"{name} {_HOW.get(how) or f'is {_article(how)}{how}'}" for name, how in evidence.state.items()]
    if not switched:
        return ""
    shown = switched[:most]
    if len(switched) > len(shown):
        shown.append(f"{len(switched) - len(shown)} more")
    return "when " + _joined(shown)


_HOW = {"pullup": "has its pull-up on"}


def _article(how: str) -> str:
    if how.endswith("%"):
        return "at "
    return "an " if how in ("input", "output") else ""


def _joined(words: list[str]) -> str:
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"


def _corner(evidence: Evidence) -> str:
    if evidence.corner in ("", "nominal"):
        return ""
    return f"worst case: {CORNER_WORDS.get(evidence.corner, evidence.corner.replace('-', ' '))}"


def _reading(evidence: Evidence) -> str:
    legs = [f"{part} has its legs in the order {order}" for part, order in evidence.reading.items()]
    return f"if {_joined(legs)}" if legs else ""


def edit_in_words(edit: Edit, line_count: int) -> str:
    """What becomes of the line, for the margin of its new text: nothing for a changed line."""
    if not edit.text:
        return "take this line out"
    return "new line" if edit.line > line_count else ""
