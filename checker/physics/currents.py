"""Currents at the terminals of every element, from solved voltages; and what Kirchhoff's law misses at the nodes.

Input: a `Stack` and its voltages (B, N). Output: amps INTO each element at each terminal, as (B, n, TERMINALS) a kind.
"""

from __future__ import annotations

import numpy as np
from msgspec import Struct

from .assemble import scattered
from .limits import LEAKAGE, PIECE_NODES
from .models import Model, limited_columns, models_of
from .networks import spark_amps
from .stack import KINDS, Elements, Floats, Stack


class TerminalCurrents(Struct, frozen=True, eq=False):
    """Amps into each element at each terminal (B, n, TERMINALS), in the terminal order of its class."""

    conductances: Floats
    sources: Floats
    forced: Floats
    junctions: Floats
    bipolars: Floats
    channels: Floats
    transfers: Floats
    drivers: Floats


def terminal_currents(stack: Stack, voltages: Floats) -> TerminalCurrents:
    """Currents of every element at the node voltages (B, N). At a node they sum to 0 but for the leakage. The last attempt of a
    member that did not converge may lie anywhere, and its currents are no numbers then."""
    with np.errstate(all="ignore"):
        return _by_pieces(stack, voltages)


def _by_pieces(stack: Stack, voltages: Floats) -> TerminalCurrents:
    most = max(PIECE_NODES // stack.nodes, 1)
    if stack.members <= most:
        return _terminal_currents(stack, voltages)
    parts = [_terminal_currents(stack.take(slice(first, first + most)), voltages[first : first + most])
             for first in range(0, stack.members, most)]
    return TerminalCurrents(*(np.concatenate([getattr(part, name) for part in parts]) for name in KINDS))


def _terminal_currents(stack: Stack, voltages: Floats) -> TerminalCurrents:
    models = models_of(stack)
    found = {
        name: _of_model(models[name], voltages) if name in models else _none(getattr(stack, name))
        for name in ("junctions", "bipolars", "channels", "drivers")
    }
    sources = _two_ended((_across(stack.sources, voltages) - stack.sources.volts) / stack.sources.ohms)
    if "limited_sources" in models:
        sources[:, limited_columns(stack.sources)] = _of_model(models["limited_sources"], voltages)
    transferred = np.zeros(stack.transfers.nodes.shape)
    transferred[..., 2:] = _two_ended(stack.transfers.siemens * _across(stack.transfers, voltages))
    return TerminalCurrents(
        conductances=_two_ended(stack.conductances.siemens * _across(stack.conductances, voltages)),
        sources=sources,
        forced=_two_ended(np.asarray(stack.forced.amps, dtype=np.float64)),
        transfers=transferred,
        **found,
    )


def kirchhoff(stack: Stack, voltages: Floats) -> tuple[Floats, Floats]:
    """Current (A) that Kirchhoff's law misses at each node (B, N), and the sum of the magnitudes there; node 0 is 0."""
    currents = terminal_currents(stack, voltages)
    members, nodes = voltages.shape
    first = (np.arange(members) * nodes)[:, None, None]
    pairs = [(kind.nodes + first, getattr(currents, name)) for name, kind in stack.kinds().items()]
    where = np.concatenate([places.ravel() for places, _ in pairs])
    amps = np.concatenate([flow.ravel() for _, flow in pairs])
    missing = scattered(where, amps, voltages.size).reshape(voltages.shape)
    missing += LEAKAGE * voltages + spark_amps(voltages)
    total = scattered(where, np.abs(amps), voltages.size).reshape(voltages.shape)
    missing[:, 0] = 0.0
    return missing, total


def _across(elements: Elements, voltages: Floats) -> Floats:
    """Voltage between the first two nodes of each element (B, n)."""
    member = np.arange(len(voltages))[:, None]
    difference: Floats = voltages[member, elements.nodes[..., 0]] - voltages[member, elements.nodes[..., 1]]
    return difference


def _two_ended(amps: Floats) -> Floats:
    return np.stack((amps, -amps), axis=-1)


def _none(elements: Elements) -> Floats:
    return np.zeros(elements.nodes.shape)


def _of_model(model: Model, voltages: Floats) -> Floats:
    shape = model.kind.shape
    at = voltages[np.arange(len(voltages)), model.nodes]
    controls = np.stack([at[plus] - at[minus] for plus, minus in shape.controls])
    branches = model.kind.respond(controls, model.constants).currents
    into = np.zeros(at.shape)
    for current, (leaves, enters) in zip(branches, shape.branches, strict=True):
        into[leaves] += current
        into[enters] -= current
    return np.ascontiguousarray(into.transpose(2, 1, 0))
