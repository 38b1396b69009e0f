"""What a rule is, and what it hands over.

A rule looks at one ``Case`` (a circuit with its operating points) and yields ``Found``: meaning, not sentences: which
rule, which parts and points, which numbers against which limits. One layer (``checker.sentences``) words it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING

from msgspec import Struct

from checker.report.model import SEVERITIES, Evidence
from grammar.syntax_tree import Span

if TYPE_CHECKING:
    from checker.rules.case import Case

Facts = dict[str, str]

TEXT_RULES = ("syntax", "unknown-part", "unknown-point", "ambiguous-point", "name-reused", "bad-value")
"""Findings about the text: each place is one of its own."""


class Answer(Struct, frozen=True):
    """One answer to a question about the board: what would be seen (``words``), what is then ``marked`` on the part, the
    words to ``add`` to the list, what would be found (``then``, the worst first), and the stretches to ``drop`` from the
    list, which ``dropped`` gives in words."""

    words: str
    add: str
    marked: str = ""
    tell: str = ""
    then: tuple[Found, ...] = ()
    drop: tuple[Span, ...] = ()
    dropped: tuple[str, ...] = ()


class Found(Struct, frozen=True, kw_only=True):
    """One thing that a rule found. ``case`` picks the sentence, ``facts`` fill it; ``parts`` are names, ``points`` holes or
    pins as written; ``needs_whole_list`` marks what may be untrue where a line could not be read."""

    rule: str
    severity: str
    span: Span
    case: str = ""
    parts: tuple[str, ...] = ()
    points: tuple[str, ...] = ()
    facts: Facts = {}
    evidence: tuple[Evidence, ...] = ()
    answers: tuple[Answer, ...] = ()
    needs_whole_list: bool = False
    weight: float = 0.0

    @property
    def key(self) -> tuple[str, tuple[str, ...], str]:
        """What makes two findings the same finding before and after an edit: the rule, the parts, and where a part can have
        the same thing at several places, the place."""
        if self.rule in TEXT_RULES:
            return self.rule, self.parts, f"{self.span.line}:{self.span.column}"
        if self.case in ("pin", "base", "leg", "wire", "controller", "chip", "bus", "amplifier", "capacitor", "range"):
            return self.rule, self.parts, self.points[0] if self.points else ""
        return self.rule, self.parts, self.facts.get("conditions", "") or ("" if self.parts else "".join(self.points[:1]))

    @property
    def rank(self) -> int:
        """0 for danger up to 4 for a note."""
        return SEVERITIES.index(self.severity)


class Rule(Struct, frozen=True):
    """One rule: its slug, its family, its explanation under fixed headings, and its test of the numbers.

    ``find`` is None for rules that are found before physics (reading, seating) or named by a fix that cures
    (orientation)."""

    slug: str
    family: str
    explanation: str
    find: Callable[[Case], Iterable[Found]] | None = None


class Explanation(Struct, frozen=True):
    """The fixed headings of a rule's explanation."""

    means: str
    matters: str
    bad_list: str
    mended_list: str
    meter: str
    source: str


HEADINGS = {"What it means": "means", "Why it matters": "matters", "A list that has it": "bad_list",
            "The same list mended": "mended_list", "How to check with a meter": "meter", "Source": "source"}


def read_explanation(text: str) -> Explanation:
    """The parts of an explanation; raises KeyError where a heading is missing or not one of the fixed ones."""
    found: dict[str, list[str]] = {}
    current: list[str] | None = None
    for line in text.strip().splitlines():
        if line.startswith("# ") and line[2:].strip() in HEADINGS:
            current = found.setdefault(HEADINGS[line[2:].strip()], [])
        elif current is not None:
            current.append(line)
    return Explanation(**{field: "\n".join(found[field]).strip() for field in HEADINGS.values()})
