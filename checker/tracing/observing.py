"""What was typed to readings: ``b10=4.9V``, ``b10~b12=0.7V``, ``PUMP=0mA``, ``LED1=dark``, and ``U1.D9=high`` to a state.

Input: the words and the circuit of the list. Output: ``Seen`` and states. What is misspelt raises ``Misread`` with the nearest
right spelling.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from checker.circuit.build import conductor_at
from checker.circuit.model import Circuit, NamedNode
from checker.operating.points import State
from checker.operating.variables import Variable, variables_of
from checker.rules.expectation_missed import SYNONYMS
from checker.seating.seat import plan_for
from checker.tracing.following import settable
from checker.tracing.model import Probe, Seen, Spot
from grammar import Quantity, QuantityError, nearest, read, read_quantity
from grammar.syntax_tree import Hole, Node, Pin, Point, Rail, Wire
from parts_library import near_pins, pin_named

LOOKS = {
    "lit": ("lit", 1.0), "on": ("lit", 1.0), "bright": ("lit", 1.0), "lights": ("lit", 1.0), "glows": ("lit", 1.0),
    "dark": ("lit", 0.0), "off": ("lit", 0.0), "out": ("lit", 0.0),
    "running": ("running", 1.0), "runs": ("running", 1.0), "turning": ("running", 1.0), "turns": ("running", 1.0),
    "sounds": ("running", 1.0), "pulled-in": ("running", 1.0), "clicks": ("running", 1.0),
    "still": ("running", 0.0), "stopped": ("running", 0.0), "silent": ("running", 0.0), "released": ("running", 0.0),
    "hot": ("hot", 1.0), "cool": ("hot", 0.0), "cold": ("hot", 0.0),
}
"""Words for what is seen without a meter: what is looked at, and whether it is so."""

_DECIMALS = re.compile(r"\d+[.,](\d+)")
_LEAST_DIGIT = 0.5


class Misread(Exception):
    """A reading or a state that is not understood; the message says why, and the nearest right spelling."""


def seen_in(text: str, circuit: Circuit, state: State) -> Seen:
    """One reading as typed, in a state."""
    subject, sign, value = (piece.strip() for piece in text.partition("="))
    if not sign or not subject or not value:
        raise Misread(f"'{text}' is no reading: write POINT=VALUE, as in b10=4.9V or LED1=dark")
    if value.lower() in LOOKS:
        return look_at(subject, *LOOKS[value.lower()], circuit, state, text)
    try:
        quantity = read_quantity(value)
    except QuantityError as problem:
        raise Misread(_no_value(value, problem)) from None
    return measured(subject, quantity, circuit, state, text)


IN_BETWEEN = {"dim": "neither lit nor dark", "weak": "neither lit nor dark", "faint": "neither lit nor dark",
              "warm": "neither hot nor cold", "flickers": "neither lit nor dark", "blinks": "neither lit nor dark",
              "slow": "neither running nor still"}
"""Words for what is in between: a meter says more of it than a word can."""


def _no_value(value: str, problem: QuantityError) -> str:
    if between := IN_BETWEEN.get(value.lower()):
        return f"'{value}' is {between}: leave it out, or give a number that was measured, such as 1.8V or 3mA"
    near = nearest(value, LOOKS) if value.isalpha() else ()
    if near:
        return f"'{value}' is nothing that is seen. The nearest is {near[0]}"
    known = "; seen without a meter: lit, dark, running, still, hot, cool"
    return f"'{value}' {problem.reason}" + (f"; write {problem.suggestion}" if problem.suggestion else known)


def measured(subject: str, quantity: Quantity, circuit: Circuit, state: State, text: str) -> Seen:
    """A number with its unit: volts at a point or across a part, amps through a part."""
    if quantity.unit == "V":
        probe = volts_at(subject, circuit)
    elif quantity.unit == "A":
        probe = amps_through(subject, circuit)
    elif quantity.unit == "":
        raise Misread(f"{text} has no unit: write V or mA behind the number, as in {subject}=4.9V")
    else:
        raise Misread(f"{text} is neither volts nor amps: those are what a board with power on it shows")
    return Seen(probe, quantity.value, text, digit_of(quantity), state)


def digit_of(quantity: Quantity) -> float:
    """The last digit that was given, in volts or amps: 0.1 for 4.9V, 0.001 for 98mA."""
    match = _DECIMALS.search(quantity.text)
    steps = len(match[1]) if match else 0
    prefix = 1e-6 if re.search(r"[uµμ]", quantity.text) else 1e-3 if "m" in quantity.text else 1.0
    return float(min(prefix * 10.0 ** -steps, _LEAST_DIGIT))


# ── points ────────────────────────────────────────────────────────────────────────────────────────────────────────


def volts_at(subject: str, circuit: Circuit) -> Probe:
    """``b10``, ``L+``, ``U1.D9``, ``Q1.C``: from the reference. ``b10~b12``, or the name of a part with two legs: between two."""
    one, between, other = (piece.strip() for piece in subject.partition("~"))
    if between:
        return Probe("volts", f"{one}~{other}", spot_of(one, circuit), spot_of(other, circuit))
    part = circuit.bench.part(one)
    if part is not None and len(part.pins) == 2:
        first, last = ((one.lower(), pin) for pin in part.pins)
        return Probe("volts", part.name, first, last)
    if part is not None and part.pins:
        raise Misread(f"{part.name} has more than two legs: write {part.name}.{part.pins[0]}=…V for the volts at one of them")
    return Probe("volts", one, spot_of(one, circuit))


def spot_of(text: str, circuit: Circuit) -> Spot:
    """Where a probe touches that is said to be at ``text``."""
    point = _point(text)
    if isinstance(point, Pin):
        return _pin(point, circuit, text)
    if isinstance(point, Hole | Rail):
        plan = plan_for(circuit.reading.plans, point)
        there = plan is not None and (plan.has_rail(point) if isinstance(point, Rail) else plan.has_hole(point))
        conductor = conductor_at(circuit, point) if there else None
        if conductor is not None:
            return conductor
    elif isinstance(point, Node) and NamedNode(point.name) in circuit.net_of:
        return NamedNode(point.name)
    raise Misread(_which_board(text, point, circuit) or _no_point(text, circuit))


def _which_board(text: str, point: Point | None, circuit: Circuit) -> str:
    """Where there are several boards and none is named: the holes that could be meant."""
    if not isinstance(point, Hole | Rail) or point.board or len(circuit.reading.plans) < 2:
        return ""
    having = [f"{name.upper()}:{text}" for name, plan in circuit.reading.plans.items()
              if (plan.has_rail(point) if isinstance(point, Rail) else plan.has_hole(point))]
    return f"'{text}' does not say on which board: write {' or '.join(having)}" if having else ""


def _point(text: str) -> Point | None:
    """The point that the language reads, or None."""
    tree = read(f"wire {text} to @probe\n")
    wires = [statement for statement in tree.statements if isinstance(statement, Wire)]
    return wires[0].points[0] if len(wires) == 1 and len(wires[0].points) == 2 and not tree.problems else None


def _pin(point: Pin, circuit: Circuit, text: str) -> Spot:
    part = circuit.bench.part(point.part)
    if part is None or part.entry is None:
        raise Misread(_no_point(text, circuit))
    pin = pin_named(part.entry, point.pin)
    if pin is None:
        near = near_pins(part.entry, point.pin)
        more = f"The nearest is {part.name}.{near[0]}" if near else f"It has {' '.join(part.pins[:12])}"
        raise Misread(f"{part.name} has no pin '{point.pin}'. {more}")
    return point.part.lower(), pin


def _no_point(text: str, circuit: Circuit) -> str:
    names = [part.name for part in circuit.bench.parts.values()]
    names += [f"{part.name}.{pin}" for part in circuit.bench.parts.values() for pin in part.pins]
    near = nearest(text, [*dict.fromkeys(circuit.place_of.values()), *names])
    return f"no point '{text}' in the list" + (f". The nearest is {near[0]}" if near else ": write a hole, a rail or NAME.PIN")


def amps_through(subject: str, circuit: Circuit) -> Probe:
    """``PUMP``, ``R1``, ``PACK``: through the part; ``Q1.C``, ``U1.D9``: at one pin."""
    name, dot, pin = subject.partition(".")
    part = circuit.bench.part(name)
    if part is None or part.entry is None:
        raise Misread(_no_part(subject, circuit))
    if dot:
        at = _pin_word(pin, part.name, circuit)
        return Probe("amps", f"{part.name}.{at}", pin=(name.lower(), at))
    pins = part.load_pins
    if len(pins) != 2:
        raise Misread(f"{part.name} has more than two legs: write {part.name}.{part.pins[0]}=…mA for the current at one of them")
    return Probe("amps", part.name, pin=(name.lower(), pins[0]))


def _pin_word(pin: str, name: str, circuit: Circuit) -> str:
    entry = circuit.bench.parts[name.lower()].entry
    assert entry is not None
    found = pin_named(entry, pin)
    if found is None:
        near = near_pins(entry, pin)
        raise Misread(f"{name} has no pin '{pin}'. " + (f"The nearest is {name}.{near[0]}" if near else
                                                       f"It has {' '.join(entry.pins[:12])}"))
    return found


def _no_part(name: str, circuit: Circuit) -> str:
    near = nearest(name, [part.name for part in circuit.bench.parts.values()])
    return f"no part '{name}' in the list" + (f". The nearest is {near[0]}" if near else "")


def look_at(subject: str, look: str, value: float, circuit: Circuit, state: State, text: str) -> Seen:
    """``LED1=dark``, ``PUMP=running``, ``Q1=hot``; one light of several by its pin: ``RGB1.R=lit``."""
    name, dot, pin = subject.partition(".")
    part = circuit.bench.part(name)
    if part is None or part.entry is None:
        raise Misread(_no_part(subject, circuit))
    at = _pin_word(pin, part.name, circuit) if dot else part.load_pins[0]
    if look == "lit" and hasattr(part.entry, "voltage") and part.load_pins != part.pins:
        look = "running"
    return Seen(Probe("look", subject, pin=(name.lower(), at), look=look), value, text, state=state)


# ── states ────────────────────────────────────────────────────────────────────────────────────────────────────────


def state_in(texts: Sequence[str], circuit: Circuit) -> State:
    """``U1.D9=high``, ``S1=pressed``, several with a comma: what is switched how."""
    state: State = {}
    for text in (piece for words in texts for piece in re.split(r",|\sand\s", words) if piece.strip()):
        name, sign, option = (piece.strip() for piece in text.partition("="))
        variables = [v for v in variables_of(circuit) if len(v.options) > 1 or v.pin]
        variable = next((v for v in variables if _plain(v.name) == _plain(name)), None)
        if not sign or variable is None:
            raise Misread(_no_variable(text, name, sign, variables))
        if variable not in settable(circuit):
            raise Misread(f"{variable.name} follows from the rest of the circuit: it cannot be set")
        state[variable.name] = _option(variable, option.lower())
    return state


def _plain(name: str) -> str:
    return name.lower().replace(" ", ".")


def _no_variable(text: str, name: str, sign: str, variables: list[Variable]) -> str:
    if not sign:
        return f"'{text}' is no state: write NAME=STATE, as in U1.D9=high or S1=pressed"
    names = [v.name for v in variables]
    part, dot, _ = name.partition(".")
    if dot and part.lower() not in {v.name.lower().partition(".")[0] for v in variables}:
        there = f". There are: {', '.join(names)}" if names else ""
        return f"'{name}' cannot be switched: nothing that can is called {part}{there}"
    near = nearest(name, names)
    known = f"There are: {', '.join(names)}" if names else "Nothing in the list can be switched"
    return f"'{name}' cannot be switched. " + (f"The nearest is {near[0]}" if near else known)


def _option(variable: Variable, wanted: str) -> str:
    for option in variable.options:
        if option == wanted or option in SYNONYMS.get(wanted, ()):
            return option
    same = {"1": "high", "0": "low"}.get(wanted, wanted)
    if same in variable.options:
        return same
    near = nearest(wanted, variable.options)
    raise Misread(f"{variable.name} cannot be '{wanted}'. " + (f"The nearest is {near[0]}" if near else
                                                               f"It can be {', '.join(variable.options)}"))
