"""What a list should do, and whether it does: its own expectations, or a reference's, and how like the reference it is.

Input: surveys. Output: an outcome with likeness, differences and expectations filled in, each with the value that was computed.
A reference's expectations are put into the words of the given list as the comparison pairs the two.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from msgspec import structs

from checker.batch.model import Expectation, Outcome
from checker.comparing import behaviour
from checker.comparing.compare import compared, nearest_variant
from checker.report.model import Finding
from checker.rules.case import Case
from checker.survey import Survey
from grammar.syntax_tree import Expect


def own_expectations(surveyed: Survey) -> tuple[Expectation, ...]:
    """Each ``expect`` of a list and whether it is met in all its readings. One that fails in a corner only is met; one whose
    part could not be read or computed is not."""
    if not surveyed.bench.expects:
        return ()
    missed = {found.span.line for found in surveyed.found
              if found.rule in ("expectation-missed", "unknown-point") and found.severity != "note"}
    computed = bool(surveyed.operatings) and all(bool(each.converged.all()) for each in surveyed.operatings)
    if not computed:
        return tuple(Expectation(said_of(surveyed, expect), False) for expect in surveyed.bench.expects)
    case = Case(surveyed.operatings[0])
    outcomes = [behaviour.outcome_of(case, expect, said_of(surveyed, expect)) for expect in surveyed.bench.expects]
    return tuple(structs.replace(told, met=expect.span.line not in missed)
                 for expect, told in zip(surveyed.bench.expects, _told(outcomes), strict=True))


def said_of(surveyed: Survey, expect: Expect) -> str:
    """An expectation as its list writes it."""
    line = surveyed.bench.tree.lines[expect.span.line - 1]
    return " ".join(line[expect.span.column - 1:expect.span.end_column - 1].split())


def against_reference(found: Outcome, reference: Survey, given: Survey) -> Outcome:
    """The outcome with what the reference says about it."""
    variant = nearest_variant(reference, given)
    beside = compared(variant, reference, given)
    expectations = found.expectations
    if reference.bench.expects:
        expectations = tuple(_told(behaviour.behaviour_beside(variant, reference, given).outcomes))
    return structs.replace(
        found, likeness=beside.likeness, same=beside.same and not beside.unread,
        differences=(*(difference.say for difference in beside.differences), *beside.partly),
        counting=None if beside.unread else len(beside.counting),
        pairs={theirs.upper(): ours for ours, theirs in beside.pairs.items() if "." not in ours}, expectations=expectations)


def with_asked_for(found: Outcome, reference: Sequence[Finding]) -> Outcome:
    """The outcome with those findings marked that the reference has too: of the same rule, as grave, at a part that plays the
    same; each of the reference's stands for one."""
    left = list(reference)
    asked_for = []
    for number, finding in enumerate(found.report.findings if found.report is not None else ()):
        parts = {found.pairs[name.upper()].upper() for name in finding.parts if name.upper() in found.pairs}
        same = next((one for one in left if (one.rule, one.severity) == (finding.rule, finding.severity)
                     and (parts & {name.upper() for name in one.parts} or not (one.parts or finding.parts))), None)
        if same is not None:
            left.remove(same)
            asked_for.append(number)
    return structs.replace(found, asked_for=tuple(asked_for))


def _told(outcomes: Iterable[behaviour.Outcome]) -> list[Expectation]:
    return [Expectation(one.text, bool(one.met), "" if one.say == "met" else one.say) for one in outcomes]
