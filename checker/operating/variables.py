"""What can be switched in a circuit, and which switches matter to each other.

A variable is a controller pin, a button, a potentiometer, a relay's contact, an output of a chip: anything with more than
one state. Two variables matter to each other when current or control can pass between them without going through a stiff
net (a supply's terminal, a controller's supply or ground): only then are their states combined.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import networkx as nx
from msgspec import Struct

from checker.bench.model import BenchPart
from checker.circuit.model import Circuit
from checker.operating.combining import combinations, group_states, meetings, size, unique
from checker.operating.points import State
from checker.operating.predicted import held_enable, held_nets, predicted
from checker.operating.stopped import stopped_levels
from parts_library.schema import (
    Bipolar,
    Chip,
    Controller,
    LedGroup,
    Output,
    Potentiometer,
    Regulator,
    Relay,
    SensorResistor,
    Switch,
    Thyristor,
)

OFF, FIRED = "off", "fired"
"""The states of a thyristor."""

MOST_ALL = 16
"""Up to so many states in all, groups are combined with each other too: it costs little and shows every sum. Beyond it,
the groups' hungriest states are combined once the nominal solution shows which those are."""


MOST_APART = 40
"""States in all up to which groups are gone through one by one. Beyond it several groups are looked at side by side, since
they meet at stiff nets only: the work would otherwise grow with the square of the list."""


WORTH_DEALING = 2
"""How many times the states of the largest group all states together have to be, before groups are dealt out."""


class Variable(Struct, frozen=True):
    """``name`` as in reports (``U1.D9``, ``S1``); ``options`` the state at rest first; ``asked`` is false for a pin whose role
    the list does not state, which is looked at for harm only; ``follows`` marks states that the circuit itself decides;
    ``one_of`` names the set of outputs of which it is one, never more than one of them in its second option."""

    name: str
    part: str
    options: tuple[str, ...]
    pin: str = ""
    asked: bool = True
    follows: bool = False
    one_of: str = ""


class StatePlan(Struct, frozen=True):
    """The states to look at, and whether the bound was reached. ``groups`` are the variables that matter to each other;
    ``apart`` is true where groups were gone through one after the other, the rest at rest. Where that would be too many,
    several groups are gone through at once (``side_by_side``): then ``near`` says of each part which variables are in its
    own group."""

    variables: tuple[Variable, ...]
    groups: tuple[tuple[Variable, ...], ...]
    states: tuple[State, ...]
    resets: tuple[State, ...]
    bounded: bool
    apart: bool = False
    side_by_side: bool = False
    near: dict[str, frozenset[str]] = {}


def controller_wires(circuit: Circuit, key: str, part: BenchPart) -> list[str]:
    """The signal pins of a controller that something is wired to."""
    assert isinstance(part.entry, Controller)
    return [pin for pin in (*part.entry.digital, *part.entry.analog) if (key, pin) in circuit.touched]


def pin_options(roles: tuple[str, ...]) -> tuple[str, ...]:
    """The states of a controller pin with these roles, the one at rest first."""
    if not roles:
        return ("low", "high", "input")
    if "bus" in roles:
        return ("released", "low")
    if "high" in roles:
        return ("high",)
    if "low" in roles:
        return ("low",)
    if "output" in roles or "pwm" in roles:
        return ("low", "high")
    if "pullup" in roles:
        return ("pullup",)
    return ("input",)


def feed_options(circuit: Circuit, key: str, part: BenchPart) -> tuple[str, ...]:
    """How a controller is fed: as stated, or from USB, and where VIN or 5V is fed too also without."""
    stated = circuit.bench.powers.get(key)
    if stated is not None:
        return ("usb",) if stated.ways == ("usb",) else ("usb", "no-usb") if "usb" in stated.ways else ("no-usb",)
    return ("usb", "no-usb") if fed_elsewhere(circuit, key) else ("usb",)


def fed_elsewhere(circuit: Circuit, key: str) -> bool:
    """True where a controller's VIN or 5V pin is on the plus of a supply or the output of a regulator."""
    for pin in ("VIN", "5V"):
        net = circuit.pin_net.get((key, pin))
        if net is None or (key, pin) not in circuit.touched:
            continue
        for other, its_pin in circuit.pins_on[net]:
            entry = circuit.part(other).entry
            if other != key and (circuit.part(other).is_supply or (isinstance(entry, Regulator) and its_pin == "OUT")
                                 or pin == "VIN"):
                return True
    return False


def variables_of(circuit: Circuit) -> list[Variable]:
    """Every variable of the circuit, in the order of the list."""
    found: list[Variable] = []
    for key, part in circuit.bench.parts.items():
        entry = part.entry
        if isinstance(entry, Controller):
            found.extend(_controller_variables(circuit, key, part))
        elif isinstance(entry, Switch) and len(entry.positions) > 1:
            found.append(Variable(part.name, key, entry.positions))
        elif isinstance(entry, Relay):
            found.append(Variable(part.name, key, ("released", "pulled-in"), follows=True))
        elif isinstance(entry, Thyristor):
            found.append(Variable(part.name, key, (OFF, FIRED), follows=True))
        elif isinstance(entry, Potentiometer):
            found.append(Variable(part.name, key, ("50%", "0%", "100%")))
        elif isinstance(entry, SensorResistor):
            found.append(Variable(part.name, key, ("medium", entry.low_when, entry.high_when)))
        elif isinstance(entry, Bipolar) and entry.photo:
            found.append(Variable(part.name, key, ("dark", "bright")))
        elif isinstance(entry, Chip):
            found.extend(_chip_variables(circuit, key, part, entry))
    return found


def _controller_variables(circuit: Circuit, key: str, part: BenchPart) -> list[Variable]:
    found = []
    for pin in controller_wires(circuit, key, part):
        roles = circuit.bench.role_of(part.name, pin)
        found.append(Variable(f"{part.name}.{pin}", key, pin_options(roles), pin, asked=bool(roles)))
    options = feed_options(circuit, key, part)
    if len(options) > 1:
        found.append(Variable(f"{part.name} USB", key, ("plugged", "unplugged")))
    return found


def _chip_variables(circuit: Circuit, key: str, part: BenchPart, entry: Chip) -> list[Variable]:
    found = []
    inputs = {pin for group in entry.inputs for pin in group.pins}
    held = held_nets(circuit) if any(output.enabled_by for output in entry.outputs) else {}
    stopped = stopped_levels(circuit, key, entry)
    for place, output in enumerate(entry.outputs):
        for number, pin in enumerate(output.pins):
            if (key, pin) not in circuit.touched or len(circuit.pins_on[circuit.pin_net[key, pin]]) < 2:
                continue
            roles = circuit.bench.role_of(part.name, pin)
            two_way = pin in inputs and not output.follows
            options = _two_way_options(entry, roles) if two_way else _output_options(output)
            if output.enabled_by:
                enable = output.enabled_by[number if len(output.enabled_by) > 1 else 0]
                options = _enabled(options, held_enable(circuit, key, entry, enable, held))
            options = _while_stopped(options, stopped.get(pin))
            found.append(Variable(f"{part.name}.{pin}", key, options, pin,
                                  follows=number < len(output.follows) or bool(output.enabled_by),
                                  asked=bool(roles) or not two_way, one_of=f"{key} {place}" if output.one_at else ""))
    return found


def _while_stopped(options: tuple[str, ...], level: str | None) -> tuple[str, ...]:
    """The options that are left of an output that is held low, high or open for good; what lets go is high for an open collector
    and low for a high-side switch."""
    wanted = {"low": ("low", "released"), "high": ("high", "released"), "open": ("released", "input")}.get(level or "", ())
    kept = [option for option in wanted if option in options]
    if level == "open" and not kept:
        return ("released",)
    return (kept[0],) if kept else options


def _output_options(output: Output) -> tuple[str, ...]:
    """The states of an output; where only one of several is active, the idle one first."""
    options = STYLE_OPTIONS[output.style]
    return options[::-1] if output.one_at and output.one_at == options[0] else options


def _enabled(options: tuple[str, ...], enabled: bool | None) -> tuple[str, ...]:
    """The states of an output that can be switched off: an enable that is tied leaves no choice."""
    if enabled is not None:
        return options if enabled else ("released",)
    return tuple(dict.fromkeys((*options, "released")))


STYLE_OPTIONS = {"push-pull": ("low", "high"), "open-collector": ("released", "low"), "high-side": ("released", "high")}


def _two_way_options(entry: Chip, roles: tuple[str, ...]) -> tuple[str, ...]:
    """A pin that is input and output: of a controller chip as the program says, of a sensor's line its release only, since
    both ends keep to a protocol that never lets them drive against each other."""
    if entry.type in ("microcontroller", "logic"):
        return tuple("input" if option == "pullup" else option for option in pin_options(roles))
    return ("released",)


# ── groups ────────────────────────────────────────────────────────────────────────────────────────────────────────


def stiff_nets(circuit: Circuit) -> set[int]:
    """Nets that a source holds: what one load does there does not change what another one sees."""
    stiff: set[int] = set()
    for (key, pin), net in circuit.pin_net.items():
        part = circuit.part(key)
        if part.is_supply or (part.is_controller and pin in ("5V", "3V3", "GND", "VIN")) or (
                isinstance(part.entry, Regulator) and (key, pin) in circuit.touched):
            stiff.add(net)
    return stiff


def _coupling(circuit: Circuit) -> nx.Graph[tuple[object, ...]]:
    """Nets and parts without stiff nets; what is wired to separate pins of a controller or chip stays apart."""
    stiff = stiff_nets(circuit)
    graph: nx.Graph[tuple[object, ...]] = nx.Graph()
    for (key, pin), net in circuit.pin_net.items():
        part = circuit.part(key)
        separate = part.is_controller or part.is_supply or isinstance(part.entry, LedGroup) or (
            isinstance(part.entry, Chip) and not part.entry.circuit and not part.entry.amplifiers
            and not any(output.follows for output in part.entry.outputs))
        owner = ("part", key, pin) if separate else ("part", key, "")
        graph.add_node(owner)
        if net not in stiff:
            graph.add_edge(owner, ("net", net))
        if separate and isinstance(part.entry, Chip) and (place := _set_of(part.entry, pin)) is not None:
            graph.add_edge(owner, ("set", key, place))
    return graph


def _meeting(circuit: Circuit, islands: dict[object, int]) -> list[tuple[int, int]]:
    """The pieces of the coupling that are at the two ends of an LED in a package: of a scanned display both have to move."""
    found: dict[tuple[int, int], None] = {}
    for key, part in circuit.bench.parts.items():
        for member in part.entry.members if isinstance(part.entry, LedGroup) else ():
            ends = tuple(islands.get(("net", circuit.pin_net[key, pin])) for pin in (member.anode, member.cathode))
            if ends[0] is not None and ends[1] is not None and ends[0] != ends[1]:
                found[ends[0], ends[1]] = None
    return list(found)


def _scans(circuit: Circuit, islands: dict[object, int], grouped: dict[object, list[Variable]], rest: State) -> list[State]:
    """For each common pin of LEDs in a package the state in which it alone is active and all its LEDs are lit: what a scanned
    display asks of the pin that carries a whole digit."""
    states = []
    for key, part in circuit.bench.parts.items():
        members = part.entry.members if isinstance(part.entry, LedGroup) else ()
        for side, other, active, idle in (("cathode", "anode", "low", "high"), ("anode", "cathode", "high", "low")):
            ends = [getattr(member, side) for member in members]
            commons = [pin for pin in dict.fromkeys(ends) if ends.count(pin) > 1]
            for common in commons if len(commons) > 1 else ():
                wanted = {pin: active if pin == common else idle for pin in commons}
                wanted |= {getattr(member, other): idle for member in members if getattr(member, side) == common}
                moved = {variable.name: level for pin, level in wanted.items() if (variable := _only_pin(
                    grouped.get(islands.get(("net", circuit.pin_net[key, pin])), ()), level)) is not None}
                states.append({**rest, **moved})
    return states


def _only_pin(group: Sequence[Variable], level: str) -> Variable | None:
    """The one variable of a group, where it has that level."""
    return group[0] if len(group) == 1 and level in group[0].options else None


def _set_of(entry: Chip, pin: str) -> int | None:
    """The number of the group of outputs, one active at a time, that a pin is in."""
    return next((place for place, output in enumerate(entry.outputs) if output.one_at and pin in output.pins), None)


def _islands(circuit: Circuit) -> dict[object, int]:
    """A number for each piece of the coupling, by its nodes."""
    return {node: i for i, nodes in enumerate(nx.connected_components(_coupling(circuit))) for node in nodes}


def _grouped(islands: dict[object, int], variables: list[Variable]) -> dict[object, list[Variable]]:
    groups: dict[object, list[Variable]] = {}
    for variable in variables:
        owner = ("part", variable.part, variable.pin)
        key: object = islands.get(owner, islands.get(("part", variable.part, ""), variable.name))
        groups.setdefault(key if not _feeds(variable) else variable.name, []).append(variable)
    return groups


def _feeds(variable: Variable) -> bool:
    return variable.name.endswith(" USB")


def _near(islands: dict[object, int], groups: dict[object, list[Variable]], keys: Iterable[str]) -> dict[str, frozenset[str]]:
    """For each part whose pins are not apart: the variables of its group, and how controllers are fed."""
    feeds = frozenset(variable.name for group in groups.values() for variable in group if _feeds(variable))
    names = {key: frozenset(variable.name for variable in group) for key, group in groups.items()}
    numbers = {key: islands.get(("part", key, "")) for key in keys}
    return {key: names.get(number, frozenset()) | feeds for key, number in numbers.items() if number is not None}


def plan_states(circuit: Circuit, resting: State | None = None) -> StatePlan:
    """The states to look at: all combinations within a group, groups one after the other unless all fit together.
    ``resting`` gives variables that rest in another option than their first."""
    variables = variables_of(circuit)
    islands = _islands(circuit)
    grouped = _grouped(islands, variables)
    groups = tuple(tuple(group) for group in grouped.values())
    rest = {variable.name: variable.options[0] for variable in variables} | (resting or {})
    apart = size(variables) > MOST_ALL
    bounded = side_by_side = False
    if not apart:
        states = combinations(variables, rest)
    else:
        rules = predicted(circuit, variables)
        found = [group_states(group, rest, rules) for group in groups]
        bounded = any(group.cut for group in found)
        # a group that is large by itself has to be gone through anyway
        fewest = max(MOST_APART, *(WORTH_DEALING * len(group.states) for group in found))
        side_by_side = 1 + sum(len(group.states) - 1 for group in found) > fewest
        if side_by_side:
            states = _side_by_side(groups, [group.states for group in found], rest)
        else:
            states = [state for group in found for state in group.states]
        by_island = dict(zip(grouped, found))
        states += meetings([(by_island[one], by_island[other]) for one, other in _meeting(circuit, islands)
                            if one in by_island and other in by_island], rest)
        states += _scans(circuit, islands, grouped, rest)
    near = _near(islands, grouped, circuit.bench.parts) if side_by_side else {}
    return StatePlan(tuple(variables), groups, tuple(unique(states or [rest])), tuple(_reset_states(circuit, variables, rest)),
                     bounded, apart, side_by_side, near)


def _side_by_side(groups: Sequence[tuple[Variable, ...]], found: Sequence[list[State]], rest: State) -> list[State]:
    """The states of all groups dealt out to as few states as the largest group needs, or ``MOST_APART``. What the circuit
    decides, and how a controller is fed, is not mixed with others: a contradiction would take them along."""
    alone: list[State] = [rest]
    dealt: list[State] = []
    most = max([MOST_APART, *(len(states) for states in found)])
    turn = 0
    for group, states in zip(groups, found, strict=True):
        moved = [state for state in states if state != rest]
        if any(variable.follows or _feeds(variable) for variable in group):
            alone.extend(moved)
            continue
        for state in moved:
            if len(dealt) < most:
                dealt.append(dict(rest))
            dealt[turn % most].update((variable.name, state[variable.name]) for variable in group)
            turn += 1
    return [*alone, *dealt]


def _reset_states(circuit: Circuit, variables: list[Variable], rest: State) -> list[State]:
    """At reset every pin of a controller is an input; switches stay as they are, at rest and each thrown once."""
    pins = {v.name for v in variables if v.pin and circuit.part(v.part).is_controller}
    driven = {v.name for v in variables if v.name in pins and v.options != ("input",)}
    if not driven:
        return []
    base = {name: ("input" if name in pins else option) for name, option in rest.items()}
    states = [base]
    for variable in variables:
        if variable.name not in pins:
            states.extend({**base, variable.name: option} for option in variable.options[1:])
    return states


def combined(plan: StatePlan, states: list[State], hunger: list[list[float]]) -> State | None:
    """The state in which every group is as in the one of its states with the most hunger (of that group), the rest at
    rest."""
    if not states:
        return None
    rest = states[0]
    whole = dict(rest)
    own = _own_states(plan, states)
    for number, group in enumerate(plan.groups):
        best = max(own[number], key=lambda i: hunger[number][i], default=None)
        if best is not None:
            whole.update((variable.name, states[best][variable.name]) for variable in group)
    return whole if whole not in states else None


def _own_states(plan: StatePlan, states: list[State]) -> dict[int, list[int]]:
    """For each group the states in which all others are at rest, or one that it meets; side by side, every state shows every
    group."""
    if plan.side_by_side:
        return {number: list(range(len(states))) for number in range(len(plan.groups))}
    rest = states[0]
    owner = {variable.name: number for number, group in enumerate(plan.groups) for variable in group}
    own: dict[int, list[int]] = {number: [] for number in range(len(plan.groups))}
    for i, state in enumerate(states):
        moved = {owner[name] for name, option in state.items() if rest[name] != option}
        for number in moved if len(moved) in (1, 2) else own if not moved else ():
            own[number].append(i)
    return own
