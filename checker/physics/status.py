"""How the solution of one member of a batch ended. One small named set; a bad member is never an exception."""

from __future__ import annotations

from enum import IntEnum


class Status(IntEnum):
    """CONVERGED: Kirchhoff's law holds to rounding. SPENT: every way was tried and the iterations are used up.
    SINGULAR: the equations have no single solution. NOT_FINITE: a parameter, or the way to the solution, left the
    numbers (NaN, infinity)."""

    CONVERGED = 0
    SPENT = 1
    SINGULAR = 2
    NOT_FINITE = 3
