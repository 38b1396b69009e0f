"""One thing that could be measured with no power: two conductors and the kind of reading."""

from __future__ import annotations

from typing import Literal

from msgspec import Struct

from checker.circuit.model import Conductor

Kind = Literal["ohms", "diode"]


class Candidate(Struct, frozen=True):
    """``what`` is measured from ``red`` to ``black``; ``role`` is "supply", "grounds", "apart", "rails", "part" or "wire"; the
    first three are always measured. ``position`` is the switch that is held and how; ``part`` is the key of the part
    measured; ``fixed`` is true where the other direction says nothing new."""

    what: str
    red: Conductor
    black: Conductor
    kind: Kind
    role: str
    part: str = ""
    position: tuple[str, str] = ("", "")
    fixed: bool = False

    @property
    def turned(self) -> Candidate:
        """The same with the probes exchanged."""
        return Candidate(self.what, self.black, self.red, self.kind, self.role, self.part, self.position, self.fixed)
