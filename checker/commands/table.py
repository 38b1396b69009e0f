"""The table of commands: a new one is a module in this folder and a line here."""

from __future__ import annotations

COMMANDS = {
    "check": "say what is wrong in a list, and what to change",
    "slips": "where to look twice: which slips in building would destroy something",
    "meter": "what a multimeter should read, before power and after",
    "trace": "it was powered and misbehaves: the likeliest faults",
    "draw": "the board as it looks from above, or its connections",
    "compare": "is it the same circuit as a reference, and if not, what differs",
    "batch": "check a whole class: marks, feedback, what to teach again",
    "serve": "the page for pasting a list into, on this machine",
    "tidy": "lay a list out in even columns, its comments kept",
    "example": "show the lists that come with legwise, or print one",
    "part": "how a part looks, which leg is which, how much it can take",
    "parts": "find a part by words, or list the families",
    "why": "what a rule means, why it matters, how to check it with a meter",
    "editor": "a language server: findings, cards and fixes while you type",
    "completion": "let the tab key complete our commands and options, in your shell",
}
"""Each command and what it does, in the order of the help; the code is ``checker.commands.NAME``."""
