"""Sentences about the text: lines, names and values that could not be read."""

from __future__ import annotations

from checker.rules.base import Found
from checker.sentences.words import part, point


def _message(found: Found) -> str:
    return found.facts.get("message", "this could not be read")


def _suggestion(found: Found) -> str:
    suggestion = found.facts.get("suggestion", "")
    return f"Write {suggestion}" if suggestion else ""


def _offered(found: Found) -> str:
    offered = found.facts.get("offered", "").split()
    return f"The list knows {', '.join(offered)}" if offered else ""


BAD_VALUES = {
    "needs-holes": lambda f: f"{part(f)} needs holes of the board behind `in`",
    "leg-count": lambda f: f"{part(f)} has {f.facts['pins']} legs, and the list gives holes for {f.facts['legs']}",
    "mark-elsewhere": lambda f: f"the {f.facts['mark']} of {part(f)} is said to be at {f.facts['where']}, where it has no leg",
    "mark-without-leg": lambda f: f"this mark of {part(f)} names no leg",
    "mark-not-on-package": lambda f: f"{part(f)} does not have such a mark",
    "facing-impossible": lambda f: f"{part(f)} cannot face that way: {f.facts['reason']}",
    "legs-in-one-hole": lambda f: f"the legs of {part(f)} are not in a line",
    "not-for-across": lambda f: f"{part(f)} cannot sit across the channel",
    "row-count": lambda f: f"{part(f)} has {f.facts['pins']} pins and cannot sit in {f.facts['rows']} rows",
    "notch-in-the-middle": lambda f: f"row {f.facts['row']} is neither end of {part(f)}",
    "dot-not-at-pin-1": lambda f: f"{f.facts['where']} is no corner where pin 1 of {part(f)} can be",
    "claim-without-in": lambda f: f"`as` goes with the holes of `in`, and {part(f)} has none",
    "corners-of-button": lambda f: f"the four legs of {part(f)} are not at the corners of a rectangle",
    "claim-count": lambda f: f"`as` does not name each pin of {part(f)} once",
    "which-piece": lambda f: f"on a split board {f.facts['rail']} does not say which half it means",
}
BAD_VALUE_HELP = {
    "leg-count": lambda f: f"Name {f.facts['pins']} holes behind `in`",
    "row-count": lambda f: f"Write across {f.facts['wanted']}",
    "mark-elsewhere": lambda f: "Name one of the holes behind `in`",
    "claim-count": lambda f: f"Its pins are {f.facts['pins']}",
    "which-piece": lambda f: f"Write {f.facts['rail']} with a row, such as {f.facts['rail']}12",
    "notch-in-the-middle": lambda f: "Name the first or the last row of the chip",
}


def _no_such_pin(found: Found) -> str:
    return f"{part(found)} has no pin {found.facts['pin']}"


def _its_pins(found: Found) -> str:
    return f"Its pins are {', '.join(found.facts['pins'].split())}"


LIKE_LATIN = dict(zip("аАсСеЕоОрРхХВНКМТі", "aAcCeEoOpPxXBHKMTi", strict=True))
"""Cyrillic letters that look like Latin ones (Unicode Technical Standard 39, confusables)."""


def _other_alphabet(found: Found) -> str:
    """What to write for a point with a letter that only looks Latin; "" for any other."""
    name = found.facts["name"]
    meant = "".join(LIKE_LATIN.get(letter, letter) for letter in name)
    return f"It has a letter of another alphabet that looks the same: type {meant} anew" if meant != name else ""


def _a_point(found: Found) -> str:
    if meant := _other_alphabet(found):
        return meant
    if found.facts["offered"]:
        return f"Write {' or '.join(found.facts['offered'].split())}"
    return "Write a hole such as a12, a rail such as L+, or a part and its pin such as U1.D9"


SENTENCES = {
    ("syntax", ""): (_message, _suggestion),
    ("unknown-part", ""): (_message, _suggestion),
    ("bad-value", "problem"): (_message, _suggestion),
    ("value-contradicts-bands", ""): (_message, _suggestion),
    ("unknown-point", "problem"): (_message, _suggestion),
    ("name-reused", "problem"): (_message, _suggestion),
    ("name-reused", ""): (lambda f: f"{part(f)} is already the name of something in line {f.facts['line']}",
                          lambda f: "Each name is given once; the first one counts here"),
    ("unknown-point", "no-such-pin"): (_no_such_pin, _its_pins),
    ("unknown-point", "claim-pin"): (_no_such_pin, _its_pins),
    ("unknown-point", "no-such-part"): (lambda f: f"nothing in the list is called {f.facts['name']}", _offered),
    ("unknown-point", "which-pin"): (
        lambda f: f"{part(f)} has several leads, and this does not say which",
        lambda f: f"Write one of {', '.join(f'{part(f)}.{pin}' for pin in f.facts['pins'].split()[:4])}"),
    ("unknown-point", "bare-word"): (
        lambda f: f"{f.facts['name']} alone names no point",
        _a_point),
    ("unknown-point", "which-board"): (
        lambda f: f"{point(f)} does not say which board it is on",
        lambda f: f"Write one of {', '.join(f'{name}:{point(f)}' for name in f.facts['offered'].split())}"
        if f.facts["offered"].split() else ""),
    ("ambiguous-point", "pin-of-placed-part"): (
        lambda f: f"{point(f)} is a leg of a part on the board: is it in {f.facts['hole']}?",
        lambda f: f"The list is read as {f.facts['hole']}. Look at the board, and write a free hole of that row instead"),
    ("ambiguous-point", "hole-or-pin"): (
        lambda f: f"{f.facts['hole']} is a hole of the board, but reads like {f.facts['pin']}",
        lambda f: f"The list is read as the hole. If the controller's pin is meant, write {f.facts['pin']}"),
    **{("bad-value", case): (message, BAD_VALUE_HELP.get(case, lambda f: "")) for case, message in BAD_VALUES.items()},
}
