"""Sentences about causes: what is the wrong way round, and questions about the board."""

from __future__ import annotations

from collections.abc import Callable

from checker.rules.base import Answer, Found
from checker.sentences.words import allowed, first, gets, listed, measured, part, point

EFFECTS: dict[str, str] = {
    "rails-shorted": "It joins plus and minus",
    "supply-shorted": "It shorts the supply",
    "supplies-fighting": "It makes two supplies fight",
    "outputs-fighting": "It makes two outputs fight",
    "no-clamp": "Nothing then takes the coil's current when it is switched off",
    "supply-overload": "It asks too much of the supply",
    "supply-sags": "It pulls the supply down",
    "never-conducts": "The load gets no current",
    "no-return-path": "The current has no way back",
    "weak-drive": "The load gets too little current",
    "grounds-not-joined": "The signal's current has no way back",
    "nothing-powered": "Nothing gets current",
    "dangling-lead": "A lead or a leg is connected to nothing",
    "part-bridged": "A part is bridged",
}


def effect(found: Found) -> str:
    """What a cause does, from the worst that it clears."""
    evidence = first(found)
    if evidence is not None and evidence.quantity == "reverse voltage" and evidence.limit is None:
        return f"It blocks {measured(found)} instead of lighting"
    if evidence is None or evidence.limit is None:
        return EFFECTS.get(found.facts.get("effect", ""), "")
    of = evidence.of
    if evidence.unit == "degC":
        return f"{of} would reach {measured(found)}; its limit is {allowed(found)}"
    verb = {"A": "would carry", "W": "would have to shed"}.get(evidence.unit, "would have")
    if evidence.least:
        return f"{of} gets only {measured(found)}; it needs at least {allowed(found)}"
    if evidence.unit == "V":
        return gets(of, measured(found), allowed(found), would=True)
    return f"{of} {verb} {measured(found)}; its limit is {allowed(found)}"


def _reversed(words: str) -> Callable[[Found], str]:
    return lambda found: f"{part(found)} is the wrong way round{words}"


def _chip_reversed(found: Found) -> str:
    if "exchanged" in found.facts:
        pair = "collector and emitter" if found.facts["exchanged"] == "C and E" else "plus and minus"
        return f"{pair} of {part(found)} are exchanged"
    return _reversed("")(found)


def _question(found: Found) -> str:
    """The question in one line: what to look at."""
    if found.rule == "pin-order-varies":
        return f"{part(found)} is sold in more than one pin order: which one is this?"
    if found.rule == "rail-gap":
        return "the rails may be split in the middle: do they run through?"
    if found.rule == "claim-contradicts-marking":
        return _contradiction(found)
    return f"{part(found)}: {_as_question(found.answers[0].words)}" if found.answers else f"{part(found)}: which way round?"


def _as_question(answer: str) -> str:
    """"the flat faces column a" becomes "does the flat face column a?"."""
    words = answer.split()
    for number, word in enumerate(words):
        if word == "faces":
            return "does " + " ".join(words[:number]) + " face " + " ".join(words[number + 1:]) + "?"
        if word == "is":
            return "is " + " ".join(words[:number] + words[number + 1:]) + "?"
    return answer + "?"


def outcomes_of(found: Found, sentence: Callable[[Found], str]) -> str:
    """What follows from each answer and what to write then, a line each; ``sentence`` words the worst that would be found."""
    said = []
    for answer in found.answers:
        then = sentence(answer.then[0]) if answer.then else "it is fine"
        words = answer.words.split(" (")[0]
        said.append(f"If {words}: {then}" + _to_write(answer))
    marks = [answer.marked for answer in found.answers if answer.marked]
    tells = [answer.tell for answer in found.answers if answer.tell]
    said += [f"By its print: {marked}" for marked in marks[:1]]
    return "\n".join([*said, *(f"With a meter: {tell}" for tell in tells[:1])])


def _to_write(answer: Answer) -> str:
    """What makes the list say this answer: words to take out, words to write, or both."""
    changes = [f"take out: {' and '.join(answer.dropped)}"] if answer.dropped else []
    changes += [f"write: {answer.add}"] if answer.add else []
    return f" ({'; '.join(changes)})" if changes else ""


def _contradiction(found: Found) -> str:
    """The author's own words that cannot all be true."""
    said = found.facts.get("said", "").splitlines()
    if len(said) > 1:
        return f"{listed(said)} of {part(found)} contradict each other: which is right?"
    if said:
        return f"{said[0]} does not fit {part(found)}: which is right?"
    return f"the holes of {part(found)} are not in the order of its pins: which is right?"


def _nothing(found: Found) -> str:
    return ""


SENTENCES = {
    ("diode-reversed", "cause"): (_reversed(""), effect),
    ("led-reversed", "cause"): (_reversed(""), effect),
    ("led-reversed", "fault"): (
        lambda f: f"{part(f)} gets its voltage backwards and stays dark",
        lambda f: f"It blocks {measured(f)} instead of lighting: turn it round, or look for a lead in the wrong place"),
    ("led-reversed", "damage"): (lambda f: f"{part(f)} gets its voltage backwards, and too much of it", effect),
    ("led-reversed", "group"): (lambda f: f"an LED of {part(f)} is driven backwards", effect),
    ("capacitor-reversed", ""): (_reversed(""), effect),
    ("transistor-legs-swapped", "cause"): (lambda f: f"the legs of {part(f)} are exchanged", effect),
    ("transistor-legs-swapped", "reverse-gain"): (
        lambda f: f"collector and emitter of {part(f)} are exchanged; here it works through its reverse gain",
        lambda f: f"It carries {measured(f)} backwards. Above {f.facts['limit']} V between emitter and base it would conduct "
        "without drive; turned round it works with less base current"),
    ("regulator-legs-swapped", "cause"): (lambda f: f"the legs of {part(f)} are exchanged", effect),
    ("chip-reversed", "cause"): (_chip_reversed, effect),
    ("chip-reversed", "reference"): (
        lambda f: f"{part(f)} regulates nothing: its REF stands {measured(f)} above its K",
        lambda f: "A reference takes its current in at K, and REF stands below that: its legs are the other way round"),
    ("chip-reversed", "shunt"): (
        _reversed(""),
        lambda f: f"It conducts like a plain diode, {measured(f)}, where it should hold {f.facts['held']} V"),
    ("chip-reversed", "part"): (lambda f: f"the supply reaches {part(f)} backwards",
                                lambda f: f"It then conducts through its inner diodes, {measured(f, 1)}, and burns"),
    ("supply-reversed", "cause"): (lambda f: f"plus and minus of {part(f)} are exchanged", effect),
    ("grounds-not-joined", "cause"): (
        lambda f: f"the grounds of {listed(f.parts)} are not joined",
        lambda f: f"Nothing joins {point(f)} to {point(f, 1)}, so a signal's current has no way back"),
    ("claim-contradicts-marking", "question"): (_question, _nothing),
    ("marking-unsaid", "question"): (_question, _nothing),
    ("pin-order-varies", "question"): (_question, _nothing),
    ("rail-gap", "question"): (_question, _nothing),
}
