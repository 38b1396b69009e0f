"""What a list should do, and whether it does: its own expectations, or a reference's, and how like the reference it is.

Input: surveys. Output: an outcome with likeness, differences and expectations filled in. A reference's expectations are put into
the words of the given list, part for part as the comparison pairs them; one that speaks of a hole says nothing about a
circuit that is built elsewhere, and is left out for everyone.
"""

from __future__ import annotations

import re

from msgspec import structs

from checker.batch.model import Expectation, Outcome
from checker.comparing import Comparison, compare
from checker.survey import Survey, survey
from grammar.syntax_tree import Bare, Expect, Pin, Point

_ABSENT = "{said}: {name} is not there"


def own_expectations(surveyed: Survey) -> tuple[Expectation, ...]:
    """Each ``expect`` of a list and whether it is met. One that fails in a corner only is met; one whose part could not be
    read or computed is not."""
    missed = {found.span.line for found in surveyed.found
              if found.rule in ("expectation-missed", "unknown-point") and found.severity != "note"}
    computed = bool(surveyed.operatings) and all(bool(each.converged.all()) for each in surveyed.operatings)
    return tuple(Expectation(said_of(surveyed, expect), computed and expect.span.line not in missed)
                 for expect in surveyed.bench.expects)


def said_of(surveyed: Survey, expect: Expect) -> str:
    """An expectation as its list writes it."""
    line = surveyed.bench.tree.lines[expect.span.line - 1]
    return " ".join(line[expect.span.column - 1:expect.span.end_column - 1].split())


def required_of(reference: Survey) -> tuple[Expect, ...]:
    """The expectations of a reference that can be asked of a circuit built elsewhere: those about parts and their pins."""
    return tuple(expect for expect in reference.bench.expects
                 if all(isinstance(subject, Pin | Bare) for subject in _subjects(expect)))


def _subjects(expect: Expect) -> tuple[Point, ...]:
    return (expect.subject, *(condition.subject for condition in expect.conditions))


def against_reference(found: Outcome, reference: Survey, given: Survey) -> Outcome:
    """The outcome with what the reference says about it."""
    compared = compare(reference, given)
    required = required_of(reference)
    return structs.replace(
        found, likeness=compared.likeness, same=compared.same and not compared.unread,
        differences=(*(difference.say for difference in compared.differences), *compared.partly),
        pairs={theirs.upper(): ours for ours, theirs in compared.pairs.items() if "." not in ours},
        expectations=_asked(required, reference, given, compared) if required else found.expectations)


def _asked(required: tuple[Expect, ...], reference: Survey, given: Survey, compared: Comparison) -> tuple[Expectation, ...]:
    """The reference's expectations, held against the given list."""
    said = [_translated(expect, reference, compared) for expect in required]
    askable = [words for words, absent in said if not absent]
    held = iter(own_expectations(_with_expectations(given, askable))) if askable else iter(())
    return tuple(Expectation(_ABSENT.format(said=words, name=absent), False) if absent else next(held)
                 for words, absent in said)


def _translated(expect: Expect, reference: Survey, compared: Comparison) -> tuple[str, str]:
    """An expectation in the names of the given list, and the first part that has no counterpart there."""
    pairs = {ours.lower(): theirs for ours, theirs in compared.pairs.items()}
    words = said_of(reference, expect)
    for name in dict.fromkeys(subject.text.split(".")[0].split()[0] for subject in _subjects(expect)):
        if name.lower() not in pairs:
            return words, name
    return _NAME.sub(lambda found: _paired(found[0], pairs), words), ""


_NAME = re.compile(r"(?<![\w.])[A-Za-z_]\w*(?:\.[\w+-]+)?")


def _paired(word: str, pairs: dict[str, str]) -> str:
    """A name, or a name with its pin, as the given list calls it; any other word as it is."""
    if word.lower() in pairs:
        return pairs[word.lower()]
    name, dot, pin = word.partition(".")
    return pairs.get(name.lower(), name) + dot + pin


def _with_expectations(given: Survey, expectations: list[str]) -> Survey:
    """The given list surveyed with other expectations in place of its own."""
    own = {expect.span.line for expect in given.bench.expects}
    kept = [line for number, line in enumerate(given.bench.tree.lines, start=1) if number not in own]
    return survey(["\n".join([*kept, *expectations]) + "\n"], given.bench.library)[0]
