"""A value beside its limit, as a strip with a tick: how far over or under is seen before it is read.

Input: evidence. Output: a small drawing, or None where a length would say nothing. The words beside it say the same.
"""

from __future__ import annotations

from math import isfinite

from checker.markup import Element, tag
from checker.report.model import Evidence

_LENGTH, _HEIGHT = 200.0, 12.0
# Units whose zero means nothing of it: a length from zero says how much there is.
_LENGTH_UNITS = frozenset({"A", "V", "W", "J", "ohm"})
_LEAST_LENGTH = 2.0


def gauge(evidence: Evidence) -> Element | None:
    """The strip; None without a limit, for what does not start at zero, and for numbers that cannot be drawn."""
    value, limit = abs(evidence.value), evidence.limit
    if limit is None or evidence.unit not in _LENGTH_UNITS or not (isfinite(value) and isfinite(limit) and limit > 0):
        return None
    scale = _LENGTH / max(value, limit)
    tick = min(max(limit * scale, _LEAST_LENGTH), _LENGTH - 1)
    kept = value >= limit if evidence.least else value <= limit
    return tag(
        "svg",
        tag("rect", x=0, y=3, width=max(value * scale, _LEAST_LENGTH), height=6, class_="kept" if kept else "missed"),
        tag("path", d=f"M{tick:.1f} 0V{_HEIGHT:g}", class_="tick", fill="none", stroke="currentColor"),
        class_="gauge", viewBox=f"-1 0 {_LENGTH + 2:g} {_HEIGHT:g}", width=_LENGTH, height=_HEIGHT, aria_hidden="true",
    )
