"""The same circuit in other words, in other places or by other wires has the same verdict and the same findings.

Asked of the lists of three folders, each as it is and with slips of the hand, so that most rules have something to find. Lists
with findings about one hole (it reads like a controller's pin, d9; two ends are in it) are left out where holes change.
"""

from __future__ import annotations

from collections.abc import Callable
from random import Random

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from tests.properties.holes import in_other_holes
from tests.properties.judging import Judged, found_in, reported
from tests.properties.lists import LISTS, SMALL, any_list, statements_of, written
from tests.properties.moving import moved_on, turned_half
from tests.properties.rewriting import in_capitals, renamed, respelt, shuffled, tidied
from tests.properties.wiring import rerouted, turned_round

Change = Callable[[str, Random], str]
IN_WORDS: dict[str, Change] = {"statements in another order": shuffled, "parts renamed": renamed,
                               "values spelt otherwise": respelt, "laid out": tidied}
IN_PLACE: dict[str, Change] = {"turned by half a turn": turned_half, "some rows on": moved_on,
                               "other holes of the strips": in_other_holes, "other wires": rerouted,
                               "parts without polarity turned": turned_round, "in capitals": in_capitals}
CHANGES = {**IN_WORDS, **IN_PLACE}
IN_ONE_HOLE = {**dict.fromkeys(IN_PLACE, ("ambiguous-point",)),
               "other holes of the strips": ("ambiguous-point", "hole-taken"), "other wires": ("ambiguous-point", "hole-taken")}
"""Findings about one hole, which are gone or there with another hole: such lists are not compared."""

DEPENDS_ON_THE_WAY = ("load-current-in-logic-ground",)
"""What a wire that carries more than its own current does is what this rule is about."""


def as_compared(judged: Judged, what: str) -> Judged:
    """What is held against the other list: of renamed parts the letters, of other wires all but what depends on their way."""
    if what == "other wires":
        return judged.without(*DEPENDS_ON_THE_WAY)
    return judged.in_letters() if what == "parts renamed" else judged


def difference(text: str, what: str, seed: int, look: Callable[[str], Judged]) -> str | None:
    """What differs, with both lists; nothing where they agree, and None where they cannot be compared."""
    changed = CHANGES[what](text, Random(seed))
    before, after = look(text), look(changed)
    of_a_hole = IN_ONE_HOLE.get(what, ())
    if any(one.has(rule) for one in (before, after) for rule in of_a_hole):
        return None
    one, other = as_compared(before, what), as_compared(after, what)
    if look is reported:
        one, other = one.in_letters(), other.in_letters()
    return "" if one == other else f"{text}\n--- {what} ---\n{changed}\n{one.against(other)}"


@pytest.mark.parametrize("what", CHANGES)
def test_what_the_rules_find_stays(what: str) -> None:
    @settings(max_examples=25)
    @given(any_list(), st.integers(0, 999))
    def stays(text: str, seed: int) -> None:
        told = difference(text, what, seed, found_in)
        assume(told is not None)
        assert told == ""

    stays()


@settings(max_examples=12)
@given(any_list(SMALL, always_slipped=True), st.sampled_from(sorted(CHANGES.keys() - {"other wires"})), st.integers(0, 999))
def test_what_is_reported_of_a_slip_stays(text: str, what: str, seed: int) -> None:
    """Of two LEDs that stay dark for one cause the first is named, whichever that is. Other wires are other causes."""
    told = difference(text, what, seed, reported)
    assume(told is not None)
    assert told == ""


@pytest.mark.parametrize("what", CHANGES)
def test_the_change_changes_most_lists(what: str) -> None:
    """What is compared above is not a list with itself."""
    texts = [written(statements_of(text)) for text in list(LISTS.values())[::4]]

    changed = [text for text in texts if CHANGES[what](text, Random(1)) != text]

    assert len(changed) > len(texts) / 2
