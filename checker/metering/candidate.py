"""One thing that could be measured with no power: two conductors and the kind of reading."""

from __future__ import annotations

from typing import Literal

from msgspec import Struct, structs

from checker.circuit.model import Conductor

Kind = Literal["ohms", "diode"]


class Candidate(Struct, frozen=True):
    """``what`` is measured from ``red`` to ``black``; ``role`` is "supply", "grounds", "apart", "rails", "part" or "wire"; the
    first three are always measured. ``position`` is the switch that is held and how; ``part`` is the key of the part
    measured; ``fixed`` is true where the other direction says nothing new; ``one_way`` is the name of a diode or LED that
    conducts from red to black only, ``against`` that this is the direction in which it blocks."""

    what: str
    red: Conductor
    black: Conductor
    kind: Kind
    role: str
    part: str = ""
    position: tuple[str, str] = ("", "")
    fixed: bool = False
    one_way: str = ""
    against: bool = False

    @property
    def turned(self) -> Candidate:
        """The same with the probes exchanged. A diode is then tried in the direction in which it blocks: what still gets through
        goes past it."""
        what = self.what.replace(self.one_way, f"past {self.one_way}, backwards", 1) if self.one_way else self.what
        return structs.replace(self, what=what, red=self.black, black=self.red, one_way="", against=bool(self.one_way))
