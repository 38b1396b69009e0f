"""Short ways from a list to what a meter shows on it."""

from __future__ import annotations

from functools import lru_cache

from checker.checking import check
from checker.circuit.model import Circuit, Conductor
from checker.examples import names, text_of
from checker.metering import MeterSheet, meter_sheet
from checker.metering.candidate import Candidate, Kind
from checker.metering.dead import USUAL, dead
from checker.metering.measuring import Job, measure
from checker.seating.boards import RailPiece, Strip
from checker.survey import Survey, survey
from parts_library import load_library

LIBRARY = load_library()
CLEAR = tuple(name for name in names() if "#:" not in text_of(name))
"""The shipped lists that are right: those that announce no finding."""


@lru_cache(maxsize=64)
def surveyed(text: str) -> Survey:
    return survey([text], LIBRARY)[0]


def circuit_of(text: str) -> Circuit:
    return surveyed(text).operatings[0].circuit


@lru_cache(maxsize=64)
def sheet_of(text: str) -> MeterSheet:
    return meter_sheet(surveyed(text), check(text, file="list.legs"), LIBRARY)


def conductor(circuit: Circuit, point: str) -> Conductor:
    """The conductor of ``a12``, ``L+`` or ``U1.D9``."""
    if "." in point:
        part, pin = point.lower().split(".")
        return next(c for (key, name), c in circuit.conductor_of.items() if (key, name.lower()) == (part, pin))
    board = next(iter(circuit.reading.plans))
    if point[1] in "+-":
        return RailPiece(board, point[0], point[1], 0)
    return Strip(board, int(point[1:]), "a" if point[0] <= "e" else "f")


def shown(text: str, red: str, black: str, kind: Kind = "ohms", case: int = USUAL, position: tuple[str, str] = ("", "")
          ) -> float:
    """What the meter shows, in ohms or volts; infinite for OL."""
    circuit = circuit_of(text)
    candidate = Candidate("", conductor(circuit, red), conductor(circuit, black), kind, "part", position=position)
    return measure([Job(dead(circuit), candidate, case)])[0].value
