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
from parts_library.schema import Chip

MOST_STATES = 12
MOST_AT_REST = 4
AT_REST = "everything at rest"


class Stand(Struct, frozen=True):
    """A state to stand in: the number of its nominal point, its state, and its words."""

    point: int
    state: State
    say: str


def stands(operating: Operating) -> list[Stand]:
    """The states, that at rest first; none where nothing converged."""
    free = [v for v in operating.plan.variables if not v.follows]
    rest = {v.name: v.options[0] for v in free}
    discharging = {v.name for v in discharges(operating)}
    asked = _asked_together(operating)
    found: list[tuple[int, Stand]] = []
    mask = operating.mask("nominal") & operating.converged
    for number, point in enumerate(operating.points):
        if not mask[number]:
            continue
        changed = frozenset(name for name, option in rest.items() if point.state.get(name) != option)
        if (len(changed) <= 1 or changed in asked) and not changed & discharging:
            say = " and ".join(_said(operating.circuit, v, point.state[v.name]) for v in free if v.name in changed) or AT_REST
            found.append((len(changed), Stand(number, point.state, say)))
    unique: dict[str, tuple[int, Stand]] = {}
    for rank, stand in sorted(found, key=lambda item: item[0]):
        unique.setdefault(stand.say, (rank, stand))
    return [stand for _, stand in unique.values()][:MOST_STATES]


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
    said = [in_words(v, (resting or {}).get(v.name, v.options[0])) for v in variables
            if not v.follows and len(v.options) > 1 and v.part not in by_itself]
    return ", ".join(said) if len(said) <= MOST_AT_REST else ""


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
