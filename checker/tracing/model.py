"""What tracing knows of a board that was powered: what was seen, in which state, and what can still be looked at.

A *spot* is where a probe touches: a conductor of the board, or the metal of one pin. A *probe* is one thing to measure or to
look at. All values are SI; volts are from the reference unless a second spot is named.
"""

from __future__ import annotations

from typing import TypeAlias

from msgspec import Struct

from checker.circuit.model import Conductor
from checker.operating.points import State

Spot: TypeAlias = Conductor | tuple[str, str]


class Probe(Struct, frozen=True):
    """``kind``: "volts" at ``at`` (from ``to``, or from the reference), "amps" through ``pin``, or "look", where ``look`` is
    lit, running or hot and ``pin`` holds the part's key and the pin of its current. ``name`` is how it is typed; ``leg_at`` the
    hole of a leg on which the probe is held itself."""

    kind: str
    name: str
    at: Spot | None = None
    to: Spot | None = None
    pin: tuple[str, str] = ("", "")
    look: str = ""
    leg_at: str = ""

    @property
    def what(self) -> tuple[object, ...]:
        """Equal for two probes that are the same, however they are typed."""
        return self.kind, self.at, self.to, self.pin, self.look


class Seen(Struct, frozen=True):
    """One reading: what was probed, in which state of what can be switched (named ones only), and what came out.

    ``value`` is volts or amps, or for a look 1.0 for yes and 0.0 for no; ``digit`` the last digit that was given, in the
    same unit; ``text`` what was typed."""

    probe: Probe
    value: float
    text: str
    digit: float = 0.01
    state: State = {}


class Prediction(Struct, frozen=True):
    """What one hypothesis says a probe shows. ``nominal`` is the value with everything nominal, ``moves`` by how much each of the
    ``SPREADS`` moves it at its end. ``scale`` is the largest voltage or current involved, to which tolerances apply;
    ``loose`` is true where nothing holds the spot; ``known`` is false where the point could not be computed. For a look
    ``nominal`` is the chance of a yes."""

    nominal: float
    moves: tuple[float, ...] = ()
    scale: float = 0.0
    loose: bool = False
    known: bool = True
