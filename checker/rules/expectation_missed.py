"""What the list expects of the circuit does not come out."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import structs

from checker.rules.base import Found, Rule
from checker.rules.case import Case
from checker.rules.expecting import LIT_AMPS, SYNONYMS, Judged, asked_states, judge_expectation, told_conditions, unmet
from grammar.syntax_tree import Expect

__all__ = ["LIT_AMPS", "RULE", "SYNONYMS"]


def find(case: Case) -> Iterator[Found]:
    """Each ``expect`` in every nominal state that meets its conditions; missed in a corner only, it is a note."""
    for expect in case.bench.expects:
        judged = judge_expectation(case, expect)
        found = _found(case, expect, judged)
        if found is not None:
            yield found


def _found(case: Case, expect: Expect, judged: Judged) -> Found | None:
    name = expect.subject.text
    if judged.outcome == "no-such-part" and judged.subject is not None:
        return Found(rule="unknown-point", severity="fault", span=judged.subject.span, case="no-such-part",
                     points=(judged.subject.text,), facts={"name": judged.subject.text, "offered": ""})
    if judged.outcome == "no-state":
        options, meant = unmet(case, expect)
        return Found(rule="expectation-missed", severity="fault", span=expect.span, case="no-state", parts=(), points=(name,),
                     facts={"subject": name, "conditions": told_conditions(expect), "options": options, "meant": meant})
    if judged.outcome == "nowhere":
        return Found(rule="expectation-missed", severity="fault", span=expect.span, case="nowhere", points=(name,),
                     facts={"subject": name}, needs_whole_list=True)
    if judged.outcome not in ("missed", "weak") or judged.value is None or judged.point is None:
        return None
    evidence = case.evidence(judged.quantity, name, judged.unit, judged.value, judged.point, judged.bound, judged.least,
                             judged.values)
    state = {**asked_states(case, expect, judged.point), **evidence.state}
    return Found(rule="expectation-missed", severity="fault" if judged.outcome == "missed" else "note", span=expect.span,
                 case="missed", parts=tuple(p.name for p in [case.bench.part(name.split(".")[0])] if p), points=(name,),
                 facts={"subject": name, "verb": expect.verb, "conditions": told_conditions(expect)},
                 evidence=(structs.replace(evidence, state=state),), needs_whole_list=True)


EXPLANATION = """
# What it means
The list says with `expect` what the circuit should do, and the computed value is outside. The circuit may be harmless
and do something; it does not do what you wrote down. It is judged with everything at its stated value; missed only with
a weak battery or a stalled motor it is a note.

# Why it matters
Either the circuit or the expectation is wrong, and both are worth knowing before power is on. Here 2.2 kΩ lets 5 V less
1.8 V over 2.2 kΩ through, which is 1.4 mA: a glow, not the 8 to 20 mA that were wanted. 220 Ω gives 14 mA.

# A list that has it
title "Bird feeder: the night light"
board half
supply PACK 5V on L+ L-
part NIGHT led yellow in c10 c11 long c10
part R1 2k2 in b5 b10
wire L+5 to a5
wire L-11 to a11
expect NIGHT carries 8mA to 20mA

# The same list mended
title "Bird feeder: the night light"
board half
supply PACK 5V on L+ L-
part NIGHT led yellow in c10 c11 long c10
part R1 220 in b5 b10
wire L+5 to a5
wire L-11 to a11
expect NIGHT carries 8mA to 20mA

# How to check with a meter
Measure what the line names. For a current, measure the volts across a resistor in the same path and divide by its ohms,
or put the meter in series on the mA range. For a point such as `a10`, measure its volts against the minus of the
supply. Then compare with both bounds.

# Source
Common practice, no source: a circuit is checked against what it is required to do, written down beforehand.
"""

RULE = Rule("expectation-missed", "behaviour", EXPLANATION, find)
