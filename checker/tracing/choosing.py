"""Which single thing to measure or look at next: the one that tells the hypotheses apart best.

Each hypothesis expects a reading with some width. What a probe tells is the information between the reading and the hypotheses,
in bits: 1 bit halves what is left. For people the expected readings are gathered to outcomes that a meter can tell apart.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from msgspec import Struct

from checker.operating.points import Floats, State
from checker.tracing.model import Probe

APART_WIDTHS = 2.5
"""Two expected readings are told apart where they differ by so many of their widths."""

APART_LOOKS = 0.8
"""Two chances of a yes are told apart where one is nearly sure and the other nearly out of the question."""

LEAST_BITS = 0.02
"""What tells less is not worth the reading."""

EASE = {"look": 1.05, "volts": 1.0, "leg": 0.9, "switched": 0.95}
"""Of two probes that tell the same, what is easier comes first: a look, then a hole, then a leg; nothing switched before
something, and little before much."""


_MOST_SWITCHED = 4


class Expected(Struct, frozen=True):
    """What each of some hypotheses (in one order throughout) expects of a probe in a state: ``mean`` and ``width`` (H,)."""

    probe: Probe
    state: State
    mean: Floats
    width: Floats


class Outcome(Struct, frozen=True):
    """One bunch: between which values the readings lie (of a look: 1.0 for yes, 0.0 for no), and which hypotheses say so."""

    low: float
    high: float
    numbers: tuple[int, ...]


class Question(Struct, frozen=True):
    """A probe in a state, what it tells in bits, and what each outcome would mean; its numbers are those of the hypotheses
    in the order of ``Expected``."""

    probe: Probe
    state: State
    bits: float
    outcomes: tuple[Outcome, ...]


def best_question(expected: Sequence[Expected], chances: Floats) -> Question | None:
    """The question that tells most about the hypotheses, or None where none tells anything. The first state is the one that
    is set now."""
    best, best_worth = None, 0.0
    for one in expected:
        question = asked(one, chances)
        worth = question.bits * EASE["leg" if one.probe.leg_at else one.probe.kind]
        worth *= EASE["switched"] ** min(_switched(one.state, expected[0].state), _MOST_SWITCHED)
        if worth > best_worth + 1e-9:
            best, best_worth = question, worth
    return best if best is not None and best.bits >= LEAST_BITS else None


def _switched(state: State, now: State) -> int:
    return sum(now.get(name) != option for name, option in state.items())


def asked(one: Expected, chances: Floats) -> Question:
    """A probe as a question."""
    if one.probe.kind == "look":
        return Question(one.probe, one.state, _bits(np.stack([one.mean, 1.0 - one.mean], axis=1), chances), _looks(one.mean))
    return Question(one.probe, one.state, _bits(_shares(one.mean, one.width), chances), _bunches(one.mean, one.width))


def _bits(shares: Floats, chances: Floats) -> float:
    """Information between outcome and hypothesis, from the chance of each outcome under each hypothesis (H, outcomes)."""
    weights = chances / max(float(chances.sum()), 1e-300)
    return float(_entropy(weights @ shares) - weights @ _entropy(shares))


def _entropy(shares: Floats) -> Floats:
    return np.asarray(-(shares * np.log2(np.maximum(shares, 1e-12))).sum(axis=-1))


def _shares(mean: Floats, width: Floats) -> Floats:
    """The chance of a reading between each two neighbours of the expected ones, under each hypothesis (H, bins); the bell is
    taken as a logistic curve of the same width, which is within 1 % of it (Bowling et al. 2009, from memory)."""
    levels = np.unique(mean.round(2))
    edges = (levels[1:] + levels[:-1]) / 2.0
    away = np.clip(1.702 * (edges[None, :] - mean[:, None]) / width[:, None], -40.0, 40.0)
    below = 1.0 / (1.0 + np.exp(-away))
    ends = np.zeros((len(mean), 1))
    return np.diff(np.concatenate([ends, below, ends + 1.0], axis=1), axis=1)


WIDE_TIMES = 3.0
"""A hypothesis that expects so many times the usual width makes no outcome of its own between others: it goes with several."""


def _bunches(mean: Floats, width: Floats) -> tuple[Outcome, ...]:
    """Expected readings in order of their value, cut where two neighbours can be told apart."""
    narrow = np.flatnonzero(width <= WIDE_TIMES * np.median(width))
    order = narrow[np.argsort(mean[narrow], kind="stable")]
    cuts = np.diff(mean[order]) > APART_WIDTHS * np.hypot(width[order][:-1], width[order][1:])
    found = [(float(mean[those].min()), float(mean[those].max()), those.tolist())
             for those in np.split(order, np.flatnonzero(cuts) + 1)]
    for n in np.setdiff1d(np.arange(len(mean)), narrow).tolist():
        reach = APART_WIDTHS * float(width[n])
        near = [numbers for low, high, numbers in found if low - reach < mean[n] < high + reach]
        for numbers in near:
            numbers.append(n)
        if not near:
            found.append((float(mean[n]), float(mean[n]), [n]))
    return tuple(Outcome(low, high, tuple(numbers)) for low, high, numbers in sorted(found))


def _looks(mean: Floats) -> tuple[Outcome, ...]:
    """Two outcomes; what could be either is in both."""
    sides = ((1.0, np.flatnonzero(mean > 1.0 - APART_LOOKS)), (0.0, np.flatnonzero(mean < APART_LOOKS)))
    return tuple(Outcome(value, value, tuple(those.tolist())) for value, those in sides if len(those))


def told_apart(one: int, other: int, expected: Sequence[Expected]) -> bool:
    """True where a probe tells two hypotheses apart; ``width`` of ``expected`` is taken as given."""
    for e in expected:
        gap = abs(e.mean[one] - e.mean[other])
        if gap > (APART_LOOKS if e.probe.kind == "look" else APART_WIDTHS * np.hypot(e.width[one], e.width[other])):
            return True
    return False
