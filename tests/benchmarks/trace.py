"""The benchmark of tracing: ``python -m tests.benchmarks.trace [--faults N] [--readings N] [--seed S] [--only NAME] …``.

A fault is put into a correct list: one of the suspects, or one of the generator of ``tests.faults``, which knows nothing of them.
The board that is then measured is another sample: every resistor somewhere in its tolerance, supplies, loads, gains and forward
voltages anywhere in their spread; its readings are 2 % off at most and rounded as a meter does. The tracer starts with nothing
and chooses each reading itself. It is right where the true fault, or one that is the same at every point that can be reached, is
in the first group (or in the first three). Faults that change nothing measurable are counted and left out.

Bars: first in at least 80 %, among the first three in at least 95 %.
"""

from __future__ import annotations

import argparse
import json
import sys
import time
from collections import defaultdict
from collections.abc import Iterator, Sequence
from pathlib import Path
from random import Random

import numpy as np
from msgspec import Struct, structs

from checker.bench.inventory import lay_out
from checker.circuit.build import connect
from checker.circuit.model import Circuit, Lead
from checker.operating.corners import Corner
from checker.operating.netlist import Netlist
from checker.operating.points import Point, State
from checker.operating.solving import solve_at
from checker.rules.expectation_missed import LIT_AMPS
from checker.seating.seat import seat
from checker.survey import Survey, survey
from checker.suspects.misbuilt import UNPRINTED
from checker.tracing import NothingFeeds, Probe, Seen, Trace, Tracer
from checker.tracing.choosing import APART_LOOKS, APART_WIDTHS
from checker.tracing.following import settled_states
from checker.tracing.instrument import Instrument, leg_in_place, net_at
from checker.tracing.likelihood import own_width
from checker.tracing.predicting import RUNS_SHARE, predicted
from checker.tracing.probes import probes_of, states_to_set
from grammar import read
from parts_library import load_library
from parts_library.schema import Amps, Load, Ohms, Resistor, SupplyKind, Volts
from tests.faults.generator import faults
from tests.faults.geometry import NotCovered

ROOT = Path(__file__).parents[2]
FOLDERS = (ROOT / "checker" / "examples", ROOT / "tests" / "clear")
FIRST_BAR, THREE_BAR = 0.80, 0.95
NOISE = 0.02
METER_SIEMENS = 1e-7
LIBRARY = load_library()


class Injected(Struct, frozen=True):
    """A fault put into a list: where it is from, its kind, its sentence, and the circuit with nominal parts."""

    source: str
    kind: str
    say: str
    circuit: Circuit


class Result(Struct, frozen=True):
    """``rank`` of the true fault's group from 1; 0 where it is not among the first three, -1 where nothing measurable changes."""

    file: str
    source: str
    kind: str
    say: str
    rank: int
    readings: int
    told: tuple[str, ...] = ()
    first: str = ""


def lists() -> list[Path]:
    """The examples that announce no finding, and the clear lists."""
    return [path for folder in FOLDERS for path in sorted(folder.glob("*.legs")) if "#:" not in path.read_text("utf-8")]


def injected(text: str, tracer: Tracer, most: int, chosen: Random) -> list[Injected]:
    """Half from the suspects, half from the generator of faults in text, each kind as likely as any other."""
    suspects = [Injected("suspect", one.kind, one.say, one.circuit) for one in tracer.hypotheses[1:]]
    try:
        others = [Injected("generator", fault.kind, fault.say, circuit) for fault in faults(text)
                  if (circuit := _connected(fault.text, tracer.circuit)) is not None]
    except NotCovered:
        others = []
    half = (most + 1) // 2
    drawn = _by_kind(others, most - half, chosen)
    return [*_by_kind(suspects, most - len(drawn), chosen), *drawn]


def _connected(text: str, built: Circuit) -> Circuit | None:
    """The circuit of a faulty list. The program goes on to drive a controller's pin whose wire was left out."""
    bench, _ = lay_out(read(text), LIBRARY)
    if bench.unread:
        return None
    seated = seat(bench)
    circuit = connect(seated, seated.readings[0])[0]
    driven = {pin for pin in built.touched if pin[0] in bench.parts and built.part(pin[0]).is_controller}
    return structs.replace(circuit, touched=circuit.touched | driven)


def _by_kind(every: Sequence[Injected], most: int, chosen: Random) -> list[Injected]:
    kinds: dict[str, list[Injected]] = defaultdict(list)
    for one in every:
        kinds[one.kind].append(one)
    names = sorted(kinds)
    chosen.shuffle(names)
    return [chosen.choice(kinds[name]) for name in names[:most]]


# ── the board that is measured ────────────────────────────────────────────────────────────────────────────────────


class Board:
    """One sample of a faulty board, with a meter."""

    def __init__(self, circuit: Circuit, chosen: Random, tracer: Tracer) -> None:
        self.circuit = structs.replace(circuit, bench=structs.replace(circuit.bench, parts={
            key: structs.replace(part, entry=varied(part.entry, chosen)) for key, part in circuit.bench.parts.items()}))
        self.chosen = chosen
        self.reference, self.built = tracer.reference, tracer.circuit
        self.corner = Corner("sample", "one sample", gain=chosen.choice((-1, 0, 1)), threshold=chosen.choice((-1, 0, 1)))

    def read(self, probe: Probe, state: State) -> Seen | None:
        """What the meter or the eye shows; None where that is not settled."""
        at, to = held(probe, self.circuit, self.built).at, probe.to or self.reference
        whole = settled_states([(self.circuit, state)])[0]
        nets = [net_at(self.circuit, spot) for spot in (at, to) if spot is not None]
        meter = nets if probe.kind == "volts" and None not in nets and len(set(nets)) == 2 else []
        circuit = structs.replace(self.circuit, pin_net={**self.circuit.pin_net, **{("~m", str(n)): net for n, net in
                                                                                  enumerate(meter) if net is not None}})

        def attach(netlist: Netlist, number: int) -> None:
            if meter:
                netlist.add("conductances", "~m", ("0", "1"), siemens=METER_SIEMENS)

        solved = solve_at([circuit], [[Point(whole, self.corner)]], attach=attach)[0]
        if not solved.fine[0]:
            return None
        if probe.kind == "look":
            amps = abs(float(solved.amps[0, list(circuit.pin_net).index(probe.pin)])) if probe.pin in circuit.pin_net else 0.0
            return Seen(probe, float(amps > _seen_from(circuit, probe)), probe.name, state=state)
        volts = float(solved.nets[0, meter[0]] - solved.nets[0, meter[1]]) if meter else 0.0
        volts *= 1.0 + self.chosen.uniform(-NOISE, NOISE)
        return Seen(probe, round(volts, 2), f"{probe.name}={volts:.2f}V", 0.01, state)


def held(probe: Probe, circuit: Circuit, built: Circuit) -> Probe:
    """Where a part is missing there is no leg to put the probe on: it goes to the hole where the leg belongs, and where the leg
    hangs on a wire, to the other end of that. A leg with nothing printed at it is the one on that wire, whichever it is."""
    spot = leg_in_place(circuit, probe.at, built) if probe.at is not None else None
    if isinstance(spot, tuple) and spot not in circuit.pin_net:
        spot = built.conductor_of[spot]
    if isinstance(spot, Lead):
        near = frozenset(built.conductors.neighbors(spot))
        if spot.part not in circuit.bench.parts:
            spot = next((other for other in near if other in circuit.net_of), spot)
        elif isinstance(built.part(spot.part).entry, UNPRINTED) and near:
            spot = next((other for pin in circuit.part(spot.part).pins if (other := Lead(spot.part, pin)) in circuit.conductors
                         and frozenset(circuit.conductors.neighbors(other)) == near), spot)
    return structs.replace(probe, at=spot)


def _seen_from(circuit: Circuit, probe: Probe) -> float:
    part = circuit.bench.parts.get(probe.pin[0])
    entry = part.entry if part is not None else None
    if isinstance(entry, Load) and entry.voltage and entry.current:
        return RUNS_SHARE * float(entry.current)
    if hasattr(entry, "must_operate"):
        return 0.5 * float(entry.voltage or 5.0) / float(entry.ohms or 70.0)
    return LIT_AMPS


def varied(entry: object, chosen: Random) -> object:
    """One sample of a part."""
    if isinstance(entry, Resistor) and entry.ohms:
        return structs.replace(entry, ohms=Ohms(entry.ohms * (1.0 + chosen.uniform(-entry.tolerance, entry.tolerance))))
    if isinstance(entry, SupplyKind) and entry.voltage is not None:
        low = entry.spent if entry.spent is not None else 0.95 * entry.voltage
        high = entry.fresh if entry.fresh is not None else 1.05 * entry.voltage
        return structs.replace(entry, voltage=Volts(chosen.triangular(low, high, entry.voltage)))
    if isinstance(entry, Load) and entry.current is not None:
        return structs.replace(entry, current=Amps(entry.current * (1.0 + chosen.uniform(-0.1, 0.1))))
    return entry


# ── one fault ─────────────────────────────────────────────────────────────────────────────────────────────────────


class Truth:
    """What the true fault shows at every probe in every state, with nominal parts. Rows of which neither the list nor a suspect
    makes use are no place to measure: that a leg is in one of them is seen."""

    def __init__(self, tracer: Tracer, circuit: Circuit) -> None:
        self.tracer = tracer
        self.states = states_to_set(tracer.circuit, ())
        self.probes = probes_of(tracer.circuit, (), tracer.grounds)
        self.circuit = circuit
        self.instrument = Instrument([circuit], tracer.instrument.grounds)

    def is_like(self, number: int) -> bool:
        """Whether a hypothesis is the same at every point that can be reached."""
        return not any(self._differs(number, state, probe) for state in self.states for probe in self.probes)

    def _differs(self, number: int, state: State, probe: Probe) -> bool:
        own = predicted(self.instrument, self.instrument.settled(0, state), held(probe, self.circuit, self.tracer.circuit))
        other = self.tracer.told(number, state, probe)
        if probe.kind == "look":
            return abs(own.nominal - other.nominal) > APART_LOOKS
        return abs(own.nominal - other.nominal) > APART_WIDTHS * float(np.hypot(own_width(own, probe), own_width(other, probe)))


def one_fault(file: str, tracer: Tracer, fault: Injected, most: int, chosen: Random) -> Result:
    """Measures until one group is left, nothing tells more, or ``most`` readings are taken."""
    truth = Truth(tracer, fault.circuit)
    if truth.is_like(0):
        return Result(file, fault.source, fault.kind, fault.say, -1, 0)
    board = Board(fault.circuit, chosen, tracer)
    seen: list[Seen] = []
    skipped: list[tuple[Probe, State]] = []
    trace = tracer.trace(seen)
    while trace.question is not None and len(seen) + len(skipped) < most:
        shown = board.read(trace.question.probe, trace.question.state)
        if shown is not None:
            seen.append(shown)
        else:
            skipped.append((trace.question.probe, trace.question.state))
        trace = tracer.trace(seen, skipped)
    told = tuple(f"{one.text} {one.value} {one.state}" for one in seen)
    return Result(file, fault.source, fault.kind, fault.say, _rank(tracer, trace, truth), len(seen), told,
                  trace.groups[0].members[0].say)


def _rank(tracer: Tracer, trace: Trace, truth: Truth) -> int:
    for rank, group in enumerate(trace.groups[:3], 1):
        if any(truth.is_like(tracer.hypotheses.index(member)) for member in group.members):
            return rank
    return 0


def results(paths: Sequence[Path], total: int, most: int, seed: int) -> Iterator[Result]:
    """The faults of all lists, spread evenly."""
    for number, path in enumerate(paths):
        each = total // len(paths) + (number < total % len(paths))
        text = path.read_text("utf-8")
        chosen = Random(f"{seed} {path.stem}")
        surveyed: Survey = survey([text], LIBRARY)[0]
        try:
            tracer = Tracer(surveyed, LIBRARY)
        except NothingFeeds:
            continue
        for fault in injected(text, tracer, each, chosen):
            yield one_fault(path.stem, tracer, fault, most, chosen)


# ── the table ─────────────────────────────────────────────────────────────────────────────────────────────────────


def table(found: Sequence[Result]) -> tuple[str, bool]:
    """A row a kind, the totals last; and whether both bars are met."""
    lines = [f"{'from':10} {'kind':26} {'faults':>6} {'silent':>6} {'first':>7} {'in three':>8} {'readings':>8}"]
    kinds = sorted({(one.source, one.kind) for one in found})
    for source, kind in kinds:
        lines.append(_row(source, kind, [one for one in found if (one.source, one.kind) == (source, kind)]))
    for source in sorted({one.source for one in found}):
        lines.append(_row(source, "all", [one for one in found if one.source == source]))
    lines.append(_row("all", "all", found))
    first, three = _shares(found)
    good = first >= FIRST_BAR and three >= THREE_BAR
    lines.append(f"bars: first {FIRST_BAR:.0%}, in the first three {THREE_BAR:.0%}: {'met' if good else 'MISSED'}")
    return "\n".join(lines), good


def _shares(found: Sequence[Result]) -> tuple[float, float]:
    counted = [one for one in found if one.rank >= 0]
    if not counted:
        return 1.0, 1.0
    return sum(one.rank == 1 for one in counted) / len(counted), sum(one.rank >= 1 for one in counted) / len(counted)


def _row(source: str, kind: str, found: Sequence[Result]) -> str:
    counted = [one for one in found if one.rank >= 0]
    first, three = _shares(found)
    mean = sum(one.readings for one in counted) / max(len(counted), 1)
    return (f"{source:10} {kind:26} {len(found):6} {len(found) - len(counted):6} {first:7.1%} {three:8.1%} {mean:8.1f}"
            if counted else f"{source:10} {kind:26} {len(found):6} {len(found):6} {'-':>7} {'-':>8} {'-':>8}")


def main() -> int:
    """Prints the table; the exit status is 1 where a bar is missed."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--faults", type=int, default=200, help="how many faults in all (200)")
    asked.add_argument("--readings", type=int, default=6, help="how many readings a fault at most (6)")
    asked.add_argument("--seed", type=int, default=1)
    asked.add_argument("--only", default="", help="lists whose name holds this")
    asked.add_argument("--out", type=Path, help="every result as a line of JSON")
    said = asked.parse_args()
    paths = [path for path in lists() if said.only in path.stem]
    began = time.perf_counter()
    found = []
    for one in results(paths, said.faults, said.readings, said.seed):
        found.append(one)
        if said.out:
            with said.out.open("a", encoding="utf-8") as out:
                out.write(json.dumps(structs.asdict(one)) + "\n")
    text, good = table(found)
    print(text)
    print(f"{len(paths)} lists, {len(found)} faults, {time.perf_counter() - began:.0f} s")
    return 0 if good else 1


if __name__ == "__main__":
    sys.exit(main())
