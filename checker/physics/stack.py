"""The circuits to solve: arrays of elements whose first axis is the batch.

Members of a batch may be different circuits: node numbers are each member's own. Node 0 is the reference (0 V) of every
member. Members with fewer nodes or elements are padded: unused nodes stay unconnected, padding elements have all their
nodes at 0 and the harmless parameters of their class. Units are volts, amps, ohms, siemens.

Input: what the compiler of circuits knows. Output: one frozen `Stack` for the solver.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, ClassVar, Self

import numpy as np
from msgspec import Struct
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Ints = NDArray[np.intp]
Bools = NDArray[np.bool_]


class Elements(Struct, frozen=True, eq=False):
    """Base of the element kinds. ``nodes`` is (B, n, TERMINALS), every other field (B, n)."""

    TERMINALS: ClassVar[int] = 2
    HARMLESS: ClassVar[dict[str, float]] = {}
    # Fields that may be infinite, meaning "no limit".
    UNBOUNDED: ClassVar[frozenset[str]] = frozenset()

    nodes: Ints

    @classmethod
    def padding(cls, members: int = 1, count: int = 1) -> Self:
        """(members, count) elements that do nothing: all nodes 0, harmless parameters."""
        values = {name: np.full((members, count), value) for name, value in cls.HARMLESS.items()}
        return cls(np.zeros((members, count, cls.TERMINALS), dtype=np.intp), **values)

    @property
    def members(self) -> int:
        return int(self.nodes.shape[0])

    @property
    def count(self) -> int:
        """Elements of each member, padding included."""
        return int(self.nodes.shape[1])

    def take(self, indices: Any) -> Self:
        """The members at ``indices`` (integers or booleans), in that order."""
        return type(self)(*(np.asarray(getattr(self, name))[indices] for name in self.__struct_fields__))

    def finite(self) -> Bools:
        """Which members (B,) have only numbers as parameters; infinity passes in the UNBOUNDED fields."""
        good = np.ones(self.members, dtype=bool)
        for name in self.HARMLESS:
            values = getattr(self, name)
            fine = ~np.isnan(values) if name in self.UNBOUNDED else np.isfinite(values)
            good &= fine.all(axis=1)
        return good

    @classmethod
    def joined(cls, parts: Sequence[Self]) -> Self:
        """The members of all parts one after the other, padded to the largest count."""
        joined = cls.padding(sum(part.members for part in parts), max((part.count for part in parts), default=0))
        first = 0
        for part in parts:
            for name in cls.__struct_fields__:
                getattr(joined, name)[first : first + part.members, : part.count] = getattr(part, name)
            first += part.members
        return joined


class Conductances(Elements, frozen=True, eq=False):
    """Linear resistances, as ``siemens``."""

    HARMLESS: ClassVar[dict[str, float]] = {"siemens": 0.0}
    siemens: Floats


class Sources(Elements, frozen=True, eq=False):
    """Voltage sources behind ``ohms`` > 0; nodes plus, minus. Above ``most`` amps delivered (inf: never) it is a
    constant current with a small slope (an electronic limit). It absorbs current without limit."""

    HARMLESS: ClassVar[dict[str, float]] = {"volts": 0.0, "ohms": 1.0, "most": np.inf}
    UNBOUNDED: ClassVar[frozenset[str]] = frozenset({"most"})
    volts: Floats
    ohms: Floats
    most: Floats


class Forced(Elements, frozen=True, eq=False):
    """Currents forced from nodes[..., 0] through the element to nodes[..., 1], in ``amps``."""

    HARMLESS: ClassVar[dict[str, float]] = {"amps": 0.0}
    amps: Floats


class Junctions(Elements, frozen=True, eq=False):
    """Exponential diodes with series resistance and breakdown; nodes anode, cathode.

    Forward: i = saturation * (exp((v - i * ohms) / slope) - 1), ``slope`` being n k T / q in volts, ``ohms`` > 0.
    Reverse: an exponential of its own ``breakdown_slope`` and ``breakdown_ohms`` that carries ``breakdown_amps``
    where the reverse voltage (its resistance included) is ``breakdown`` (inf: never)."""

    HARMLESS: ClassVar[dict[str, float]] = {
        "saturation": 1e-14,
        "slope": 0.026,
        "ohms": 1.0,
        "breakdown": np.inf,
        "breakdown_slope": 0.026,
        "breakdown_ohms": 1.0,
        "breakdown_amps": 1e-3,
    }
    UNBOUNDED: ClassVar[frozenset[str]] = frozenset({"breakdown"})
    saturation: Floats
    slope: Floats
    ohms: Floats
    breakdown: Floats
    breakdown_slope: Floats
    breakdown_ohms: Floats
    breakdown_amps: Floats


class Bipolars(Elements, frozen=True, eq=False):
    """Transport-form Ebers-Moll transistors; nodes collector, base, emitter. ``polarity`` +1 NPN, -1 PNP.

    ``knee`` is the forward current (A, inf: none) above which gain falls as the inverse of the current."""

    TERMINALS: ClassVar[int] = 3
    HARMLESS: ClassVar[dict[str, float]] = {
        "polarity": 1.0,
        "saturation": 1e-14,
        "slope": 0.026,
        "gain": 100.0,
        "reverse_gain": 5.0,
        "knee": np.inf,
    }
    UNBOUNDED: ClassVar[frozenset[str]] = frozenset({"knee"})
    polarity: Floats
    saturation: Floats
    slope: Floats
    gain: Floats
    reverse_gain: Floats
    knee: Floats


class Channels(Elements, frozen=True, eq=False):
    """Square-law MOSFET channels; nodes drain, gate, source. ``polarity`` +1 N, -1 P; ``threshold`` is positive for
    both.

    Saturated current transconductance / 2 * (vgs - threshold)^2; ``slope`` (V) smooths the threshold."""

    TERMINALS: ClassVar[int] = 3
    HARMLESS: ClassVar[dict[str, float]] = {"polarity": 1.0, "transconductance": 0.1, "threshold": 2.0, "slope": 0.1}
    polarity: Floats
    transconductance: Floats
    threshold: Floats
    slope: Floats


class Transfers(Elements, frozen=True, eq=False):
    """Currents controlled by a voltage; nodes sensed plus, sensed minus, out plus, out minus. siemens * (sensed
    voltage) leaves the circuit at out plus and flows through the element to out minus."""

    TERMINALS: ClassVar[int] = 4
    HARMLESS: ClassVar[dict[str, float]] = {"siemens": 0.0}
    siemens: Floats


class Drivers(Elements, frozen=True, eq=False):
    """Saturating output stages between two rails; nodes out, high, low, plus, minus.

    Wanted: v_low + offset + gain * (v_plus - v_minus), held between v_low + headroom_low and v_high - headroom_high.
    The stage drives ``siemens`` * (wanted - v_out) into the load, at most ``source_limit`` (taken from high) and at
    most ``sink_limit`` the other way (returned to low). A limit of 0: it cannot (open collector, series regulator).
    An open collector whose load goes to a rail of its own wants a negative ``headroom_high``, so that it lets go
    completely."""

    TERMINALS: ClassVar[int] = 5
    HARMLESS: ClassVar[dict[str, float]] = {
        "gain": 0.0,
        "offset": 0.0,
        "headroom_high": 0.0,
        "headroom_low": 0.0,
        "siemens": 1.0,
        "source_limit": 0.0,
        "sink_limit": 0.0,
    }
    UNBOUNDED: ClassVar[frozenset[str]] = frozenset({"source_limit", "sink_limit"})
    gain: Floats
    offset: Floats
    headroom_high: Floats
    headroom_low: Floats
    siemens: Floats
    source_limit: Floats
    sink_limit: Floats


class Stack(Struct, frozen=True, eq=False):
    """A batch of circuits. ``nodes`` counts the nodes of the largest member, node 0 included."""

    nodes: int
    conductances: Conductances
    sources: Sources
    forced: Forced
    junctions: Junctions
    bipolars: Bipolars
    channels: Channels
    transfers: Transfers
    drivers: Drivers

    @classmethod
    def of(cls, nodes: int, members: int, *elements: Elements) -> Stack:
        """A stack of the given kinds (at most one object a kind); kinds not given are empty."""
        given = {type(kind): kind for kind in elements}
        chosen: list[Any] = [given.get(kind, kind.padding(members, 0)) for kind in KINDS.values()]
        return cls(nodes, *chosen)

    @property
    def members(self) -> int:
        return self.conductances.members

    def kinds(self) -> dict[str, Elements]:
        """Every kind by the name of its field, in the order of KINDS."""
        return {name: getattr(self, name) for name in KINDS}

    def finite(self) -> Bools:
        """Which members (B,) have only numbers as parameters; infinity passes where it means "no limit"."""
        finite: Bools = np.logical_and.reduce([kind.finite() for kind in self.kinds().values()])
        return finite

    def take(self, indices: Any) -> Stack:
        """The members at ``indices`` (integers or booleans), in that order."""
        taken: list[Any] = [kind.take(indices) for kind in self.kinds().values()]
        return Stack(self.nodes, *taken)


KINDS: dict[str, type[Elements]] = {
    "conductances": Conductances,
    "sources": Sources,
    "forced": Forced,
    "junctions": Junctions,
    "bipolars": Bipolars,
    "channels": Channels,
    "transfers": Transfers,
    "drivers": Drivers,
}


def stacked(stacks: Sequence[Stack]) -> Stack:
    """The members of all stacks one after the other, nodes and elements padded to the largest.

    Raises ValueError if there is none."""
    if not stacks:
        raise ValueError("nothing to stack")
    joined: list[Any] = [kind.joined([getattr(stack, name) for stack in stacks]) for name, kind in KINDS.items()]
    return Stack(max(stack.nodes for stack in stacks), *joined)
