"""Which states of a powered circuit are worth standing in front of with a meter, and what they are called.

Input: an operating. Output: its nominal points at rest, with one thing switched, and with what an ``expect`` asks for at once.
"""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import Struct

from checker.circuit.model import Circuit
from checker.operating.operate import Operating
from checker.operating.points import State
from checker.operating.variables import Variable
from grammar import show_quantity
from parts_library.schema import Capacitor, Chip, SensorResistor

MOST_STATES = 12
MOST_AT_REST = 4
AT_REST = "everything at rest"


class Stand(Struct, frozen=True):
    """A state to stand in: the number of its nominal point, its state, and its words; ``rest`` where no hand does anything."""

    point: int
    state: State
    say: str
    rest: bool = False


def stands(operating: Operating) -> list[Stand]:
    """The states, that at rest first; none where nothing converged. What goes to and fro by itself is never at rest: its two
    states come first then, each by its name."""
    free = [v for v in operating.plan.variables if not v.follows]
    rest = {v.name: v.options[0] for v in free}
    discharging = {v.name for v in discharges(operating)}
    asked = _asked_together(operating)
    found: list[tuple[int, frozenset[str], Stand]] = []
    mask = operating.mask("nominal") & operating.converged
    for number, point in enumerate(operating.points):
        if not mask[number]:
            continue
        changed = frozenset(name for name, option in rest.items() if point.state.get(name) != option)
        if (len(changed) <= 1 or changed in asked) and not changed & discharging:
            say = " and ".join(_said(operating.circuit, v, point.state[v.name]) for v in free if v.name in changed) or AT_REST
            found.append((len(changed), changed, Stand(number, point.state, say, not changed)))
    swinging = [v for v in swinging_outputs(operating) if any(changed == {v.name} for _, changed, _ in found)]
    unique: dict[str, Stand] = {}
    for _, changed, stand in sorted(found, key=lambda item: (item[0], not item[1] <= {v.name for v in swinging})):
        named = _swings_named(operating.circuit, stand, swinging, changed)
        unique.setdefault(named.say, named)
    return list(unique.values())[:MOST_STATES]


def _swings_named(circuit: Circuit, stand: Stand, swinging: Sequence[Variable], changed: frozenset[str]) -> Stand:
    """A state with what goes to and fro by itself named in it; that alone is at rest as much as it ever is."""
    staying = [_said(circuit, v, stand.state[v.name]) for v in swinging if v.name not in changed]
    if not swinging:
        return stand
    said = [*([] if stand.say == AT_REST else [stand.say]), *staying]
    return Stand(stand.point, stand.state, " and ".join(said), rest=changed <= {v.name for v in swinging})


def swinging_outputs(operating: Operating) -> list[Variable]:
    """Outputs of timers that trigger themselves: the capacitor that ends a pulse begins the next one."""
    circuit = operating.circuit
    charged = {circuit.pin_net[key, pin] for key, part in circuit.bench.parts.items() if isinstance(part.entry, Capacitor)
               for pin in part.entry.pins}
    return [v for v in operating.plan.variables if not v.follows and v.pin == "OUT"
            and isinstance(entry := circuit.part(v.part).entry, Chip) and entry.type == "timer"
            and circuit.pin_net.get((v.part, "TRIG"), -1) == circuit.pin_net.get((v.part, "THRES"), -2) in charged]


def discharges(operating: Operating) -> list[Variable]:
    """Outputs of timers that empty a capacitor: they come and go by themselves, and what hangs on them swings."""
    return [v for v in operating.plan.variables if not v.follows and "released" in v.options
            and isinstance(entry := operating.circuit.part(v.part).entry, Chip) and entry.type == "timer"]


def _asked_together(operating: Operating) -> set[frozenset[str]]:
    """Sets of things that one ``expect`` wants switched at once."""
    variables = {v.name.lower(): v for v in operating.plan.variables if not v.follows}
    sets = set()
    for expect in operating.circuit.bench.expects:
        wanted = set()
        for condition in expect.conditions:
            variable = variables.get(condition.subject.text.lower())
            if variable is not None and condition.state != variable.options[0].lower():
                wanted.add(variable.name)
        sets.add(frozenset(wanted))
    return sets


def rest_in_words(circuit: Circuit, variables: Sequence[Variable], resting: State | None = None) -> str:
    """What "at rest" means: ``U1.D9 low, S1 released``; "" where nothing can be switched, or too much."""
    by_itself = {key for key, part in circuit.bench.parts.items() if isinstance(part.entry, Chip)}
    said = [_explained(circuit, v, (resting or {}).get(v.name, v.options[0])) for v in variables
            if not v.follows and len(v.options) > 1 and v.part not in by_itself]
    return ", ".join(said) if len(said) <= MOST_AT_REST else ""


def _explained(circuit: Circuit, variable: Variable, option: str) -> str:
    """In words, with what the middle of a sensor is: ``LDR1 medium, 10 kΩ``."""
    words, entry = in_words(variable, option), circuit.part(variable.part).entry
    if not isinstance(entry, SensorResistor) or option in (entry.low_when, entry.high_when):
        return words
    return f"{words}, that is {show_quantity(float(entry.ohms), 'ohm')}"


def _said(circuit: Circuit, variable: Variable, option: str) -> str:
    """What a chip does of itself is waited for: ``while U1.OUT is high``."""
    words = in_words(variable, option)
    return f"while {variable.name} is {option}" if isinstance(circuit.part(variable.part).entry, Chip) else words


def in_words(variable: Variable, option: str) -> str:
    """``U1.D9 high``, ``RV1 turned to 50%``, ``U1 without USB``."""
    if variable.name.endswith(" USB"):
        name = variable.name.removesuffix(" USB")
        return f"{name} with USB" if option == "plugged" else f"{name} without USB"
    if option.endswith("%"):
        return f"{variable.name} turned to {option}"
    return f"{variable.name} {option}"
