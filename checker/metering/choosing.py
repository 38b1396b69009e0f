"""Few readings that tell many faults apart, chosen one after the other.

Input: for each reading and fault what kind of other value it shows (0 where it shows what is fine). Output: which readings, in
the order chosen. A reading is worth most for the faults that no other chosen one has shown yet, then for the pairs of
faults that it tells apart.
"""

from __future__ import annotations

from collections.abc import Collection

import numpy as np
from numpy.typing import NDArray

Outcomes = NDArray[np.int64]
Weights = NDArray[np.float64]

SEEN, APART = 10.0, 0.02
"""Worth of a fault seen for the first time, and of a pair told apart: a fault that goes unseen burns parts, two that are
confused only cost a second look."""


def choose(outcomes: Outcomes, worth: Weights, priors: Weights, always: Collection[int], most: int) -> list[int]:
    """Rows of ``outcomes`` (readings, faults): those of ``always``, then up to ``most`` in all, each as long as it shows a
    fault that none before has shown. ``worth`` (readings,) weighs how easy and certain a reading is, 0 to 1; ``priors``
    (faults,) how often each fault occurs."""
    chosen = list(dict.fromkeys(always))
    weights = priors / max(float(priors.mean()), 1e-12) if len(priors) else priors
    classes = _classes(outcomes[chosen])
    while len(chosen) < most:
        gains = [0.0 if number in chosen else worth[number] * _gain(row, outcomes[chosen], classes, weights)
                 for number, row in enumerate(outcomes)]
        best = int(np.argmax(gains)) if gains else 0
        if not gains or gains[best] < SEEN * LEAST_WORTH:
            break
        chosen.append(best)
        classes = _classes(outcomes[chosen])
    return _needed(outcomes, chosen, set(always))


def _needed(outcomes: Outcomes, chosen: list[int], always: set[int]) -> list[int]:
    """Without those whose faults the others show as well, the first chosen looked at first."""
    kept = list(chosen)
    for number in chosen:
        others = [other for other in kept if other != number]
        if number not in always and (outcomes[kept] != 0).any(axis=0).sum() == (outcomes[others] != 0).any(axis=0).sum():
            kept = others
    return kept


LEAST_WORTH = 0.5


def _classes(rows: Outcomes) -> Outcomes:
    """Which faults look alike through these readings: a number for each fault."""
    if not len(rows):
        return np.zeros(rows.shape[1], dtype=np.int64)
    return np.unique(rows, axis=1, return_inverse=True)[1].reshape(-1).astype(np.int64)


def _gain(row: Outcomes, before: Outcomes, classes: Outcomes, weights: Weights) -> float:
    unseen = ~(before != 0).any(axis=0)
    new = float(weights[unseen & (row != 0)].sum())
    return SEEN * new + APART * _split(row, classes) if new else 0.0


def _split(row: Outcomes, classes: Outcomes) -> int:
    """Pairs of faults alike so far that the row tells apart."""
    pairs = 0
    for number in np.unique(classes):
        counts = np.unique(row[classes == number], return_counts=True)[1]
        total = int(counts.sum())
        pairs += (total * total - int((counts * counts).sum())) // 2
    return pairs
