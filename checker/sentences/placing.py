"""Sentences about where things are on the board."""

from __future__ import annotations

from checker.rules.base import Found
from checker.sentences.words import listed, moved, part, point


def _outside(found: Found) -> str:
    facts = found.facts
    if facts["rails"] == "no":
        return f"A {facts['size']} board has rows 1 to {facts['rows']} and no rails"
    return f"A {facts['size']} board has columns a to j and rows 1 to {facts['rows']}"


def _size(found: Found) -> str:
    """A list that goes beyond its board at several holes."""
    facts = found.facts
    if facts["only"] == "rails":
        return f"the list uses {listed(found.points)}, and a {facts['size']} board has no rails"
    if int(facts["last"]) > int(facts["rows"]):
        return f"the list uses row {facts['last']}, and a {facts['size']} board ends at row {facts['rows']}"
    return f"{listed(found.points[:3])} are not on the board"


def _right_size(found: Found) -> str:
    size = found.facts["fits"]
    beyond = f"{len(found.points)} holes of the list are beyond it" if found.facts["only"] != "rails" else ""
    right = f"on a {size} board all would be there" if size else ""
    said = "; ".join(words for words in (beyond, right) if words)
    return said[:1].upper() + said[1:]


def _taken(found: Found) -> str:
    who = found.facts["other"] or "a wire"
    return f"hole {point(found)} is taken already, by {who} in line {found.facts['first_line']}"


def _from(found: Found) -> str:
    return found.facts.get("from", point(found))


def _to(found: Found) -> str:
    return found.facts.get("to", point(found, 1))


SENTENCES = {
    ("outside-board", ""): (lambda f: f"{point(f)} is not on the board", _outside),
    ("outside-board", "size"): (_size, _right_size),
    ("hole-taken", "repeated"): (
        lambda f: f"line {f.facts['line']} says the same as line {f.facts['first_line']}",
        lambda f: "Two wires would be in the same holes: one of the lines is too many"),
    ("hole-taken", ""): (_taken, lambda f: "A hole takes one lead: one of the two is somewhere else, or will not go in"),
    ("leads-do-not-reach", ""): (
        lambda f: f"the legs of {part(f)} do not reach from {point(f)} to {point(f, 1)}",
        lambda f: f"That is {f.facts['distance']} mm; legs of this package reach about {f.facts['reach']} mm"),
    ("part-bridged", "strip"): (
        lambda f: f"both legs of {part(f)} are in one strip",
        lambda f: f"{point(f)} and {point(f, 1)} are joined inside the board, so no current passes through {part(f)}"),
    ("part-bridged", "cause"): (
        lambda f: f"both legs of {part(f)} are in one strip",
        lambda f: f"Nothing passes through {part(f)}: the strip joins its legs"),
    ("not-across-channel", "cause"): (
        lambda f: f"{part(f)} does not straddle the channel",
        lambda f: "Pins that face each other are then in one strip and so joined"),
    ("part-bridged", "wire"): (
        lambda f: f"both ends of {part(f)} are joined by wires",
        lambda f: f"No current passes through {part(f)}: it all takes the wire"),
    ("part-bridged", "legs"): (
        lambda f: f"legs {f.facts['pins']} of {part(f)} share a strip",
        lambda f: f"{point(f)} and {point(f, 1)} are joined inside the board"),
    ("not-across-channel", ""): (
        lambda f: f"{part(f)} does not straddle the channel",
        lambda f: f"Its pins {f.facts['pins']} are in one strip and so joined"),
    ("dangling-lead", "leg"): (
        lambda f: f"nothing else is connected where leg {f.facts['pin']} of {part(f)} stands",
        lambda f: f"{part(f)}'s leg in {point(f)} is alone in its strip"),
    ("dangling-lead", "unwired"): (
        lambda f: f"{part(f)} is in no wire and on no board",
        lambda f: "Wire its leads, or take its line out"),
    ("dangling-lead", "cause"): (
        lambda f: f"{part(f)} is where nothing else is connected",
        lambda f: f"Its legs in {' and '.join(f.points)} meet nothing there"),
    ("dangling-lead", "wire"): (
        lambda f: f"a wire ends at {f.facts['end']}, where nothing else is",
        lambda f: "Its strip holds no leg and no other wire"),
    ("next-strip", ""): (
        lambda f: f"{moved(f)} is in the wrong strip: {_from(f)} instead of {_to(f)}",
        lambda f: f"In {_to(f)} it meets what it belongs to"),
    ("rail-gap", "cause"): (
        lambda f: f"rail {f.facts['rail']} stops in the middle of the board",
        lambda f: f"What is beyond row {f.facts['row']} is not connected to what is before it"),
}
