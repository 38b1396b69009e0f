"""Candidates that join what should be one: grounds, and the pieces of a split rail.

Input: the circuit; output: candidates, not yet proven.
"""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import structs

from checker.bench.model import BenchPart
from checker.circuit.model import Circuit
from checker.fixes.candidate import Candidate
from checker.fixes.draft import Draft
from checker.fixes.places import Places, board_prefix
from checker.seating.boards import LAST_ROW_OF_FIRST_PIECE, RailPiece
from parts_library.schema import Controller, SupplyKind


def ground_wires(circuit: Circuit) -> Iterator[Candidate]:
    """A wire between each controller's ground and each supply's minus that are not yet one net, and between minuses."""
    grounds = [(part, "GND") for part in circuit.bench.parts.values() if isinstance(part.entry, Controller)]
    grounds += [(part, "-") for part in circuit.bench.parts.values() if isinstance(part.entry, SupplyKind)]
    for number, (one, pin) in enumerate(grounds):
        for other, its in grounds[number + 1:]:
            nets = [circuit.pin_net[part.name.lower(), p] for part, p in ((one, pin), (other, its))]
            if nets[0] == nets[1] or _are_apart(circuit, one.name, other.name):
                continue
            places = Places(circuit)
            ends = [f"{one.name}.{pin}" if isinstance(one.entry, Controller) else _ground_spot(places, circuit, one),
                    _ground_spot(places, circuit, other)]
            draft = Draft(circuit.bench.tree.lines).add_line(f"wire black {ends[0]} to {ends[1]}")
            yield Candidate(say=f"join the grounds: a wire from {ends[0]} to {ends[1]}", edits=draft.edits(), effort=2.0,
                            cause="grounds-not-joined", parts=(one.name, other.name), points=tuple(ends),
                            line=one.span.line)


def _ground_spot(places: Places, circuit: Circuit, part: BenchPart) -> str:
    pin = "GND" if isinstance(part.entry, Controller) else "-"
    net = circuit.pin_net[part.name.lower(), pin]
    for conductor in circuit.members[net]:
        if isinstance(conductor, RailPiece):
            return places.rail_spot(conductor)
    return places.spot_in_net(net) or f"{part.name}.{pin}"


def _are_apart(circuit: Circuit, one: str, other: str) -> bool:
    return any({k.one.text.lower(), k.other.text.lower()} == {one.lower(), other.lower()} for k in circuit.bench.keeps)


def rail_bridges(circuit: Circuit) -> Iterator[Candidate]:
    """A wire over the gap of each split rail that is used on both sides, one by one and all of them."""
    single = list(_single_bridges(circuit))
    yield from single
    if len(single) > 1:
        draft = Draft(circuit.bench.tree.lines)
        for one in single:
            draft.add_line(one.edits[0].text)
        yield structs.replace(single[0], edits=draft.edits(), effort=1.5, facts={
            "rail": " and ".join(one.facts["rail"] for one in single), "row": single[0].facts["row"]},
            say="bridge the gaps of the rails: " + ", ".join(one.edits[0].text for one in single))


def _single_bridges(circuit: Circuit) -> Iterator[Candidate]:
    for plan in circuit.reading.plans.values():
        if not plan.split:
            continue
        last = LAST_ROW_OF_FIRST_PIECE[plan.size]
        prefix = board_prefix(circuit, plan.name)
        for side in "LR":
            for sign in "+-":
                pieces = [RailPiece(plan.name, side, sign, piece) for piece in (0, 1)]
                if all(piece in circuit.net_of for piece in pieces) and \
                        circuit.net_of[pieces[0]] != circuit.net_of[pieces[1]]:
                    ends = f"{prefix}{side}{sign}{last}", f"{prefix}{side}{sign}{last + 1}"
                    draft = Draft(circuit.bench.tree.lines).add_line(f"wire {ends[0]} to {ends[1]}")
                    board = circuit.bench.boards.get(plan.name)
                    yield Candidate(line=board.span.line if board is not None else 1,
                                    say=f"bridge the gap of rail {side}{sign}: a wire from {ends[0]} to {ends[1]}",
                                    edits=draft.edits(), effort=1.4, cause="rail-gap", points=ends,
                                    facts={"rail": f"{side}{sign}", "row": str(last)})
