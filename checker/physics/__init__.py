"""Operating points of batches of circuits: arrays of elements in, node voltages and terminal currents out."""

from .currents import TerminalCurrents, kirchhoff, terminal_currents
from .newton import Solution, solve
from .omega import wright_omega
from .stack import (
    Bipolars,
    Channels,
    Conductances,
    Drivers,
    Elements,
    Forced,
    Junctions,
    Sources,
    Stack,
    Transfers,
    stacked,
)
from .status import Status

__all__ = [
    "Bipolars",
    "Channels",
    "Conductances",
    "Drivers",
    "Elements",
    "Forced",
    "Junctions",
    "Solution",
    "Sources",
    "Stack",
    "Status",
    "TerminalCurrents",
    "Transfers",
    "kirchhoff",
    "solve",
    "stacked",
    "terminal_currents",
    "wright_omega",
]
