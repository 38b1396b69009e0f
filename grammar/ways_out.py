"""Lines that cannot be read as they stand, but whose meaning can be told: the words to write instead.

Input: a tidy line and the place of the error. Output: an ``Unreadable`` with the right spelling, or None. Nothing is taken
for meant; the reader of the list takes it or leaves it.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from grammar.alphabets import in_latin
from grammar.points import Unreadable

_HOLE = r"(?:[a-j]-?\d{1,2}|\d{1,2}-?[a-j])"
_PLACE = rf"(?:{_HOLE}|[lr][+-]\d{{0,2}})"
_MARK = r"(?:longer|longest|long|shorter|short|band|stripe|plus|minus|anode|cathode|\+)(?: +(?:leg|lead|side|end))?"
_THEN = r"(?:->|-->|=>|\u2192|-|to|and|,)?"
_MARK_BEHIND = re.compile(
    rf"(?P<one>{_PLACE})[ (]+(?P<mark>{_MARK})[ )]*{_THEN} *(?P<other>{_PLACE})(?:[ (]+{_MARK}[ )]*)?(?!\w)"
    rf"|(?P<first>{_PLACE}) *{_THEN} *(?P<last>{_PLACE}) *\\((?P<last_mark>{_MARK})\\) *$", re.IGNORECASE)
_PAIR = re.compile(rf"(?P<one>{_PLACE}|\w+\.\w+[+-]?)/(?P<other>{_PLACE}|\w+\.\w+[+-]?):?", re.IGNORECASE)
_SUPPLY_IN_PROSE = re.compile(r"\s*(?P<what>(?:supply|battery|source|power +supply)\s+is\b.*)", re.IGNORECASE)
_DASHED = re.compile(r"\s*(?:part +|supply +|battery +)?[A-Za-z]\w*( +)-( +)", re.IGNORECASE)
_POLES = ("vcc", "vdd", "plus", "+", "positive", "gnd", "ground", "vss", "minus", "-", "negative", "0v")

_IN_A_PART = ("hole-without-column", "column-unknown", "not-understood", "point-expected")


def way_out(plain: str, start: int, end: int, label: str) -> Unreadable | None:
    """The first that fits. ``start`` and ``end`` are the columns of the word that does not fit, ``label`` what is due there."""
    return next(_ways_out(plain, start, end, label), None)


def _ways_out(plain: str, start: int, end: int, label: str) -> Iterator[Unreadable]:
    found = plain[start:end]
    if in_latin(found) != found:
        yield Unreadable("other-alphabet", start, end, suggestion=in_latin(found))
    if prose := _SUPPLY_IN_PROSE.match(plain):
        yield Unreadable("supply-unnamed", *prose.span("what"))
    if label == "target-expected" and (behind := _mark_behind(plain)):
        yield behind
    if label == "point-expected" and (pair := _PAIR.fullmatch(found)):
        yield Unreadable("hole-astray", start, end, suggestion=f"{pair['one']} {pair['other']}")
    if label == "point-expected" and found.lower() in _POLES:
        yield Unreadable("rail-unclear", start, end)
    if label in _IN_A_PART and (out := dashed(plain, start)):
        yield out


def _mark_behind(plain: str) -> Unreadable | None:
    """``c12 (long) -> c14``: with the word for the legs, unless that stands before."""
    match = _MARK_BEHIND.search(plain)
    if match is None:
        return None
    one, other = match["one"] or match["first"], match["other"] or match["last"]
    at, mark = (one, match["mark"]) if match["one"] else (other, match["last_mark"])
    told = re.search(r"\b(?:(?P<one>in|at|on)|between|from|across)[ (]*$", plain[: match.start()], re.IGNORECASE)
    holes = f"{'' if told else 'in '}{one}{' and' if told and not told['one'] else ''} {other}"
    return Unreadable("mark-behind-its-hole", match.start(), match.end(), suggestion=f"{holes} {mark} {at}")


def dashed(plain: str, start: int) -> Unreadable | None:
    """``R1 - 220 - b7 b12``: dashes between the words of a part or a supply, the first of them before ``start``."""
    dash = _DASHED.match(plain)
    if dash is None or dash.end(1) > start:
        return None
    first, end = dash.end(1), len(plain.rstrip())
    words = plain[first:end].replace(" - ", " ").split()
    return Unreadable("dash-astray", first, end, suggestion=" ".join(words).removeprefix("- "))
