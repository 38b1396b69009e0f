"""What a suspect is, and how often its kind occurs."""

from __future__ import annotations

from msgspec import Struct

from checker.circuit.model import Circuit
from checker.report.model import Edit

PRIORS = {
    "turned": 0.06,
    "pin-order": 0.06,
    "row-off": 0.02,
    "wrong-rail": 0.03,
    "rail-gap": 0.06,
    "wire-loose": 0.05,
    "leg-open": 0.03,
    "value": 0.02,
    "supply-exchanged": 0.03,
    "supply-off": 0.05,
    "battery-low": 0.05,
    "battery-empty": 0.04,
    "pin-stuck": 0.02,
    "dead": 0.01,
    "shorted": 0.01,
}
"""How often a single fault of each kind is the one, in relation to the others: the order of what goes wrong in teaching labs (pin
order and turned parts first, then the wrong strip, then values, then supplies; parts seldom fail by themselves). Common
practice, no source."""


class Suspect(Struct, frozen=True, kw_only=True):
    """One single fault of the board.

    ``kind`` is a key of ``PRIORS``; ``say`` one plain sentence without its full stop; ``parts`` and ``points`` what it is about;
    ``circuit`` the board with the fault, to be solved; ``prior`` how often it occurs, in relation to the others; ``edits`` the
    list with the fault, where a list can say it; ``remedy`` what the hand does about it, in the same form as a fix."""

    kind: str
    say: str
    parts: tuple[str, ...]
    points: tuple[str, ...]
    circuit: Circuit
    prior: float
    edits: tuple[Edit, ...] = ()
    remedy: str = ""
