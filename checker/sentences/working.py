"""Sentences about what does not work."""

from __future__ import annotations

from checker.rules.base import Found
from checker.sentences.words import allowed, listed, measured, out_of_reach, part, point

VERBS = {"lit": "light", "on": "be on", "runs": "run", "dark": "be dark", "off": "be off", "stopped": "stand still",
         "high": "be high", "low": "be low", "sounds": "sound", "silent": "be silent"}


def _hangs(found: Found) -> str:
    """What the two ends of a load hang on."""
    said = [f"{point(found, n)} is on {found.facts[f'end{n}']}" for n in (0, 1) if found.facts.get(f"end{n}")]
    return ", ".join(said) if said else "No state of the program or of a switch sends current through it"


def _missed(found: Found) -> str:
    facts = found.facts
    when = f" when {facts['conditions']}" if facts.get("conditions") else ""
    if facts.get("verb") in VERBS:
        verb = VERBS[facts["verb"]]
        return f"{facts['subject']} " + (f"is not {verb[3:]}" if verb.startswith("be ") else f"does not {verb}") + when
    return f"{facts['subject']} comes to {_precise(found)}{when}, not as expected"


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


def _never_off(found: Found) -> str:
    return out_of_reach(found) or f"It gets its current in every state, past {part(found)} or straight through it"


SENTENCES = {
    ("nothing-powered", "no-supply"): (
        lambda f: "the list has no supply, so nothing gets current",
        lambda f: "Add a line such as: supply PACK 9V on L+ L-"),
    ("nothing-powered", "no-current"): (
        lambda f: "nothing in the list carries any current",
        lambda f: "No circuit is closed in any state"),
    ("nothing-powered", "unfed"): (
        lambda f: f"nothing feeds {part(f)}: the list has no supply for it",
        lambda f: "Add its supply, such as: supply PACK 9V on L+ L-"),
    ("grounds-not-joined", "islands"): (
        lambda f: f"the grounds of {listed(f.parts)} are not joined",
        lambda f: f"The current through {f.facts['through']} has no way back"),
    ("no-return-path", ""): (
        lambda f: f"current through {part(f)} has no way back",
        lambda f: f"{point(f)} and {point(f, 1)} lie on no closed circuit"),
    ("load-current-in-logic-ground", ""): (
        lambda f: f"{measured(f)} of load current pass through {point(f)}",
        lambda f: f"It lifts the controller's ground by {measured(f, 1)}; a wire straight to the supply's minus avoids it"),
    ("isolation-bridged", ""): (
        lambda f: f"{listed(f.parts)} are to be kept apart but are connected",
        lambda f: f"The way leads through {f.facts['path']}" if f.facts["path"] else "They share a conductor"),
    ("level-mismatch", "same"): (
        lambda f: f"{point(f)} reads the same whatever {f.facts['sensor']} does",
        lambda f: f"It stands at {measured(f)} at both ends of its range: a second resistor is missing, or in the wrong place"),
    ("level-mismatch", "never-high"): (
        lambda f: f"{point(f)} never reads high: it gets {measured(f)} at most",
        lambda f: f"It takes {allowed(f)} and more for high; the resistors before it leave too little"),
    ("level-mismatch", "never-low"): (
        lambda f: f"{point(f)} never reads low: it gets {measured(f)} at least",
        lambda f: f"It takes {allowed(f)} and less for low"),
    ("level-mismatch", ""): (
        lambda f: f"{point(f)} gets {measured(f)}: neither surely high nor low",
        lambda f: f"It takes {allowed(f)} and more for high"),
    ("supply-pin-open", ""): (
        lambda f: f"leg {f.facts['pin']} of {part(f)} reaches nothing",
        lambda f: f"{point(f)} is alone in its strip, and {part(f)} cannot work without it"),
    ("never-conducts", ""): (lambda f: f"{part(f)} never gets any current", _hangs),
    ("never-switches", "on"): (
        lambda f: f"{f.facts['load']} runs whatever {part(f)} is told",
        _never_off),
    ("never-switches", "pin"): (
        lambda f: f"{point(f)} drives nothing",
        lambda f: "No current leaves the pin, whether it is high or low"),
    ("never-switches", "idle"): (
        lambda f: f"{part(f)} is driven but never carries a current",
        lambda f: f"Nothing flows between {point(f)} and {point(f, 1)} in any state"),
    ("weak-drive", "switch"): (
        lambda f: f"{f.facts['switch']} is not fully on: {f.facts['load']} gets {measured(f)} of {allowed(f)}",
        lambda f: f"{f.facts['switch']} keeps {measured(f, 1)} to itself and turns {measured(f, 2)} into heat"
        + (f" (it stands {allowed(f, 2)})" if allowed(f, 2) else "")),
    ("weak-drive", "dim"): (
        lambda f: f"{part(f)} gets only {measured(f)} and is hardly seen",
        lambda f: f"An indicator wants {allowed(f)} and more"),
    ("input-floating", "gate"): (
        lambda f: f"nothing holds the gate of {part(f)} in some states",
        lambda f: "An open gate keeps its charge, and the transistor may stay half on"),
    ("input-floating", "reset"): (
        lambda f: f"nothing holds the gate of {part(f)} until the program starts",
        lambda f: f"What it switches may run until then; 10 kΩ from {point(f)} to {point(f, 1)} keeps it off"),
    ("input-floating", ""): (
        lambda f: f"{point(f)} is read while nothing holds it",
        lambda f: "It reads whatever the air and the neighbours bring" + (
            f", with {f.facts['state']}" if f.facts.get("state") else "")),
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
        lambda f: f"Its legs {f.facts['pins']} are in one net"),
    ("no-decoupling", ""): (
        lambda f: f"no capacitor at the supply of {listed(f.parts)}",
        lambda f: "100 nF close to each chip keeps its supply steady"),
    ("expectation-missed", "no-state"): (
        lambda f: f"{f.facts['conditions']} never happens in this circuit",
        lambda f: "Name a pin that a `pin` line drives, or a switch with one of its positions"),
    ("expectation-missed", "nowhere"): (
        lambda f: f"nothing is connected at {f.facts['subject']}",
        lambda f: "So there is no voltage to expect there"),
    ("expectation-missed", "missed"): (_missed, _expected),
}
