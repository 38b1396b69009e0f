"""Tracing: from readings on a board with power on it to the likeliest single faults, and what to measure next.

Input: a surveyed list and readings. Output: ``Trace``. All hypotheses are solved in each state as one stack; a ``Tracer`` keeps
what was solved, so that more readings cost little.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from msgspec import Struct, structs

from checker.operating.points import Floats, State
from checker.survey import Survey
from checker.suspects import Suspect, suspects_of
from checker.tracing.choosing import Expected, Outcome, Question, best_question, told_apart
from checker.tracing.grounds import grounds_of
from checker.tracing.instrument import Instrument, net_at
from checker.tracing.likelihood import Belief, own_width, posterior
from checker.tracing.model import Prediction, Probe, Seen
from checker.tracing.predicting import predicted
from checker.tracing.probes import probes_of, rest_of, states_to_set
from parts_library import Library

NOTHING_WRONG = "nothing"
NOTHING_PRIOR = 0.12
"""How often the wiring of a board that misbehaves is right, in relation to the suspects: the program, or a wrong idea of what it
should do (common practice, no source)."""

LEFT_SHARE, MOST_LEFT = 0.0003, 48
"""Hypotheses with less of a chance are no longer told apart from each other; nor are more than so many."""

MOST_AT_FIRST, LEAST_STATES = 200, 3
"""So many hypotheses times states are looked at first, and all of them where those leave nothing to ask."""

EXPLAINS_WIDTHS = 4.0
"""Further than this from what is expected, a reading is not explained."""

RIGHT_WIDTHS = 2.5
"""As near as this to what is expected, a reading is right."""

_LOOK_WIDTH = 0.2


class Group(Struct, frozen=True):
    """Hypotheses that no reading can tell apart, the likeliest first, with their chances together. ``off`` is how many widths
    each reading is from what the first one says."""

    members: tuple[Suspect, ...]
    chance: float
    off: tuple[float, ...]


class Trace(Struct, frozen=True):
    """``groups`` the likeliest first; ``seen`` what was read; ``explained`` whether the first group explains all of it;
    ``looked_at`` how many faults; ``reference`` where the black probe is; ``question`` what to measure next, whose outcomes
    count in ``left``, the hypotheses that are left, likeliest first; ``right_in`` another state than rest, in which what was
    seen without a state is what a right board shows, where at rest it is not."""

    seen: tuple[Seen, ...]
    groups: tuple[Group, ...]
    explained: bool
    looked_at: int
    reference: str
    question: Question | None
    left: tuple[Suspect, ...]
    right_in: State | None = None

    def meaning(self, outcome: Outcome) -> tuple[Suspect, ...]:
        """The hypotheses that an outcome would leave, likeliest first."""
        return tuple(self.left[n] for n in sorted(outcome.numbers))


class NothingFeeds(Exception):
    """The list has no supply and no controller: there is nothing to measure."""


class Tracer:
    """The hypotheses of one list, with all that was solved of them. Raises NothingFeeds."""

    def __init__(self, surveyed: Survey, library: Library) -> None:
        circuit = surveyed.operatings[0].circuit if surveyed.operatings else None
        grounds = grounds_of(circuit, states_to_set(circuit, ())) if circuit is not None else None
        if circuit is None or grounds is None:
            raise NothingFeeds
        self.circuit, self.grounds = circuit, grounds
        self.reference, self.reference_name = grounds.black[0]
        self.hypotheses = (_nothing_wrong(surveyed), *suspects_of(surveyed, library))
        self.instrument = Instrument([one.circuit for one in self.hypotheses], [spot for spot, _ in grounds.black])
        self._told: dict[tuple[int, str], dict[Probe, Prediction]] = {}

    def trace(self, seen: Sequence[Seen], skipped: Sequence[tuple[Probe, State]] = ()) -> Trace:
        """The ranking after these readings; ``skipped`` questions are not asked again. A spot that shares no current with the
        reference is measured from its own ground."""
        seen = [self._from_its_ground(one) for one in seen]
        beliefs = self._beliefs(seen)
        chances = posterior([one.prior for one in self.hypotheses], beliefs)
        left = [int(n) for n in np.argsort(-chances, kind="stable") if chances[n] > LEFT_SHARE * chances.max()][:MOST_LEFT]
        probes = probes_of(self.circuit, [self.hypotheses[n].circuit for n in left], self.grounds)
        states = states_to_set(self.circuit, [one.state for one in seen])
        few = states[:max(LEAST_STATES, MOST_AT_FIRST // len(left))]
        for some in (few, states) if len(few) < len(states) else (states,):
            self.instrument.settle(left, some)
            groups = self._groups(left, chances, beliefs, self._on_one_board(left, probes, some, seen))
            question = self._question(left, chances, beliefs, probes, some, seen, skipped) if len(groups) > 1 else None
            if question is not None:
                break
        explained = max(groups[0].off, default=0.0) <= EXPLAINS_WIDTHS
        return Trace(tuple(seen), groups, explained, len(self.hypotheses) - 1, self.reference_name, question,
                     tuple(self.hypotheses[n] for n in left), self._right_in(seen, groups[0]))

    def _from_its_ground(self, one: Seen) -> Seen:
        probe = one.probe
        if probe.kind != "volts" or probe.to is not None or probe.at is None:
            return one
        to, name = self.grounds.of_net(net_at(self.circuit, probe.at))
        return one if to is None else structs.replace(one, probe=structs.replace(probe, to=to, name=f"{probe.name}~{name}"))

    def _right_in(self, seen: Sequence[Seen], likeliest: Group) -> State | None:
        """The first other state in which a right board shows what was seen without a state."""
        if likeliest.members[0].kind == NOTHING_WRONG or not any(not one.state for one in seen):
            return None
        for state in states_to_set(self.circuit, ())[1:]:
            belief = Belief()
            for one in seen:
                belief.take(self.told(0, one.state or state, one.probe), one)
            if max(belief.off) <= RIGHT_WIDTHS:
                return state
        return None

    def _on_one_board(self, left: Sequence[int], probes: Sequence[Probe], states: Sequence[State],
                      seen: Sequence[Seen]) -> list[Expected]:
        """Every probe that can be held, and what was read besides."""
        return [*self.expected(left, probes, states),
                *(one for each in seen for one in self.expected(left, [each.probe], [each.state]))]

    def _question(self, left: Sequence[int], chances: Floats, beliefs: Sequence[Belief], probes: Sequence[Probe],
                  states: Sequence[State], seen: Sequence[Seen], skipped: Sequence[tuple[Probe, State]]) -> Question | None:
        """The best question that was not asked yet."""
        gone = {self._asked(probe, state) for probe, state in (*skipped, *((one.probe, one.state) for one in seen))}
        fresh = [one for one in self.expected(left, probes, states, beliefs) if self._asked(one.probe, one.state) not in gone]
        return best_question(fresh, chances[left])

    def _asked(self, probe: Probe, state: State) -> tuple[object, ...]:
        return *probe.what, repr(sorted({**rest_of(self.circuit), **state}.items()))

    def told(self, number: int, state: State, probe: Probe) -> Prediction:
        """What one hypothesis says of a probe in a state."""
        known = self._told.setdefault((number, repr(sorted(state.items()))), {})
        if probe not in known:
            known[probe] = predicted(self.instrument, self.instrument.settled(number, state), probe)
        return known[probe]

    def _beliefs(self, seen: Sequence[Seen]) -> list[Belief]:
        pairs = {(one.probe.at, one.probe.to) for one in seen if one.probe.at is not None and one.probe.to is not None}
        pairs = {pair for pair in pairs if pair[1] not in self.instrument.grounds}
        if not pairs <= set(self.instrument.pairs):
            self.instrument = Instrument(self.instrument.circuits, self.instrument.grounds, [*pairs.union(self.instrument.pairs)])
        self.instrument.settle(range(len(self.hypotheses)), [one.state for one in seen])
        beliefs = [Belief() for _ in self.hypotheses]
        for one in seen:
            for number, belief in enumerate(beliefs):
                belief.take(self.told(number, one.state, one.probe), one)
        return beliefs

    def expected(self, left: Sequence[int], probes: Sequence[Probe], states: Sequence[State],
                 beliefs: Sequence[Belief] | None = None) -> list[Expected]:
        """What the hypotheses expect of every probe in every state: after the readings so far with ``beliefs``, or on one and the
        same board without."""
        found = []
        for state in states:
            for probe in probes:
                told = [self.told(n, state, probe) for n in left]
                if probe.kind == "look":
                    pairs = [(one.nominal, _LOOK_WIDTH) for one in told]
                elif beliefs is None:
                    pairs = [(one.nominal, own_width(one, probe)) for one in told]
                else:
                    pairs = [beliefs[n].expects(one, probe) for n, one in zip(left, told, strict=True)]
                mean, width = np.array(pairs).T
                found.append(Expected(probe, state, mean, width))
        return found

    def _groups(self, left: Sequence[int], chances: Floats, beliefs: Sequence[Belief],
                expected: Sequence[Expected]) -> tuple[Group, ...]:
        """Each hypothesis joins the first likelier one that it is like at every probe in every state."""
        members: dict[int, list[int]] = {}
        for place in range(len(left)):
            leader = next((one for one in members if not told_apart(one, place, expected)), place)
            members.setdefault(leader, []).append(place)
        groups = [Group(tuple(self.hypotheses[left[place]] for place in those),
                        float(sum(chances[left[place]] for place in those)), tuple(beliefs[left[those[0]]].off))
                  for those in members.values()]
        return tuple(sorted(groups, key=lambda group: -group.chance))


def _nothing_wrong(surveyed: Survey) -> Suspect:
    circuit = surveyed.operatings[0].circuit
    names = tuple(part.name for part in circuit.bench.controllers())
    say = "nothing is wrong with the wiring: suspect the program" if names else \
        "nothing is wrong: the board does what the list says"
    remedy = "read back what the program does with each pin, and try one that only switches the pin" if names else \
        "change nothing on the board yet; legwise check tells what this circuit does, and whether that is what you want"
    return Suspect(kind=NOTHING_WRONG, say=say, parts=names, points=(), circuit=circuit, prior=NOTHING_PRIOR, remedy=remedy)
