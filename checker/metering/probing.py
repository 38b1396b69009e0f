"""Two probes on a circuit: a batch of attachments solved as one stack.

Input: attachments, each a stack and its row, the nodes under the red and the black probe, and what is between the probes: a
voltage behind a resistance (a meter on ohms or diode test), a resistance alone (on volts), or an LED with a
resistor. Output: volts across the probes, red from black, and amps out of the red probe.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TypeVar

import numpy as np
from msgspec import structs
from numpy.typing import NDArray

from checker.physics import Conductances, Elements, Junctions, Sources, Stack, Status, solve, stacked
from checker.physics.stack import Floats

AnyElements = TypeVar("AnyElements", bound=Elements)

MOST_MEMBERS = 4000
"""Attachments solved at once, for a small machine's memory."""

HOLD_SIEMENS = 1.0
"""Ties the black probe to the reference. No current flows through it: the reference has no other way out."""


@dataclass(frozen=True, slots=True)
class Lamp:
    """An LED: saturation current, slope and series resistance of its junction."""

    saturation: float
    slope: float
    ohms: float


@dataclass(frozen=True, slots=True, eq=False)
class Attachment:
    """``volts`` behind ``ohms`` from black to red, in series with ``lamp`` where there is one (anode at red)."""

    stack: Stack
    row: int
    red: int
    black: int
    volts: float
    ohms: float
    lamp: Lamp | None = None


@dataclass(frozen=True, slots=True, eq=False)
class Probed:
    """One element an attachment: ``volts`` from black to red, ``amps`` into the circuit at red, ``fine`` where solved."""

    volts: Floats
    amps: Floats
    fine: NDArray[np.bool_]


def probe(attachments: Sequence[Attachment], *, powered: bool = False) -> Probed:
    """All attachments solved. ``powered`` circuits are tied to the reference already."""
    parts = [_solved(attachments[first:first + MOST_MEMBERS], powered)
             for first in range(0, len(attachments), MOST_MEMBERS)]
    if not parts:
        return Probed(np.zeros(0), np.zeros(0), np.zeros(0, dtype=bool))
    return Probed(*(np.concatenate([getattr(part, name) for part in parts]) for name in ("volts", "amps", "fine")))


def _solved(attachments: Sequence[Attachment], powered: bool) -> Probed:
    groups: dict[int, list[int]] = {}
    for number, one in enumerate(attachments):
        groups.setdefault(id(one.stack), []).append(number)
    order = [number for numbers in groups.values() for number in numbers]
    whole = stacked([_with_probes([attachments[n] for n in numbers], powered) for numbers in groups.values()])
    solution = solve(whole)
    rows = np.arange(len(order))
    chosen = [attachments[number] for number in order]
    red, black = (solution.voltages[rows, [getattr(one, name) for one in chosen]] for name in ("red", "black"))
    volts = np.empty(len(order))
    amps, fine = np.empty(len(order)), np.empty(len(order), dtype=bool)
    volts[order] = red - black
    amps[order] = _through(chosen, red, black, solution.voltages)
    fine[order] = solution.status == Status.CONVERGED
    return Probed(volts, amps, fine)


def _through(chosen: Sequence[Attachment], red: Floats, black: Floats, voltages: Floats) -> Floats:
    """Amps into the circuit at red: what the source's resistance lets through."""
    rows = np.arange(len(chosen))
    below = np.where([one.lamp is None for one in chosen], red, voltages[rows, [one.stack.nodes for one in chosen]])
    open_volts, ohms = (np.array([getattr(one, name) for one in chosen]) for name in ("volts", "ohms"))
    through: Floats = (open_volts - (below - black)) / ohms
    return through


def _with_probes(attachments: Sequence[Attachment], powered: bool) -> Stack:
    """The members of one stack with the probes on; with a lamp, one more node lies between it and its resistor."""
    stack = attachments[0].stack
    base = stack.take([one.row for one in attachments])
    size = stack.nodes + 1
    ends = np.array([[stack.nodes if one.lamp else one.red, one.black] for one in attachments])[:, None, :]
    source = Sources(ends, _column([one.volts for one in attachments]), _column([one.ohms for one in attachments]),
                     _column([np.inf] * len(attachments)))
    conductances = base.conductances
    if not powered:
        tie = np.array([[one.black, 0] for one in attachments])[:, None, :]
        conductances = _beside(conductances, Conductances(tie, _column([HOLD_SIEMENS] * len(attachments))))
    junctions = base.junctions
    if any(one.lamp for one in attachments):
        junctions = _beside(junctions, _lamps(attachments, stack.nodes))
    return structs.replace(base, nodes=size, sources=_beside(base.sources, source), conductances=conductances,
                           junctions=junctions)


def _column(values: Sequence[float]) -> Floats:
    """One element a member."""
    return np.array(values, dtype=float)[:, None]


def _lamps(attachments: Sequence[Attachment], inner: int) -> Junctions:
    nodes = np.array([[one.red, inner] for one in attachments])[:, None, :]
    lamps = [one.lamp for one in attachments]
    values = [[(getattr(lamp, name) if lamp else 1.0)] for lamp in lamps for name in ("saturation", "slope", "ohms")]
    saturation, slope, ohms = np.array(values, dtype=float).reshape(len(lamps), 3).T[..., None]
    return structs.replace(Junctions.padding(len(lamps)), nodes=nodes, saturation=saturation, slope=slope, ohms=ohms)


def _beside(one: AnyElements, other: AnyElements) -> AnyElements:
    """Two sets of elements of the same members as one."""
    fields = {name: np.concatenate([getattr(one, name), getattr(other, name)], axis=1) for name in ("nodes", *one.HARMLESS)}
    return type(one)(**fields)
