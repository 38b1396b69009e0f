"""Sentences about the text: lines, names and values that could not be read."""

from __future__ import annotations

import re

from checker.rules.base import Found
from checker.sentences.words import part, point
from grammar.alphabets import in_latin
from grammar.quantities import read_quantity, show_quantity
from parts_library.markings import bands_for


def _message(found: Found) -> str:
    """What is wrong, without the way out where that is said beside it."""
    message, suggestion = found.facts.get("message", "this could not be read"), found.facts.get("suggestion", "")
    return message.removesuffix(f": write {suggestion}").removesuffix(f"; type {suggestion} anew")


def _suggestion(found: Found) -> str:
    suggestion = found.facts.get("suggestion", "")
    message = _message(found)
    if not suggestion:
        return _how(message)
    if found.facts.get("message", "").endswith(f"; type {suggestion} anew"):
        return f"Type {suggestion} anew"
    return "" if message.endswith(f"nearest is {suggestion}") else f"Write {suggestion}"


HOW = (
    ("no statement begins with", "A line begins with board, supply, part, wire, pin, expect, power, keep, title or by; "
                                 "legwise example shows whole lists"),
    ("this file is not text", "Save the list as plain text, in a file that ends in .legs or .txt"),
    ("is no hole", "A hole is a column and a row, such as a12"),
)
"""What to do where no word can be proposed: by what the message says."""


def _how(message: str) -> str:
    return next((how for words, how in HOW if words in message), "")


def _which_part(found: Found) -> str:
    """What to write for a part that is unknown, or where to look it up."""
    message, suggestion = _message(found), found.facts.get("suggestion", "")
    if message.endswith("?"):
        return ""
    if " more: write the one" in message:
        return f"See them all: legwise parts {message.split(' can be ')[0]}"
    if suggestion:
        return _suggestion(found)
    return "legwise parts finds parts by words; legwise parts --template shows how to describe one of your own"


def _which_bands(found: Found) -> str:
    suggestion = found.facts.get("suggestion", "")
    said = _TWO_VALUES.search(_message(found))
    if not suggestion:
        return ""
    if said is None:
        return f"Look at the part: if that is printed on it, write {suggestion}; else put in the right one"
    printed, stated = (read_quantity(said[name]).value for name in ("printed", "stated"))
    if printed >= stated:
        than = f"With {said['printed']} less current flows, down to {show_quantity(stated / printed, '%')} of it"
    else:
        than = f"With {said['printed']} more current flows, up to {show_quantity(stated / printed, '')} times as much"
    return f"Look at the resistor: {_right_bands(stated)}. {than}: put in the right one, or write {suggestion}"


_TWO_VALUES = re.compile(r"^the bands .* are (?P<printed>[^,]*Ω), and (?P<stated>.*Ω) is stated$")


def _right_bands(ohms: float) -> str:
    """Which colours the stated value has."""
    try:
        return f"{show_quantity(ohms, 'ohm')} is {' '.join(bands_for(ohms, 0.05))}"
    except ValueError:
        return "its bands tell"


def _offered(found: Found) -> str:
    offered = found.facts.get("offered", "").split()
    return f"The list has {', '.join(offered)}" if offered else ""


def _beside(found: Found) -> str:
    """Where the other leg is likely to be."""
    if not found.facts.get("suggestion"):
        return "Each leg has a hole of its own: write the one that the other leg is in"
    return f"{found.facts['beside']} is alone in its row: if the leg belongs there, write {found.facts['suggestion']}"


MARKS = {"long": "long leg", "short": "short leg", "plus": "+ mark", "minus": "- mark"}

BAD_VALUES = {
    "needs-holes": lambda f: f"{part(f)} needs holes of the board after the word in",
    "leg-count": lambda f: f"{part(f)} has {f.facts['pins']} legs, and the list gives holes for {f.facts['legs']}",
    "half-placed": lambda f: f"only the {f.facts['here']} of {part(f)} has a place: where does its {f.facts['lacks']} go?",
    "hole-twice": lambda f: f"{f.facts['hole']} stands twice: where is the other leg of {part(f)}?",
    "mark-elsewhere": lambda f: (f"the {MARKS.get(f.facts['mark'], f.facts['mark'])} of {part(f)} is said to be at "
                                 f"{f.facts['where']}, where it has no leg"),
    "mark-without-leg": lambda f: f"this mark of {part(f)} names no leg",
    "mark-not-on-package": lambda f: f"{part(f)} does not have such a mark",
    "facing-impossible": lambda f: f"{part(f)} cannot face that way, as {f.facts['reason']}",
    "legs-in-one-hole": lambda f: f"the legs of {part(f)} are not in a line",
    "not-for-across": lambda f: f"{part(f)} is placed by its holes, not with the word across",
    "row-count": lambda f: f"{part(f)} has {f.facts['pins']} pins and cannot sit in {f.facts['rows']} rows",
    "notch-in-the-middle": lambda f: f"row {f.facts['row']} is neither end of {part(f)}",
    "dot-not-at-pin-1": lambda f: f"{f.facts['where']} is no corner where pin 1 of {part(f)} can be",
    "claim-without-in": lambda f: f"the word as needs holes after the word in, and {part(f)} has none",
    "corners-of-button": lambda f: f"the four legs of {part(f)} are not at the corners of a rectangle",
    "claim-count": lambda f: f"after the word as, each pin of {part(f)} has to be named once",
    "which-piece": lambda f: f"on a split board {f.facts['rail']} does not say which half it means",
}
BAD_VALUE_HELP = {
    "facing-impossible": lambda f: f.facts.get("instead", ""),
    "mark-not-on-package": lambda f: f"What can be seen on it: {f.facts['has']}" if f.facts.get("has") else "",
    "leg-count": lambda f: f"Write across {f.facts['across']}" if f.facts.get("across") else
    f"Name {f.facts['pins']} holes after the word in",
    "row-count": lambda f: f"Write across {f.facts['wanted']}",
    "not-for-across": lambda f: "Name its holes after the word in" + (f", in the order {f.facts['order']}"
                                                                      if f.facts.get("order") else ""),
    "half-placed": lambda f: f"Write {f.facts['on']}, if it is so",
    "hole-twice": lambda f: _beside(f),
    "mark-elsewhere": lambda f: "Name one of the holes after the word in",
    "claim-count": lambda f: f"Its pins are {f.facts['pins']}",
    "which-piece": lambda f: f"Write {f.facts['rail']} with a row, such as {f.facts['rail']}12",
    "notch-in-the-middle": lambda f: "Name the first or the last row of the chip",
}


def _no_such_pin(found: Found) -> str:
    return f"{part(found)} has no pin {found.facts['pin']}"


def _quoted(word: str) -> str:
    """A word of the list; in quotes where it would read as the end of a sentence."""
    return f"'{word}'" if word[-1:] in "?!.,;:" else word


def _its_pins(found: Found) -> str:
    return f"Its pins are {', '.join(found.facts['pins'].split())}"


def _other_alphabet(found: Found) -> str:
    """What to write for a point with a letter that only looks Latin; "" for any other."""
    name = found.facts["name"]
    meant = in_latin(name)
    return f"It has a letter of another alphabet that looks the same: type {meant} anew" if meant != name else ""


def _a_point(found: Found) -> str:
    if meant := _other_alphabet(found):
        return meant
    if found.facts["offered"]:
        return f"Write {' or '.join(found.facts['offered'].split())}"
    return "Write a hole such as a12, a rail such as L+, or a part and its pin such as U1.D9"


SENTENCES = {
    ("syntax", ""): (_message, _suggestion),
    ("unknown-part", ""): (_message, _which_part),
    ("bad-value", "problem"): (_message, _suggestion),
    ("value-contradicts-bands", ""): (_message, _which_bands),
    ("unknown-point", "problem"): (_message, _suggestion),
    ("name-reused", "problem"): (_message, _suggestion),
    ("name-reused", "board"): (
        lambda f: f"there are two boards, in line {f.facts['line']} and here",
        lambda f: "Give each a name, as in board A half; or take one of the lines out"),
    ("name-reused", ""): (lambda f: f"{part(f)} is already the name of something in line {f.facts['line']}",
                          lambda f: "Each name is given once; the first one counts here"),
    ("unknown-point", "no-such-pin"): (_no_such_pin, _its_pins),
    ("unknown-point", "claim-pin"): (_no_such_pin, _its_pins),
    ("unknown-point", "no-such-part"): (lambda f: f"nothing in the list is called {f.facts['name']}", _offered),
    ("unknown-point", "which-pin"): (
        lambda f: f"{part(f)} has several leads, and this does not say which",
        lambda f: f"Write one of {', '.join(f'{part(f)}.{pin}' for pin in f.facts['pins'].split()[:4])}"
        + (f"; for the hole write {f.facts['hole']}" if f.facts.get("hole") else "")),
    ("unknown-point", "bare-word"): (
        lambda f: f"{_quoted(f.facts['name'])} alone names no point",
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
