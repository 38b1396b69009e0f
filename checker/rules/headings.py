"""What each rule is called in plain words: the mistake itself, as a heading.

Input: the name of a rule. Output: a phrase with a capital, without a full stop. A rule without one goes by its name.
"""

from __future__ import annotations

HEADINGS = {
    "syntax": "A line that cannot be read",
    "unknown-part": "A part that is not known",
    "unknown-point": "A point that is not there",
    "ambiguous-point": "A point with two meanings",
    "name-reused": "One name for two parts",
    "bad-value": "A value that cannot be right",
    "value-contradicts-bands": "Value and colour bands do not agree",
    "outside-board": "A hole that the board does not have",
    "hole-taken": "Two leads in one hole",
    "leads-do-not-reach": "Legs too short for their holes",
    "not-across-channel": "A chip or button on one side of the channel",
    "part-bridged": "Both legs of a part in one strip",
    "dangling-lead": "A leg or wire that ends where nothing else is",
    "next-strip": "A leg or wire one row off",
    "rail-gap": "A rail that stops in the middle of the board",
    "hazardous-voltage": "A voltage that can hurt a person",
    "rails-shorted": "Plus rail and minus rail joined",
    "supply-shorted": "The supply shorted",
    "supplies-fighting": "Two supplies working against each other",
    "outputs-fighting": "Two outputs working against each other",
    "supply-reversed": "The supply's plus and minus exchanged",
    "diode-reversed": "A diode the wrong way round",
    "led-reversed": "An LED the wrong way round",
    "capacitor-reversed": "A capacitor the wrong way round",
    "transistor-legs-swapped": "A transistor the wrong way round",
    "regulator-legs-swapped": "A regulator the wrong way round",
    "chip-reversed": "A chip the wrong way round",
    "claim-contradicts-marking": "Named pins that do not fit what is seen",
    "marking-unsaid": "Which way a part faces is not said",
    "pin-order-varies": "A type that is sold with its legs in several orders",
    "no-current-limit": "No resistor where one is needed",
    "too-much-voltage": "More voltage than a part can take",
    "too-much-current": "More current than a part can take",
    "too-much-power": "More heat than a part can shed",
    "too-hot": "A part that gets too hot",
    "pin-overload": "More current than a pin can give",
    "supply-overload": "More current than the source can give",
    "supply-sags": "A supply that is pulled down",
    "no-clamp": "A coil without its diode",
    "clamp-too-slow": "A diode that is too slow for its coil",
    "nothing-powered": "Nothing is powered",
    "grounds-not-joined": "Grounds that are not joined",
    "no-return-path": "No way back for the current",
    "load-current-in-logic-ground": "A load's current in the controller's ground pin",
    "isolation-bridged": "Two sides joined that should be apart",
    "level-mismatch": "A level that is neither low nor high",
    "supply-pin-open": "A supply or ground leg that reaches nothing",
    "never-conducts": "A load that never gets current",
    "never-switches": "A load that cannot be switched",
    "never-settles": "A relay or gate that never comes to rest",
    "chip-stopped": "A chip held still by its own reset or enable",
    "clock-open": "A crystal that misses one of its two pins",
    "bus-lines-crossed": "Two bus lines exchanged",
    "weak-drive": "A load that gets too little current",
    "input-floating": "An input that nothing holds",
    "no-pull-up": "A bus line without its pull-up",
    "pin-cannot-pwm": "A pin that cannot be pulsed",
    "button-always-closed": "A button wired through one contact",
    "no-decoupling": "A chip without its small capacitor",
    "expectation-missed": "What it should do does not come out",
}


def heading(rule: str) -> str:
    """"An LED the wrong way round" for ``led-reversed``."""
    words = rule.replace("-", " ")
    return HEADINGS.get(rule, words[:1].upper() + words[1:])
