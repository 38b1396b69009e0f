"""Sums over places that many terms share: what all entries of a row give, what all branches bring to a node."""

from __future__ import annotations

import numpy as np

from .stack import Floats, Ints


class Sums:
    """Sums of rows: row k of the values goes to ``places`` (K,) among ``size``."""

    def __init__(self, places: Ints, size: int) -> None:
        self.places, self.size = places, size
        self._flat: Ints = places
        self._members = 1

    def of(self, values: Floats) -> Floats:
        """Rows of ``values`` (K, B) added up: (size, B)."""
        members = values.shape[1]
        if not values.size:
            return np.zeros((self.size, members))
        if members != self._members:
            # the same again and again while no member leaves
            self._flat, self._members = (self.places[:, None] * members + np.arange(members)).ravel(), members
        sums = np.asarray(np.bincount(self._flat, values.ravel(), self.size * members), dtype=np.float64)
        return sums.reshape(self.size, members)
