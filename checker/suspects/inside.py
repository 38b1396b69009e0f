"""Parts that are not what they should be: shorted, dead, stuck, of another value."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import structs

from checker.bench.model import BenchPart
from checker.circuit.model import Circuit
from checker.suspects.model import PRIORS, Suspect
from checker.suspects.rewiring import with_bridge, with_entry, with_role
from grammar import show_quantity
from parts_library.markings import DIGIT_COLOURS, E24
from parts_library.schema import (
    Bipolar,
    Capacitor,
    Chip,
    Contact,
    Controller,
    Diode,
    Fuse,
    Inductor,
    Jfet,
    Led,
    Load,
    Mosfet,
    Ohms,
    Potentiometer,
    Regulator,
    Relay,
    Resistor,
    SensorResistor,
    Stepper,
    Switch,
    Thyristor,
    Zener,
)

MELTED_OHMS, TOUCHING_OHMS = 0.2, 0.01
"""What is left of a junction that has melted through, and of two legs that touch (common practice, no source). A resistor does
not fail as a short: what bridges it is metal."""

TWO_ENDED = (Resistor, SensorResistor, Diode, Zener, Led, Fuse, Inductor, Load, Capacitor)
CAN_DIE = (Resistor, SensorResistor, Diode, Zener, Led, Fuse, Inductor, Load, Bipolar, Mosfet, Jfet, Thyristor, Regulator,
           Stepper, Potentiometer)

ALIKE = (("brown", "red"), ("red", "orange"), ("orange", "yellow"), ("green", "blue"), ("blue", "violet"), ("violet", "grey"),
         ("brown", "orange"), ("grey", "white"), ("black", "brown"))
"""Band colours that are taken for each other, in poor light above all (common practice, no source)."""

DECADES = ((10.0, "ten times too large"), (0.1, "ten times too small"), (1000.0, "a thousand times too large"),
           (0.001, "a thousand times too small"))


def shorted(circuit: Circuit) -> Iterator[Suspect]:
    """Each part whose two ends are one, and each transistor that no longer blocks."""
    for key, part in circuit.bench.parts.items():
        for one, other, say in _shorts(part):
            if circuit.pin_net[key, one] != circuit.pin_net[key, other]:
                yield Suspect(kind="shorted", say=say, parts=(part.name,), points=_points(circuit, key, (one, other)),
                              circuit=with_bridge(circuit, key, one, other, _short_ohms(part)), prior=PRIORS["shorted"],
                              remedy=f"see that nothing touches between the legs of {part.name}; if nothing does, "
                                     "put in a new part")


def _shorts(part: BenchPart) -> Iterator[tuple[str, str, str]]:
    entry = part.entry
    if isinstance(entry, TWO_ENDED):
        yield entry.pins[0], entry.pins[-1], f"{part.name} is shorted from end to end"
    elif isinstance(entry, Bipolar):
        yield "C", "E", f"{part.name} is shorted from collector to emitter"
        if "B" in entry.pins:
            yield "B", "E", f"{part.name} is shorted from base to emitter"
    elif isinstance(entry, Mosfet):
        yield "D", "S", f"{part.name} is shorted from drain to source"
        yield "G", "S", f"{part.name} is shorted from gate to source"
    elif isinstance(entry, Jfet):
        yield "D", "S", f"{part.name} is shorted from drain to source"
    elif isinstance(entry, Thyristor):
        one, other = (pin for pin in entry.pins if pin != "G")
        yield one, other, f"{part.name} is shorted from {one} to {other}"


def _short_ohms(part: BenchPart) -> float:
    return MELTED_OHMS if isinstance(part.entry, Diode | Zener | Led | Bipolar | Mosfet | Jfet | Thyristor) else TOUCHING_OHMS


def _points(circuit: Circuit, key: str, pins: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(circuit.place_of[key, pin] for pin in pins)


def dead(circuit: Circuit) -> Iterator[Suspect]:
    """Each part with nothing left inside, each chip that does nothing, each contact that no longer moves."""
    for key, part in circuit.bench.parts.items():
        entry = part.entry
        remedy = f"put in a new part for {part.name}"
        points = _points(circuit, key, part.pins[:3])
        if isinstance(entry, CAN_DIE):
            yield Suspect(kind="dead", say=f"{part.name} is dead: it lets nothing through", parts=(part.name,), points=points,
                          circuit=with_entry(circuit, key, None), prior=PRIORS["dead"], remedy=remedy)
        elif isinstance(entry, Chip):
            yield Suspect(kind="dead", say=f"{part.name} is dead: it does nothing", parts=(part.name,), points=points,
                          circuit=with_entry(circuit, key, None), prior=PRIORS["dead"], remedy=remedy)
        elif isinstance(entry, Switch | Relay):
            for position, changed in _stuck(circuit, key, entry):
                yield Suspect(kind="dead", say=f"{part.name} stays {position}, whatever is done to it", parts=(part.name,),
                              points=points, circuit=changed, prior=PRIORS["dead"], remedy=remedy)


def _stuck(circuit: Circuit, key: str, entry: Switch | Relay) -> Iterator[tuple[str, Circuit]]:
    """A switch or relay whose contacts stay in one position; a relay's coil still takes its current."""
    positions = entry.positions if isinstance(entry, Switch) else ("released", "pulled-in")
    for position in positions if len(positions) > 1 else ():
        held = tuple(Contact(pins=contact.pins) for contact in entry.contacts if not contact.when or position in contact.when)
        stuck = structs.replace(entry, contacts=held)
        if isinstance(stuck, Switch):
            stuck = structs.replace(stuck, positions=(position,))
        yield position, with_entry(circuit, key, stuck)


def stuck_pins(circuit: Circuit) -> Iterator[Suspect]:
    """Each output of a controller that stays as it is: a dead pin and a program that does not switch it are the same."""
    for key, part in circuit.bench.parts.items():
        if not isinstance(part.entry, Controller):
            continue
        for pin in (*part.entry.digital, *part.entry.analog):
            roles = circuit.bench.role_of(part.name, pin)
            if (key, pin) in circuit.touched and (not roles or {"output", "pwm", "high", "low"} & set(roles)):
                for role, say in (("low", "stays low"), ("high", "stays high"), ("input", "drives nothing")):
                    name = f"{part.name}.{pin}"
                    yield Suspect(kind="pin-stuck", say=f"{name} {say}: the program does not switch it, or the pin is dead",
                                  parts=(part.name,), points=(name,), prior=PRIORS["pin-stuck"],
                                  circuit=with_role(circuit, key, pin, role),
                                  remedy=f"run a program that does nothing but switch {pin}; if it still {say}, use another pin")


def other_values(circuit: Circuit) -> Iterator[Suspect]:
    """Each resistor some decades off, and with one band taken for a colour that looks alike."""
    for key, part in circuit.bench.parts.items():
        if not isinstance(part.entry, Resistor) or not part.entry.ohms:
            continue
        right = part.entry.ohms
        wrong = [(right * times, words, 1.0 if 0.05 < times < 20 else 0.3) for times, words in DECADES]
        wrong += [(ohms, "a band misread", 0.5) for ohms in neighbours(right)]
        meant = show_quantity(right, "ohm")
        for ohms, words, share in wrong:
            changed = with_entry(circuit, key, structs.replace(part.entry, ohms=Ohms(ohms)))
            yield Suspect(kind="value", say=f"{part.name} is {show_quantity(ohms, 'ohm')} instead of {meant}: {words}",
                          parts=(part.name,), points=_points(circuit, key, part.pins), circuit=changed,
                          prior=share * PRIORS["value"], remedy=f"put in {meant} for {part.name}")


def neighbours(ohms: float) -> list[float]:
    """The values of the E24 series that one digit band in another likely colour gives."""
    exponent = 0
    while ohms * 10.0 ** -exponent >= 99.5:
        exponent += 1
    digits = round(ohms * 10.0 ** -exponent)
    if not 10 <= digits <= 99 or abs(digits * 10.0 ** exponent - ohms) > 1e-6 * ohms:
        return []
    first, second = divmod(digits, 10)
    found = []
    for one, other in (*ALIKE, *((b, a) for a, b in ALIKE)):
        taken, meant = DIGIT_COLOURS.index(other), DIGIT_COLOURS.index(one)
        found += [10 * taken + second] if first == meant else []
        found += [10 * first + taken] if second == meant else []
    return [value * 10.0 ** exponent for value in dict.fromkeys(found) if value in E24]
