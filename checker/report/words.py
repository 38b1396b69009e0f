"""The words every format shares: verdicts, severities, a computed value against its limit, the safety sentence.

Input: the values of a report. Output: plain sentences without colour or layout. Control characters that a
pasted list may hold are made visible here, so that no list can steer the terminal that prints its report.
"""

from __future__ import annotations

from math import isfinite

from checker.report.model import Edit, Evidence, Finding, Report, Summary
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


def evidence_in_words(evidence: Evidence) -> str:
    """``Q1: power 8.4 W, limit 625 mW (13 times the limit), when U1.D9 is high``."""
    clauses = [f"{evidence.of}: {evidence.quantity} {show_quantity(evidence.value, evidence.unit)}"]
    if evidence.limit is not None:
        clauses.append(_limit(evidence, evidence.limit))
    clauses.extend(clause for clause in (_state(evidence), _corner(evidence), _reading(evidence)) if clause)
    return ", ".join(clauses)


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


def _state(evidence: Evidence) -> str:
    switched = [f"{name} is {_article(how)}{how}" for name, how in evidence.state.items()]
    if not switched:
        return ""
    shown = switched[:_MOST_STATES]
    if len(switched) > len(shown):
        shown.append(f"{len(switched) - len(shown)} more are as listed in the JSON")
    return "when " + _joined(shown)


def _article(how: str) -> str:
    return "an " if how in ("input", "output") else ""


def _joined(words: list[str]) -> str:
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"


def _corner(evidence: Evidence) -> str:
    return "" if evidence.corner in ("", "nominal") else f"worst case: {evidence.corner.replace('-', ' ')}"


def _reading(evidence: Evidence) -> str:
    legs = [f"{part} has its legs in the order {order}" for part, order in evidence.reading.items()]
    return f"if {_joined(legs)}" if legs else ""


def edit_in_words(edit: Edit, line_count: int) -> str:
    """What becomes of the line, for the margin of its new text: nothing for a changed line."""
    if not edit.text:
        return "take this line out"
    return "new line" if edit.line > line_count else ""
