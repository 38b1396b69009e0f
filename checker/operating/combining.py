"""How the options of a group of variables are combined to states.

Variables are combined freely, but for outputs of which only one at a time is active: these move together, as one dimension
with one setting for each of them and one in which none is active. Where all combinations would be too many, what the
circuit decides is left to follow: worked out beforehand where that can be done, else found by solving.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import product
from math import prod

from msgspec import Struct

from checker.operating.points import State
from checker.operating.predicted import Rule, Variable

MOST_TOGETHER = 256
"""States of one group that are all looked at; beyond it every pair of variables is combined with the rest at rest."""


MOST_MEETING = 1024
"""States in which two groups meet: a matrix of 64 LEDs has 64 places, with a handful of states each."""


class GroupStates(Struct, frozen=True):
    """The states of one group, and whether some were left out."""

    states: list[State]
    cut: bool = False


def dimensions(group: Sequence[Variable]) -> list[list[State]]:
    """For each thing that moves by itself its settings, the one at rest first."""
    found: list[list[State]] = []
    sets: dict[str, list[Variable]] = {}
    for variable in group:
        if variable.one_of:
            sets.setdefault(variable.one_of, []).append(variable)
        else:
            found.append([{variable.name: option} for option in variable.options])
    return found + [_one_at_a_time(members) for members in sets.values()]


def _one_at_a_time(members: Sequence[Variable]) -> list[State]:
    none = {variable.name: variable.options[0] for variable in members}
    return [none, *({**none, variable.name: option} for variable in members for option in variable.options[1:])]


def size(group: Sequence[Variable]) -> int:
    """How many combinations a group has."""
    return prod(len(settings) for settings in dimensions(group))


def combinations(group: Sequence[Variable], rest: State) -> list[State]:
    """All combinations of a group, the other variables at rest."""
    return [_joined(rest, settings) for settings in product(*dimensions(group))]


def _joined(rest: State, settings: Sequence[State]) -> State:
    whole = dict(rest)
    for setting in settings:
        whole.update(setting)
    return whole


def group_states(group: Sequence[Variable], rest: State, rules: dict[str, Rule]) -> GroupStates:
    """All combinations of a group; where they are too many, those of what the circuit does not decide, the rest as it follows;
    where these are too many as well, every pair of them."""
    if size(group) <= MOST_TOGETHER:
        return GroupStates(combinations(group, rest))
    free = [variable for variable in group if not (variable.follows or variable.name in rules)]
    following = [variable for variable in group if variable.follows or variable.name in rules]
    cut = size(free) > MOST_TOGETHER
    states = _pairs(free, rest)[:MOST_TOGETHER * 4] if cut else combinations(free, rest)
    unsettled = [variable for variable in following if variable.name not in rules]
    last = {variable.name: variable.options[-1] for variable in unsettled if not variable.one_of}
    starts = [states, [{**state, **last} for state in states]] if last and not cut else [states]
    return GroupStates([_followed(state, rules) for each in starts for state in each], cut)


def meetings(pairs: Sequence[tuple[GroupStates, GroupStates]], rest: State) -> list[State]:
    """States in which two groups have both left their rest, for groups that meet in one part."""
    states: list[State] = []
    for one, other in pairs:
        moved = [[{name: option for name, option in state.items() if rest[name] != option} for state in group.states]
                 for group in (one, other)]
        states += [{**rest, **its, **others} for its in moved[0] if its for others in moved[1] if others]
        if len(states) > MOST_MEETING:
            break
    return unique(states)[:MOST_MEETING]


def _followed(state: State, rules: dict[str, Rule]) -> State:
    return {**state, **{name: rule(state) for name, rule in rules.items() if name in state}}


def _pairs(group: Sequence[Variable], rest: State) -> list[State]:
    """Every two settings of different dimensions, the rest at rest."""
    states = [dict(rest)]
    settings = dimensions(group)
    for number, one in enumerate(settings):
        for setting in one:
            states.append({**rest, **setting})
            for other in settings[number + 1:]:
                states.extend({**rest, **setting, **its} for its in other)
    return unique(states)


def unique(states: Sequence[State]) -> list[State]:
    """Each state once, in the order in which they first came."""
    seen: dict[tuple[tuple[str, str], ...], State] = {}
    for state in states:
        seen.setdefault(tuple(sorted(state.items())), state)
    return list(seen.values())
