"""Sentences about what does not work."""

from __future__ import annotations

from checker.report.words import is_nothing
from checker.rules.base import Found
from checker.sentences.words import allowed, listed, measured, out_of_reach, part, point

VERBS = {"lit": "light", "on": "be on", "runs": "run", "dark": "be dark", "off": "be off", "stopped": "stand still",
         "high": "be high", "low": "be low", "sounds": "sound", "silent": "be silent"}


def _hangs(found: Found) -> str:
    """What the two ends of a load hang on."""
    if found.facts.get("loose"):
        return f"{found.facts['loose']} is joined to nothing, and all its lights share it"
    if found.facts.get("ends"):
        return f"From {found.facts['ends']} nothing leads on to a supply"
    said = [f"{point(found, n)} is on {found.facts[f'end{n}']}" for n in (0, 1) if found.facts.get(f"end{n}")]
    return ", ".join(said) if said else "Whatever the program and the switches do, none flows through it"


def _colours(found: Found) -> str:
    return f"{part(found)} needs" if len(found.parts) == 1 else f"{listed(found.parts)} in a row need"


def _missed(found: Found) -> str:
    facts = found.facts
    when = f" when {_conditions(facts['conditions'])}" if facts.get("conditions") else ""
    if facts.get("verb") in VERBS:
        verb = VERBS[facts["verb"]]
        return f"{facts['subject']} " + (f"is not {verb[3:]}" if verb.startswith("be ") else f"does not {verb}") + when
    return f"{facts['subject']} {_value(found)}{when}, not as expected"


def _conditions(words: str) -> str:
    """"U1.D9 high and RV1 at 50%" becomes "U1.D9 is high and RV1 is at 50%"."""
    return " and ".join(" is ".join(each.split(" ", 1)) for each in words.split(" and "))


def _value(found: Found) -> str:
    """"carries 21 mA", "is at 1.6 V", "gets no current"."""
    evidence = found.evidence[0]
    if evidence.unit == "A":
        return "gets no current" if is_nothing(evidence) else f"carries {_precise(found)}"
    return f"{'is at' if evidence.unit == 'V' else 'comes to'} {_precise(found)}"


def _precise(found: Found) -> str:
    """The value; "just over 55 mA" where rounded it reads like its bound."""
    evidence = found.evidence[0]
    if allowed(found) != measured(found):
        return measured(found)
    return f"just {'under' if evidence.least else 'over'} {allowed(found)}"


def _expected(found: Found) -> str:
    least = bool(found.evidence) and found.evidence[0].least
    corner = found.evidence[0].corner if found.evidence else "nominal"
    where = "" if corner == "nominal" else " also in its worst case; with nominal values it holds"
    return f"Expected is {'at least' if least else 'at most'} {allowed(found)}{where}"


def _rest(found: Found) -> str:
    """"; not used, SRCLR belongs at plus and OE at minus"."""
    sides = [f"{listed(found.facts[side].split())} {'belongs' if ' ' not in found.facts[side] else 'belong'} at {side}"
             for side in ("plus", "minus") if found.facts.get(side)]
    return f"; when it is not used, {' and '.join(sides)}" if sides else "; one wire holds it"


def _is_or_are(found: Found) -> str:
    return "is" if len(found.points) == 1 else "are"


def _never_off(found: Found) -> str:
    return out_of_reach(found) or f"It gets its current all the time, past {part(found)} or straight through it"


HELD = {"low": "{outputs} stay low", "high": "{outputs} stay high",
        "still": "{part} takes no clock, and {outputs} stay as they are",
        "loading": "{part} only loads and never shifts or counts", "open": "{outputs} are switched off"}


def _always(found: Found) -> str:
    """"U2.RST is always high", "U2.G1 is always low and U2.G2A always high"."""
    sides = [(found.facts[side].split(), side) for side in ("high", "low") if found.facts[side]]
    said = [f"{listed(names)} {('is' if len(names) == 1 else 'are') + ' ' if not number else ''}always {side}"
            for number, (names, side) in enumerate(sides)]
    return " and ".join(said)


def _held(found: Found) -> str:
    outputs = found.facts["outputs"].split()
    said = HELD[found.facts["level"]].format(part=part(found), outputs=_span_of(outputs) if outputs else "its pins")
    if len(outputs) == 1:
        said = said.replace(" stay as they are", " stays as it is").replace(" stay ", " stays ").replace(" are ", " is ")
    return f"That way {said}, whatever else happens; at the other level it works"


def _span_of(names: list[str]) -> str:
    return listed(names) if len(names) <= 4 else f"{names[0]} to {names[-1]}"


def _follower(found: Found) -> str:
    """What a transistor above its load cannot do, and where the load belongs; "" for any other."""
    if "out" not in found.facts:
        return ""
    return (f". Its {found.facts['out']} can only follow its {found.facts['control']}, and that gets no higher than the pin: "
            f"{found.facts['load']} belongs between plus and the {found.facts['top']}, the {found.facts['out']} at minus")


def _states(found: Found) -> str:
    """Which states there are to ask for."""
    if found.facts.get("meant"):
        return f"Write {found.facts['meant']}"
    if found.facts.get("options"):
        return f"{found.facts['options']}: ask for one of these"
    return "Name a controller's pin that has a pin line with output, or a switch with one of its positions"


SENTENCES = {
    ("chip-stopped", "pin"): (lambda f: f"{_always(f)}: that stops {part(f)}", _held),
    ("nothing-powered", "no-supply"): (
        lambda f: "the list has no supply, so nothing gets current",
        lambda f: "Add a line such as: supply PACK 9V on L+ L-"),
    ("nothing-powered", "no-current"): (
        lambda f: "nothing in the list carries any current",
        lambda f: "No loop from plus to minus is closed, whatever is switched"),
    ("nothing-powered", "unfed"): (
        lambda f: f"nothing feeds {part(f)}: the list has no supply for it",
        lambda f: "Add its supply, such as: supply PACK 9V on L+ L-"),
    ("grounds-not-joined", "islands"): (
        lambda f: f"the grounds of {listed(f.parts)} are not joined",
        lambda f: f"The current through {f.facts['through']} has no way back: one wire has to join ground to ground"),
    ("no-return-path", ""): (
        lambda f: f"current through {part(f)} has no way back",
        lambda f: f"{point(f)} and {point(f, 1)} are not part of any closed loop"),
    ("load-current-in-logic-ground", ""): (
        lambda f: f"{measured(f)} of load current pass through {point(f)}",
        lambda f: f"It lifts the controller's ground by {measured(f, 1)}; a wire straight to the supply's minus avoids it"),
    ("isolation-bridged", ""): (
        lambda f: f"{listed(f.parts)} are to be kept apart but are connected",
        lambda f: f"The way leads through {f.facts['path']}" if f.facts["path"] else "A wire, a strip or a rail joins them"),
    ("bus-lines-crossed", "lines"): (
        lambda f: f"{f.facts['own']} of {part(f)} is on the {f.facts['other']} line, with {point(f, 1)}",
        lambda f: f"{part(f)} never answers so, and may keep the others from it: its two bus wires are exchanged"),
    ("level-mismatch", "sides"): (
        lambda f: f"{point(f)} gets {measured(f)} and {point(f, 1)} only {allowed(f)}: the two are exchanged",
        lambda f: "The low side belongs to the lower supply; this way round its lines rest between the two"),
    ("level-mismatch", "same"): (
        lambda f: f"{point(f)} reads the same whatever {f.facts['sensor']} does",
        lambda f: f"It stands at {measured(f)} at both ends of its range: a second resistor is missing, or in the wrong place"),
    ("level-mismatch", "unmoved"): (
        lambda f: f"{point(f)} reads {f.facts['level']} whatever {f.facts['switch']} does",
        lambda f: f"It gets {measured(f)} at {'least' if f.facts['level'] == 'high' else 'most'} and takes {allowed(f)} and "
        f"{'less' if f.facts['level'] == 'high' else 'more'} for {f.facts['other']}"),
    ("level-mismatch", "never-high"): (
        lambda f: f"{point(f)} never reads high: it gets {measured(f)} at most",
        lambda f: f"It takes {allowed(f)} and more for high; the resistors before it leave too little"),
    ("level-mismatch", "never-low"): (
        lambda f: f"{point(f)} never reads low: it gets {measured(f)} at least",
        lambda f: f"It takes {allowed(f)} and less for low"),
    ("level-mismatch", ""): (
        lambda f: f"{point(f)} gets {measured(f)}: neither surely high nor low",
        lambda f: f"It takes {allowed(f)} and more for high"),
    ("supply-pin-open", "ground-on-signal"): (
        lambda f: f"{part(f)}.{f.facts['pin']} is on {point(f, 1)}, which is no ground",
        lambda f: f"The current of {part(f)} has to go back through its ground leg; a wire from it to GND carries it"),
    ("supply-pin-open", "signal"): (
        lambda f: f"{part(f)}.{f.facts['pin']} is fed by pin {point(f, 1)} and takes {measured(f)}",
        lambda f: f"A pin feeds {allowed(f)} for long; the supply pin of the board gives more"),
    ("supply-pin-open", ""): (
        lambda f: f"leg {f.facts['pin']} of {part(f)} reaches {'no supply' if 'beside' in f.facts else 'nothing'}",
        lambda f: (f"Nothing else is there but {f.facts['beside']}, " if "beside" in f.facts else
                   f"{point(f)} is alone in its strip, ") + f"and {part(f)} cannot work without it"),
    ("never-conducts", "volts"): (
        lambda f: f"{_colours(f)} about {allowed(f)}, and there are {measured(f)}",
        lambda f: "Below that an LED passes next to nothing and stays dark"),
    ("never-conducts", ""): (lambda f: f"{part(f)} never gets any current", _hangs),
    ("never-settles", "own"): (
        lambda f: f"{part(f)} switches itself off as soon as it pulls in, and chatters",
        lambda f: f"Its coil is fed through its own contact from {point(f, 1)} to {point(f)}, which opens when it pulls in"),
    ("never-settles", "chatters"): (
        lambda f: f"{part(f)} pulls in, lets go and pulls in again: it chatters",
        lambda f: f"What it switches on leaves {measured(f)} at its coil: below {allowed(f)} it lets go, and then has its whole "
        "voltage again"),
    ("never-settles", "blinks"): (
        lambda f: f"{part(f)} switches itself off and on again, in turn",
        lambda f: f"Its coil is fed through its own contact from {point(f, 1)} to {point(f)}; the capacitor there sets the pace"),
    ("never-settles", "thyristor"): (
        lambda f: f"{part(f)} fires and goes out again at once",
        lambda f: f"It carries {measured(f)}, and stays on only above {allowed(f)}"),
    ("never-settles", "output"): (
        lambda f: f"{listed(f.points)} never come{'s' if len(f.points) == 1 else ''} to rest",
        lambda f: f"What {part(f)} puts out changes its own inputs, as fast as it can; look whether that is meant"),
    ("never-switches", "on"): (
        lambda f: f"{f.facts['load']} runs whatever {part(f)} is told",
        _never_off),
    ("never-switches", "array"): (
        lambda f: f"{f.facts['load']} runs whatever {point(f)} says",
        lambda f: (f"Its current passes through the clamp diode to {f.facts['clamp']}, which belongs at the plus of "
                   f"{f.facts['load']}"
                   if f.facts["clamp"] else f"It gets its current past the switch inside {part(f)}, or straight through it")),
    ("never-switches", "vain"): (
        lambda f: f"{f.facts['load']} is on whatever {point(f)} says",
        lambda f: "The pin's current goes into the transistor, but not where it would switch it"),
    ("never-switches", "pin"): (
        lambda f: f"hardly any current leaves {point(f)}",
        lambda f: "High or low, the pin drives nothing"),
    ("never-switches", "output"): (
        lambda f: f"{point(f)} drives {part(f, 1)}, and nothing is at {point(f, 1)}",
        lambda f: "What it should switch is on another leg, or on none"),
    ("never-switches", "idle"): (
        lambda f: f"{part(f)} is switched but never carries any current",
        lambda f: f"Nothing flows between {point(f)} and {point(f, 1)} in any state"),
    ("weak-drive", "switch"): (
        lambda f: f"{f.facts['switch']} is not fully on: {f.facts['load']} gets {measured(f)} of {allowed(f)}",
        lambda f: f"{f.facts['switch']} keeps {measured(f, 1)} to itself and turns {measured(f, 2)} into heat"
        + (f" (it can take {allowed(f, 2)})" if allowed(f, 2) else "") + _follower(f)),
    ("weak-drive", "volts"): (
        lambda f: f"{part(f)} gets {measured(f)} of its {allowed(f)}",
        lambda f: f"Below {allowed(f, 1)} it hardly does its work, even in its best state"),
    ("weak-drive", "relay"): (
        lambda f: f"{part(f)} gets {measured(f)} of its {allowed(f)}",
        lambda f: f"It pulls in for sure only from {allowed(f, 1)} at its coil"),
    ("weak-drive", "coupler"): (
        lambda f: f"the LED in {part(f)} gets {measured(f)}; it needs {allowed(f)}",
        lambda f: "With less its output may not switch, or only now and then"),
    ("weak-drive", "dim"): (
        lambda f: f"{part(f)} gets only {measured(f)} and is hardly seen",
        lambda f: f"An indicator wants {allowed(f)} and more"),
    ("input-floating", "gate"): (
        lambda f: f"nothing holds the gate of {part(f)} in some states",
        lambda f: "An open gate keeps its charge, and the transistor may stay half on"),
    ("input-floating", "capacitor"): (
        lambda f: f"{listed(f.points)} {_is_or_are(f)} held by the capacitor {f.facts['capacitor']} only",
        lambda f: "No direct current can reach it, so it drifts to one end of the supply and stays there" + (
            f"; in an oscillator it is joined to {part(f)}.{f.facts['other']}" if f.facts["other"] else
            "; a resistor has to give it its voltage")),
    ("input-floating", "reset"): (
        lambda f: f"nothing holds the gate of {part(f)} until the program starts",
        lambda f: f"What it switches may run until then; 10 kΩ from {point(f)} to {point(f, 1)} keeps it off"),
    ("input-floating", "open"): (
        lambda f: f"{listed(f.points)} {_is_or_are(f)} joined to nothing, and the outputs of {part(f)} depend on "
        + ("it" if len(f.points) == 1 else "them"),
        lambda f: "An open input changes with a hand nearby or the mains in the wall" + _rest(f)),
    ("input-floating", "open-data"): (
        lambda f: f"{listed(f.points)} {_is_or_are(f)} joined to nothing",
        lambda f: f"{part(f)} takes in a chance bit there; inputs that are not needed go to minus"),
    ("input-floating", "open-reset"): (
        lambda f: f"{listed(f.points)} {_is_or_are(f)} joined to nothing",
        lambda f: "It mostly works so, but a disturbance can reset the timer; a wire to its supply leg holds it"),
    ("input-floating", ""): (
        lambda f: f"{point(f)} is read while nothing holds it",
        lambda f: "It reads whatever the air and the neighbours bring" + (
            f", with {f.facts['state']}" if f.facts.get("state") else "")),
    ("no-pull-up", "low"): (
        lambda f: f"the bus line {point(f)} is never high: it rests at {measured(f)}",
        lambda f: (f"{f.facts['resistor']} pulls it to minus; its other leg belongs at plus" if f.facts["resistor"]
                   else f"It takes {allowed(f)} and more for high")),
    ("clock-open", "one"): (
        lambda f: f"{part(f)} reaches {f.facts['reached']} and not {point(f)}, the other clock pin of {part(f, 1)}",
        lambda f: f"A crystal works between the two only: {part(f, 1)} gets no clock from it"),
    ("clock-open", "none"): (
        lambda f: f"{part(f)} reaches neither of the clock pins of {part(f, 1)}, {point(f)} and {f.facts['other']}",
        lambda f: f"A crystal works between these two only: {part(f, 1)} gets no clock from it"),
    ("no-pull-up", ""): (
        lambda f: f"nothing pulls the bus line {point(f)} up",
        lambda f: "A bus is only ever pulled low by its members; a resistor makes it high"),
    ("pin-cannot-pwm", ""): (
        lambda f: f"{point(f)} cannot be pulsed",
        lambda f: f"The pins that can are {', '.join(f.facts['able'].split())}"),
    ("button-always-closed", "same-contact"): (
        lambda f: f"{part(f)} is wired through one and the same contact",
        lambda f: f"Its legs in {point(f)} and {point(f, 1)} are always joined, pressed or not"),
    ("button-always-closed", "bypassed"): (
        lambda f: f"both sides of {part(f)} are joined, pressed or not",
        lambda f: f"Its legs {f.facts['pins']} are joined by the board or by wires"),
    ("no-decoupling", ""): (
        lambda f: f"no capacitor at the supply of {listed(f.parts)}",
        lambda f: "100 nF close to each chip keeps its supply steady"),
    ("expectation-missed", "no-state"): (
        lambda f: f"the state {f.facts['conditions']} never happens in this circuit",
        lambda f: _states(f)),
    ("expectation-missed", "nowhere"): (
        lambda f: f"nothing is connected at {f.facts['subject']}",
        lambda f: "So there is no voltage to expect there"),
    ("expectation-missed", "missed"): (_missed, _expected),
}
