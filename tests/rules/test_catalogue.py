"""The catalogue of rules: what each rule says about itself is complete and true.

Every rule explains itself under the fixed headings, with a list that has the fault and the same list mended. Both lists go
through the whole checker here: the one must be found out by this rule before any other, the other must come out clear.
"""

from __future__ import annotations

import re
from difflib import ndiff
from pathlib import Path

import pytest

import checker.rules
from checker import check
from checker.rules import RULES, Rule, explain, slugs
from checker.rules.base import HEADINGS
from grammar import read

EACH_RULE = pytest.mark.parametrize("rule", RULES, ids=[rule.slug for rule in RULES])

# The families of the design page, section 3.
FAMILIES = {"orientation", "placement", "shorts", "current", "inductive", "grounding", "voltage", "function", "behaviour",
            "reading"}

# Words that a name must not hold: advice belongs to the fix, the kind of message to its severity.
ADVICE = {"add", "avoid", "check", "fix", "keep", "must", "need", "prefer", "require", "should", "turn", "use"}
PREFIXES = {"error", "rule", "warn", "warning", *FAMILIES}

# What a first finding of each severity makes of the list, as the design page says.
VERDICTS = {"danger": "do-not-power", "damage": "do-not-power", "fault": "will-not-work", "look": "look-first", "note": "clear"}

MOST_LINES = 15
"""Lines of a list in an explanation: what a reader takes in at one look."""

MOST_CHANGES = 6
"""Lines that go or come between a list and the same list mended."""


def lines_with_marks(text: str) -> list[str]:
    """The lines that hold a statement."""
    return [line for line in text.splitlines() if line.strip() and not line.strip().startswith("#")]


# ── names ───────────────────────────────────────────────────────────────────────────────────────────────────────────


def test_no_two_rules_have_one_name() -> None:
    assert sorted(set(slugs())) == sorted(slugs())


@EACH_RULE
def test_a_name_is_lower_case_words_joined_by_hyphens(rule: Rule) -> None:
    assert re.fullmatch(r"[a-z]+(-[a-z]+)*", rule.slug)


@EACH_RULE
def test_a_name_states_the_bad_thing_without_prefix_or_advice(rule: Rule) -> None:
    words = rule.slug.split("-")

    assert words[0] not in PREFIXES
    assert not ADVICE & set(words)


@EACH_RULE
def test_a_rule_is_of_a_known_family(rule: Rule) -> None:
    assert rule.family in FAMILIES


def test_every_rule_has_a_file_of_its_name_and_every_such_file_is_in_the_catalogue() -> None:
    folder = Path(checker.rules.__file__).parent
    files = {path.stem for path in folder.glob("*.py") if re.search(r"^RULE = ", path.read_text(encoding="utf-8"), re.MULTILINE)}

    assert {slug.replace("-", "_") for slug in slugs()} == files


# ── headings ────────────────────────────────────────────────────────────────────────────────────────────────────────


@EACH_RULE
def test_an_explanation_has_the_fixed_headings_once_each_in_their_order(rule: Rule) -> None:
    headings = [line[2:] for line in rule.explanation.splitlines() if line.startswith("# ")]

    assert list(HEADINGS) == headings


@EACH_RULE
@pytest.mark.parametrize("heading", list(HEADINGS))
def test_no_heading_is_left_empty(rule: Rule, heading: str) -> None:
    assert getattr(explain(rule.slug), HEADINGS[heading]).strip()


@EACH_RULE
@pytest.mark.parametrize("heading", ["means", "matters", "meter"])
def test_prose_is_two_to_six_sentences(rule: Rule, heading: str) -> None:
    prose = getattr(explain(rule.slug), heading)

    assert 2 <= len(re.findall(r"[.?][\")]?(?=\s|$)", prose)) <= 6


@EACH_RULE
def test_why_it_matters_says_how_much_in_numbers(rule: Rule) -> None:
    assert re.search(r"\d", explain(rule.slug).matters)


@EACH_RULE
def test_prose_keeps_to_the_tone_of_the_bench(rule: Rule) -> None:
    prose = " ".join(getattr(explain(rule.slug), heading) for heading in ("means", "matters", "meter"))

    assert "!" not in prose
    assert "illegal" not in prose.lower()
    assert "you forgot" not in prose.lower()


# ── the two lists ───────────────────────────────────────────────────────────────────────────────────────────────────


@EACH_RULE
def test_the_bad_list_is_found_out_by_this_rule_first(rule: Rule) -> None:
    report = check(explain(rule.slug).bad_list)

    assert rule.slug == next((finding.rule for finding in report.findings), "nothing was found")


@EACH_RULE
def test_the_verdict_on_the_bad_list_is_that_of_its_first_finding(rule: Rule) -> None:
    report = check(explain(rule.slug).bad_list)

    assert ("unreadable" if rule.family == "reading" and report.verdict == "unreadable"
            else VERDICTS[report.findings[0].severity]) == report.verdict


@EACH_RULE
def test_the_mended_list_is_clear_with_nothing_above_a_note(rule: Rule) -> None:
    report = check(explain(rule.slug).mended_list)

    assert [] == [(finding.rule, finding.message) for finding in report.findings if finding.severity != "note"]
    assert "clear" == report.verdict


@EACH_RULE
def test_the_mended_list_no_longer_has_what_the_rule_finds(rule: Rule) -> None:
    report = check(explain(rule.slug).mended_list)

    assert rule.slug not in [finding.rule for finding in report.findings]


@EACH_RULE
def test_the_lists_are_read_without_a_problem(rule: Rule) -> None:
    explanation = explain(rule.slug)

    assert () == read(explanation.mended_list).problems
    assert () == read(explanation.bad_list).problems or rule.family == "reading"


@EACH_RULE
def test_the_lists_are_short_and_near_to_each_other(rule: Rule) -> None:
    bad, mended = lines_with_marks(explain(rule.slug).bad_list), lines_with_marks(explain(rule.slug).mended_list)
    changes = [line for line in ndiff(bad, mended) if line.startswith(("+ ", "- "))]

    assert len(bad) <= MOST_LINES and len(mended) <= MOST_LINES
    assert 1 <= len(changes) <= MOST_CHANGES


@EACH_RULE
def test_the_lists_have_a_title_and_all_that_a_board_needs(rule: Rule) -> None:
    explanation = explain(rule.slug)

    for text in (explanation.bad_list, explanation.mended_list):
        assert text.startswith("title ")
        # the one rule that is about a missing source has none in its list
        fed = re.search(r"^(supply|battery) |controller-", text, re.MULTILINE)
        assert fed or (rule.slug == "nothing-powered" and text == explanation.bad_list)
