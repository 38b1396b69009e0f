"""Sentences about causes: what is the wrong way round, and questions about the board."""

from __future__ import annotations

from collections.abc import Callable

from checker.rules.base import Found
from checker.sentences.words import allowed, first, listed, measured, part, point

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
    "dangling-lead": "A lead hangs loose",
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
    verb = {"A": "would carry", "V": "would see", "W": "would have to shed"}.get(evidence.unit, "would have")
    if evidence.least:
        return f"{of} gets only {measured(found)} instead of {allowed(found)}"
    return f"{of} {verb} {measured(found)}; its limit is {allowed(found)}"


def _reversed(words: str) -> Callable[[Found], str]:
    return lambda found: f"{part(found)} is the wrong way round{words}"


def _question(found: Found) -> str:
    """The question in one line: what to look at."""
    answers = _answers(found)
    if found.rule == "pin-order-varies":
        return f"{part(found)} is sold in more than one pin order: which one is this?"
    if found.rule == "rail-gap":
        return "the rails may be split in the middle: do they run through?"
    if found.rule == "claim-contradicts-marking":
        return f"the claimed pins of {part(found)} do not fit its marking: which is right?"
    return f"{part(found)}: {_as_question(answers[0][0])}" if answers else f"{part(found)}: which way round is it?"


def _as_question(answer: str) -> str:
    """"the flat faces column a" becomes "does the flat face column a?"."""
    words = answer.split()
    for number, word in enumerate(words):
        if word == "faces":
            return "does " + " ".join(words[:number]) + " face " + " ".join(words[number + 1:]) + "?"
        if word == "is":
            return "is " + " ".join(words[:number] + words[number + 1:]) + "?"
    return answer + "?"


def _answers(found: Found) -> list[tuple[str, str, str]]:
    """Each answer, what follows from it, and the words to add."""
    numbers = sorted(int(key[6:]) for key in found.facts if key.startswith("answer"))
    return [(found.facts[f"answer{n}"], found.facts.get(f"then{n}", ""), found.facts.get(f"add{n}", ""))
            for n in numbers]


def _what_follows(found: Found) -> str:
    """What follows from each answer, and what to write once it is known."""
    said = []
    for answer, then, add in _answers(found):
        outcome = f"then {_outcome(then)}" if then else "then it is fine"
        said.append(f"If {answer}, {outcome}" + (f" (add: {add})" if add else ""))
    return ". ".join(said)


def _outcome(then: str) -> str:
    rules = [item.split(" ", 1) for item in then.split(", ")]
    worst = rules[0][0]
    words = {"danger": "it is dangerous", "damage": "something is damaged", "fault": "it does not work"}
    return f"{words.get(worst, 'it matters')} ({listed([rule for _, rule in rules[:2]])})"


SENTENCES = {
    ("diode-reversed", "cause"): (_reversed(""), effect),
    ("led-reversed", "cause"): (_reversed(""), effect),
    ("led-reversed", "fault"): (_reversed(" and stays dark"),
                                lambda f: f"It blocks {measured(f)} instead of lighting"),
    ("led-reversed", "damage"): (_reversed(" and sees too much voltage"), effect),
    ("led-reversed", "group"): (lambda f: f"an LED of {part(f)} is driven backwards", effect),
    ("capacitor-reversed", ""): (_reversed(""), effect),
    ("transistor-legs-swapped", "cause"): (lambda f: f"the legs of {part(f)} are exchanged", effect),
    ("regulator-legs-swapped", "cause"): (lambda f: f"the legs of {part(f)} are exchanged", effect),
    ("chip-reversed", "cause"): (_reversed(""), effect),
    ("chip-reversed", "part"): (lambda f: f"the supply reaches {part(f)} backwards",
                                lambda f: f"It then conducts through its inner diodes, {measured(f, 1)}, and burns"),
    ("supply-reversed", "cause"): (lambda f: f"plus and minus of {part(f)} are exchanged", effect),
    ("grounds-not-joined", "cause"): (
        lambda f: f"the grounds of {listed(f.parts)} are not joined",
        lambda f: f"Nothing joins {point(f)} to {point(f, 1)}, so a signal's current has no way back"),
    ("claim-contradicts-marking", "question"): (_question, _what_follows),
    ("marking-unsaid", "question"): (_question, _what_follows),
    ("pin-order-varies", "question"): (_question, _what_follows),
    ("rail-gap", "question"): (_question, _what_follows),
}
