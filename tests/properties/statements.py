"""Statements made up at random: one strategy for each kind of statement of the language, as nodes of the tree.

Spans are made up too (line 1): what is asked is whether a printed statement reads back as itself. Names and words are those
that the page of the language allows: a name that is a keyword or reads like a hole or rail is asked back, and is left out
here.
"""

from __future__ import annotations

from typing import Any

from hypothesis import strategies as st

from grammar.syntax_tree import (
    Author,
    Bare,
    Board,
    Bound,
    Claim,
    Condition,
    Expect,
    Hole,
    Keep,
    MarkAt,
    MarkFaces,
    Node,
    Notch,
    Part,
    Pin,
    PinRole,
    PlacedAcross,
    PlacedIn,
    Power,
    Rail,
    Span,
    Supply,
    Title,
    Wire,
    Word,
)

HERE = Span(1, 1, 1, 2)
COLUMNS = "abcdefghij"
NAMES = st.builds("{}{}".format, st.sampled_from(["R", "LED", "Q", "U", "PUMP", "SW", "Lamp", "mot", "IC"]), st.integers(64, 999))
BOARDS = st.none() | st.sampled_from(["TOP", "low", "B2"])
NUMBERS = st.sampled_from(["1", "47", "0.5", "2,2", "100", "4700", ".5"])
UNITS = st.sampled_from(["", "k", "M", "R", "n", "uF", "µF", "V", "mA", "W", "kΩ", "%"])
VALUES = st.builds("{}{}".format, NUMBERS, UNITS)
KINDS = st.sampled_from(["resistor", "led", "2N3904", "PN2222A", "NE555", "4k7", "motor", "relay", "1N4148", "9v-block",
                         "zener", "controller-5v", "slide-switch", "bench-supply"])
COLOURS = st.sampled_from(["black", "brown", "red", "orange", "yellow", "green", "blue", "violet", "grey", "white"])


def word(texts: st.SearchStrategy[str]) -> st.SearchStrategy[Word]:
    return st.builds(Word, texts, st.just(HERE))


def some(one: st.SearchStrategy[Any], least: int = 1, most: int = 3) -> st.SearchStrategy[tuple[Any, ...]]:
    return st.lists(one, min_size=least, max_size=most).map(tuple)


HOLES = st.builds(Hole, st.sampled_from(COLUMNS), st.integers(1, 63), st.just(""), st.just(HERE), BOARDS)
RAILS = st.builds(Rail, st.sampled_from("LR"), st.sampled_from("+-"), st.none() | st.integers(1, 63), st.just(""),
                  st.just(HERE), BOARDS)
PIN_NAMES = st.sampled_from(["1", "2", "D9", "A0", "GND", "5V", "3V3", "VIN", "+", "-", "V+", "E", "OUT", "COM"])
PINS = st.builds(Pin, NAMES, PIN_NAMES, st.just(""), st.just(HERE))
NODES = st.builds(Node, st.sampled_from(["gate", "n_1", "x2", "5v"]), st.just(""), st.just(HERE))
BARES = st.builds(Bare, NAMES, st.just(HERE))
PLACES = HOLES | RAILS

# ── clauses of a part ─────────────────────────────────────────────────────────────────────────────────────────────


@st.composite
def across(draw: st.DrawFn) -> PlacedAcross:
    first = draw(st.integers(1, 55))
    left, right = draw(st.sampled_from([("e", "f"), ("d", "g"), ("c", "h"), ("b", "i")]))
    return PlacedAcross(first, first + draw(st.integers(1, 8)), HERE, left, right, draw(st.booleans()), draw(BOARDS))


def faces(mark: st.SearchStrategy[str]) -> st.SearchStrategy[MarkFaces]:
    column, row = st.sampled_from(COLUMNS), st.integers(1, 63)
    side = st.sampled_from(["top", "bottom", "left", "right"])
    return (st.builds(MarkFaces, mark, st.just(HERE), column=column) | st.builds(MarkFaces, mark, st.just(HERE), row=row)
            | st.builds(MarkFaces, mark, st.just(HERE), towards=side))


NOTCHES = st.builds(lambda row, towards: Notch(HERE, row, towards if row is None else None), st.none() | st.integers(1, 63),
                    st.sampled_from(["top", "bottom"]))
CLAIMS = st.builds(Claim, some(word(st.sampled_from(["E", "B", "C", "IN", "OUT", "GND", "K", "A"])), 2, 3), st.booleans(),
                   st.just(HERE))


@st.composite
def part(draw: st.DrawFn) -> Part:
    """A part in holes, across the channel or off the board, with the marks that fit where it is."""
    place = draw(st.none() | across() | st.builds(PlacedIn, some(PLACES, 2, 4), st.just(HERE), st.just(False)))
    marks: tuple[Any, ...] = ()
    if isinstance(place, PlacedAcross):
        marks = draw(some(NOTCHES, 0, 1))
    elif isinstance(place, PlacedIn):
        at = st.builds(MarkAt, st.sampled_from(["band", "stripe", "long", "short", "plus", "anode", "cathode"]),
                       st.sampled_from(place.points), st.just(HERE))
        marks = draw(some(at | faces(st.sampled_from(["flat", "tab", "front"])), 0, 1))
    return Part(draw(word(NAMES)), (draw(word(KINDS)), *draw(some(word(VALUES), 0, 2))), HERE, place, marks,
                draw(st.none() | CLAIMS) if isinstance(place, PlacedIn) else None,
                draw(some(word(COLOURS), 3, 5) | st.just(())), draw(st.none() | word(st.sampled_from(["104", "473", "22p"]))))


# ── the other statements ──────────────────────────────────────────────────────────────────────────────────────────

LETTERS = st.characters(categories=("L", "N", "P", "Zs"), exclude_characters='"“”„«»\u3000\u1680')
FREE_TEXT = st.text(LETTERS, min_size=1, max_size=30).map(lambda text: " ".join(text.split())).filter(bool)
SUPPLIES = st.builds(Supply, word(NAMES), some(word(KINDS | VALUES), 1, 2), st.just(HERE),
                     st.none() | word(st.sampled_from(["2A", "500mA", "0.5A"])), st.just(()) | some(PLACES, 2, 2))
AMPS = st.sampled_from([Bound(0.08, 0.12, "A", "80mA to 120mA", HERE), Bound(None, 0.001, "A", "under 1mA", HERE),
                        Bound(0.5, None, "A", "over 0.5A", HERE)])
VOLTS = st.sampled_from([Bound(4.5, 5.5, "V", "4.5V to 5,5V", HERE), Bound(None, 1.0, "V", "under 1V", HERE),
                         Bound(3.0, None, "V", "over 3V", HERE)])
STATES = st.sampled_from(["high", "low", "pressed", "not-pressed", "on", "off"])
CONDITIONS = st.builds(Condition, PINS | BARES, STATES, st.just(HERE))
AMOUNTS = st.builds(Condition, BARES, st.just("at"), st.just(HERE), word(st.sampled_from(["50%", "10%"])))
ROLES = st.sampled_from(["output", "pwm", "input", "pullup", "analog", "bus", "high", "low", "unused"])
WAYS = st.lists(st.sampled_from(["usb", "vin", "5v"]), min_size=1, max_size=3, unique=True).map(tuple)
PER_STATEMENT: dict[str, st.SearchStrategy[Any]] = {
    "title": st.builds(Title, FREE_TEXT, st.just(HERE)),
    "author": st.builds(Author, FREE_TEXT, st.just(HERE)),
    "board": st.builds(Board, st.sampled_from(["mini", "half", "full"]), st.just(HERE), BOARDS,
                       st.none() | st.sampled_from(["split", "joined"])),
    "supply": SUPPLIES,
    "part": part(),
    "wire": st.builds(Wire, some(HOLES | RAILS | PINS | NODES, 2, 4).filter(lambda points: len(set(points)) > 1),
                      st.just(HERE), st.none() | COLOURS),
    "power": st.builds(Power, word(NAMES), WAYS, st.just(HERE)),
    "pin": st.builds(PinRole, some(PINS, 1, 3), st.lists(ROLES, min_size=1, max_size=2, unique=True).map(tuple), st.just(HERE)),
    "pin at a frequency": st.builds(PinRole, some(PINS, 1, 2), st.just(("pwm",)), st.just(HERE),
                                    word(st.sampled_from(["20kHz", "500Hz", "1 kHz"]))),
    "keep": st.builds(Keep, word(NAMES), word(NAMES), st.just(HERE)),
    "expect a state": st.builds(Expect, BARES, st.sampled_from(["lit", "dark", "on", "off", "runs", "stopped", "high", "low"]),
                                st.just(HERE), st.none(), some(CONDITIONS | AMOUNTS, 0, 3)),
    "expect amps": st.builds(Expect, BARES, st.just("carries"), st.just(HERE), AMPS, some(CONDITIONS, 0, 2)),
    "expect volts": st.builds(Expect, HOLES | PINS | NODES, st.just("at"), st.just(HERE), VOLTS, some(CONDITIONS, 0, 2)),
}
