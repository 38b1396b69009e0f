"""What ``never-conducts`` leaves to other findings of the same cause, and LEDs in a row that want more volts than there are."""

from __future__ import annotations

import networkx as nx
import numpy as np

from checker.rules import led_reversed, no_return_path
from checker.rules.base import Found
from checker.rules.case import Case
from checker.rules.loads import gets_nothing
from parts_library.schema import Led, LedGroup, Resistor

LEAST_VOLTS = 0.3
"""Volts from which something is there, but too little."""

DIM = 0.0004
"""Amps below which an indicator LED is hardly seen: see ``weak-drive``."""

MOST_HOPS = 4
"""Resistors in line with a row of LEDs that are passed on the way to what feeds it."""


def told_by_others(case: Case) -> set[str]:
    """Parts without a way back, and groups of LEDs that are turned round: saying that they get no current adds nothing."""
    keys = {case.name(key): key for key, _ in case.parts()}
    found = list(no_return_path.find(case))
    found += [one for one in led_reversed.find(case) if isinstance(case.bench.parts[keys[one.parts[0]]].entry, LedGroup)]
    return {keys[one.parts[0]] for one in found}


def short_of_volts(case: Case) -> list[tuple[Found, set[str]]]:
    """For each row of LEDs that stays dark, or next to it, because its forward voltages add up to more than there is: the
    finding, its parts. Asked by two rules, worked out once a case."""
    if "short-of-volts" not in case.kept:
        case.kept["short-of-volts"] = _short_of_volts(case)
    kept: list[tuple[Found, set[str]]] = case.kept["short-of-volts"]
    return kept


def _short_of_volts(case: Case) -> list[tuple[Found, set[str]]]:
    graph: nx.Graph[str] = nx.Graph()
    for key, _ in case.parts(Led):
        if case.is_used(key) and float(case.amps(key, "A")[case.mask("nominal")].max(initial=0.0)) < DIM:
            graph.add_node(key)
    stiff = case.stiff
    dark = sorted(graph)
    graph.add_edges_from((one, other) for one in dark for other in dark if one < other and _follow(case, one, other, stiff))
    found = [_too_many(case, sorted(row, key=list(case.bench.parts).index)) for row in nx.connected_components(graph)]
    return [one for one in found if one is not None]


def _follow(case: Case, one: str, other: str, stiff: set[int]) -> bool:
    """True where the cathode of one LED is the anode of the other, and nothing feeds the net between them."""
    pairs = ((one, other), (other, one))
    return any(case.net(first, "K") == case.net(second, "A") and case.net(first, "K") not in stiff for first, second in pairs)


def _too_many(case: Case, row: list[str]) -> tuple[Found, set[str]] | None:
    needed = 0.0
    for key in row:
        entry = case.bench.parts[key].entry
        assert isinstance(entry, Led)
        usual = float(entry.usual_current)
        needed += float(min(entry.forward, key=lambda point: abs(point.amps - usual)).volts)
    nets = {case.net(key, pin) for key in row for pin in ("A", "K")}
    if len(nets) != len(row) + 1:
        return None
    ends = {pin: next(key for key in row if not any(case.net(key, pin) == case.net(other, far) for other in row))
            for pin, far in (("A", "K"), ("K", "A"))}
    glows = any(not gets_nothing(case, key, case.bench.parts[key]) for key in row)
    tops = [_fed_from(case, case.net(ends[pin], pin), row) if glows else case.net(ends[pin], pin) for pin in ("A", "K")]
    across = case.operating.volts[:, tops[0]] - case.operating.volts[:, tops[1]]
    best = case.worst(np.asarray(across), case.mask("nominal"))
    if best is None or not LEAST_VOLTS < best[0] < needed:
        return None
    names = tuple(case.name(key) for key in row)
    return Found(rule="never-conducts", severity="fault", span=case.bench.parts[row[0]].span, case="volts", parts=names,
                 points=(case.where(ends["A"], "A"), case.where(ends["K"], "K")), needs_whole_list=True,
                 evidence=(case.evidence("voltage", names[0], "V", *best, needed, True),)), set(row)


def _fed_from(case: Case, net: int, row: list[str]) -> int:
    """The net behind the resistors in line with an end of a row: what glows dimly behind a large resistor lacks no volts."""
    passed = set(row)
    for _ in range(MOST_HOPS):
        others = [(key, pin) for key, pin in case.pins_on(net) if key not in passed]
        if len(others) != 1 or not isinstance(case.bench.parts[others[0][0]].entry, Resistor):
            break
        key, pin = others[0]
        passed.add(key)
        net = case.net(key, "1" if pin == "2" else "2")
    return net
