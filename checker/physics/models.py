"""The table of nonlinear devices: for each kind its topology, its response, its step control, its constants.

A new kind of device is a class in `stack`, constants, a response in `devices`, and one line in the table here.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, NamedTuple

import numpy as np
from msgspec import Struct, structs

from . import approach, constants, devices
from .devices import Response, Shape
from .stack import Elements, Floats, Ints, Sources, Stack


class Kind(NamedTuple):
    """What is the same for all devices of a kind. Functions take and give arrays as in `devices` and `approach`."""

    shape: Shape
    respond: Callable[[Floats, Any], Response]
    approach: Callable[[Floats, Floats, Response, Any], Floats]
    start: Callable[[Any], Floats]
    constants: type[Any]


KINDS: dict[str, Kind] = {
    "junctions": Kind(
        devices.TWO_TERMINALS,
        devices.junction,
        approach.approach_junction,
        approach.start_junction,
        constants.JunctionConstants,
    ),
    "bipolars": Kind(
        devices.BIPOLAR,
        devices.bipolar,
        approach.approach_bipolar,
        approach.start_bipolar,
        constants.BipolarConstants,
    ),
    "channels": Kind(
        devices.CHANNEL,
        devices.channel,
        approach.approach_channel,
        approach.start_channel,
        constants.ChannelConstants,
    ),
    "limited_sources": Kind(
        devices.TWO_TERMINALS,
        devices.limited_source,
        approach.approach_freely,
        approach.start_source,
        constants.SourceConstants,
    ),
    "drivers": Kind(
        devices.DRIVER,
        devices.driver,
        approach.approach_driver,
        approach.start_driver,
        constants.DriverConstants,
    ),
}


class Model(Struct, frozen=True, eq=False):
    """The devices of one kind in a network. ``nodes`` is (TERMINALS, n, B)."""

    kind: Kind
    constants: Any
    nodes: Ints

    @classmethod
    def of(cls, kind: Kind, elements: Elements) -> Model:
        nodes = np.ascontiguousarray(elements.nodes.transpose(2, 1, 0))
        return cls(kind, kind.constants.of(elements), nodes)

    def take(self, keep: Any) -> Model:
        """The members ``keep``."""
        return structs.replace(self, constants=self.constants.take(keep), nodes=self.nodes[..., keep])

    @property
    def count(self) -> int:
        return int(self.nodes.shape[1])


def limited_columns(sources: Sources) -> Any:
    """Which sources have an electronic limit in any member (n,)."""
    return np.isfinite(sources.most).any(axis=0)


def chosen_columns(sources: Sources, columns: Any) -> Sources:
    """Only these sources of every member."""
    return Sources(*(getattr(sources, name)[:, columns] for name in sources.__struct_fields__))


def models_of(stack: Stack) -> dict[str, Model]:
    """The nonlinear devices of a stack by kind; kinds without devices are left out."""
    elements: dict[str, Elements] = {
        "junctions": stack.junctions,
        "bipolars": stack.bipolars,
        "channels": stack.channels,
        "limited_sources": chosen_columns(stack.sources, limited_columns(stack.sources)),
        "drivers": stack.drivers,
    }
    return {name: Model.of(kind, elements[name]) for name, kind in KINDS.items() if elements[name].count}
