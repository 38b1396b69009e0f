"""Parts on the boards with their words: names of pins, the mark that says which way round, name and value.

Input: bodies in their places, the benchtop and the crowd. Output: ``PartAt``. Words keep off every body and each other.
"""

from __future__ import annotations

from collections.abc import Sequence

from checker.cards.marks import pin_at
from checker.drawing.benchtop import Benchtop, short
from checker.drawing.bodies import Body
from checker.drawing.lying import Lie
from checker.drawing.pin_names import pin_words
from checker.drawing.placing import Crowd, best_words, round_about, round_box, settle
from checker.drawing.plan import LegAt, PartAt
from checker.drawing.seen import Seen
from checker.drawing.shapes import CHARACTER, Box, Stroke, Words, reach

_SIDES = {(-1, 0): "left", (1, 0): "right", (0, -1): "top", (0, 1): "bottom"}
_CROWDED = 30.0
"""What words on a body may cover of other things before they go beside it."""
_FAR = 10.0
"""Units between a name and its body from which a line joins them."""
_POLES = frozenset({"A", "K", "+", "-", "C", "E"})


def finish(bodies: Sequence[Body], table: Benchtop, crowd: Crowd) -> tuple[PartAt, ...]:
    """Every part with its words: names of pins first, then marks, then names and values."""
    pins = {body.seen.name: _pin_labels(body, crowd) for body in bodies}
    marks = {body.seen.name: _mark_label(body, crowd) for body in bodies}
    names = {body.seen.name: _name_label(body, crowd, pins[body.seen.name]) for body in bodies}
    return tuple(_part(body, table, (*pins[body.seen.name], *marks[body.seen.name], *names[body.seen.name]),
                       _leader(names[body.seen.name], body.box)) for body in bodies)


def _leader(words: Sequence[Words], box: Box) -> tuple[Stroke, ...]:
    """A thin line from a name to its body where it could not stand beside it."""
    if not words:
        return ()
    own = reach(words)
    x = box.right if own.left > box.right else box.left if own.right < box.left else own.middle[0]
    y = box.bottom if own.top > box.bottom else box.top if own.bottom < box.top else own.middle[1]
    start = (max(own.left, min(own.right, x)), max(own.top, min(own.bottom, y)))
    far = ((start[0] - x) ** 2 + (start[1] - y) ** 2) ** 0.5 > _FAR
    return (Stroke((start, (max(box.left, min(box.right, x)), max(box.top, min(box.bottom, y)))), width=0.9),) if far else ()


def _part(body: Body, table: Benchtop, labels: tuple[Words, ...], leader: tuple[Stroke, ...]) -> PartAt:
    seen = body.seen
    legs = tuple(LegAt(pin, table.hole_name(spot), *place, open=pin in seen.open_pins or pin == "?")
                 for (pin, spot), place in zip(seen.legs, body.places))
    towards = _SIDES.get(seen.facing, "") if seen.facing is not None else ""
    if body.mark == "tab":
        towards = {"left": "right", "right": "left", "top": "bottom", "bottom": "top"}.get(towards, towards)
    if body.mark in ("band", "stripe", "plus") or (body.mark == "flat" and not towards):
        towards = next((leg.hole for leg in legs if leg.pin == body.marked), "")
    elif body.mark in ("notch", "dot"):
        towards = legs[0].hole
    package = seen.package.name if seen.package is not None else ""
    numbers = seen.package.numbers(len(legs)) if seen.package is not None else tuple(range(1, len(legs) + 1))
    return PartAt(name=seen.name, says=_says(seen, legs, body.mark, towards), package=package, legs=legs, body=body.box,
                  shapes=(*leader, *body.shapes), labels=labels, mark=body.mark, towards=towards, numbers=numbers)


def _says(seen: Seen, legs: Sequence[LegAt], mark: str, towards: str) -> str:
    """One sentence for the reader who cannot see the drawing."""
    at = ", ".join(leg.hole if leg.pin == "?" else f"{leg.pin} in {leg.hole}" for leg in legs)
    seen_mark = ("; which way round is open" if mark == "?" else
                 f"; {mark} toward the {towards}" if towards in _SIDES.values() else f"; {mark} at {towards}" if towards else "")
    return f"{seen.name}, {seen.kind}: {at}{seen_mark}"


def _pin_labels(body: Body, crowd: Crowd) -> tuple[Words, ...]:
    seen = body.seen
    if len(seen.legs) != 2:
        silent = seen.entry is None or (seen.mark_open and seen.facing is None and not _faced(seen))
        words = () if silent else tuple(pin_words(seen, body.places, body.side))
        settle(crowd, words, seen.name)
        return words
    if seen.entry is None or not {pin for pin, _ in seen.legs} <= _POLES:
        return ()
    found: list[Words] = []
    for (pin, _), place in zip(seen.legs, body.places):
        long = "long" in (seen.package.marks if seen.package else ()) and pin == pin_at("long", seen.entry)
        open_ = "?" if pin in seen.open_pins else ""
        text = f"{'−' if pin == '-' else pin}{open_}"
        tries = round_about(place, text, 9.0, 10.0, bold=True)
        if long and body.mark == "flat":
            tries = [(words, dislike + 12) for words, dislike in tries]
            tries += round_about(place, f"{text} (long)", 9.0, 10.0, bold=True)
        found.extend(best_words(crowd, _off_the_body(body, tries)))
        settle(crowd, found[-1:], f"{seen.name}.{pin}")
    return tuple(found)


def _faced(seen: Seen) -> bool:
    return seen.package is not None and seen.package.form in ("to92", "to220")


def _off_the_body(body: Body, candidates: list[tuple[tuple[Words, ...], float]]) -> list[tuple[tuple[Words, ...], float]]:
    """The same candidates, disliked where they cover the part's own body or legs."""
    own = body.box.grown(-1.0)
    return [(words, dislike + sum(0.8 * word.box.overlap(own) for word in words)) for words, dislike in candidates]


def _mark_label(body: Body, crowd: Crowd) -> tuple[Words, ...]:
    """The word beside a flat or a tab, or a question mark on the body."""
    if body.mark == "?":
        words = best_words(crowd, [((Words(*body.box.middle, "?", 15, bold=True, name="open"),), -60.0),
                                   *round_about(body.box.middle, "?", 15, 16.0, bold=True, name="open")])
        settle(crowd, words, body.seen.name)
        return words
    if body.mark not in ("flat", "tab", "front") or body.seen.facing is None:
        return ()
    side = body.seen.facing if body.mark != "tab" else (-body.seen.facing[0], -body.seen.facing[1])
    words = best_words(crowd, _along_side(body.box, side, "printed" if body.mark == "front" else body.mark))
    settle(crowd, words, body.seen.name)
    return words


def _along_side(box: Box, side: tuple[int, int], text: str) -> list[tuple[tuple[Words, ...], float]]:
    """Places for a word just off one side of a body; an arrow in it points to that side."""
    x, y = side
    middle = box.middle
    found: list[tuple[tuple[Words, ...], float]] = []
    for gap, dislike in ((7.0, 0.0), (14.0, 3.0)):
        for shift in (0.0, -10.0, 10.0, -20.0, 20.0, -30.0, 30.0):
            if x:
                place = (box.right + gap if x > 0 else box.left - gap, middle[1] + shift)
                word = Words(*place, text, 8.5, "start" if x > 0 else "end", bold=True, name="mark")
            else:
                place = (middle[0] + shift, box.bottom + gap + 2 if y > 0 else box.top - gap - 2)
                word = Words(*place, text, 8.5, bold=True, name="mark")
            found.append(((word,), dislike + abs(shift) * 0.1))
    return found


def _name_label(body: Body, crowd: Crowd, pins: Sequence[Words]) -> tuple[Words, ...]:
    """Name and value: on the body where there is room, else near it."""
    name, kind = short(body.seen.name, 14), short(body.seen.kind)
    inside = _inside(body, name, kind, pins)
    free = sum(crowd.cost(word.box, body.seen.name) for word in inside) < _CROWDED
    words = inside if inside and free else best_words(crowd, _near(body, name, kind))
    settle(crowd, words, body.seen.name)
    return words


def _near(body: Body, name: str, kind: str) -> list[tuple[tuple[Words, ...], float]]:
    one_line = round_box(body.box, ((f"{name} {kind}".strip(), 9.0, True),))
    two_lines = round_box(body.box, ((name, 10.0, True), (kind, 8.0, False))) if kind else []
    if body.seen.package is not None and body.seen.package.form == "dip":
        one_line = [(words, dislike + 6 * (words[0].anchor != "middle")) for words, dislike in one_line]
        two_lines = [(words, dislike + 6) for words, dislike in two_lines]
    return [*one_line, *((words, dislike + 0.3) for words, dislike in two_lines)]


def _inside(body: Body, name: str, kind: str, pins: Sequence[Words]) -> tuple[Words, ...]:
    box = body.box
    wide, high = box.right - box.left, box.bottom - box.top
    turned = high > wide * 1.05
    length, depth = (high, wide) if turned else (wide, high)
    text = f"{name} {kind}".strip()
    form = body.seen.package.form if body.seen.package is not None else ""
    middle = box.middle
    package = body.seen.package.name if body.seen.package is not None else ""
    if form == "dip" and package not in ("7SEG-10", "BAR-20") and body.mark != "?":
        taken = [word.box for word in pins]
        free = box
        if turned:
            left = max((b.right for b in taken if b.middle[0] < middle[0]), default=box.left)
            right = min((b.left for b in taken if b.middle[0] >= middle[0]), default=box.right)
            free = Box(left, box.top, right, box.bottom)
        depth = free.right - free.left if turned else 0.0
        size = min(10.0, depth - 3, (length - 26) / (len(text) * CHARACTER))
        return (Words(free.middle[0], middle[1] + 3, text, size, turned=True, bold=True, halo=False),) if size >= 7.0 else ()
    if package in ("LED-5mm", "LED-3mm", "PHOTO-5mm", "RADIAL-ELECTROLYTIC") and body.mark != "?":
        return _inside_round(body, name, kind)
    if not package.startswith("AXIAL") or body.lie is None or body.lie.upright or not _is_level(body.lie):
        return ()
    size = min(9.0, (length - 6) / (len(text) * CHARACTER), depth - 5)
    return (Words(*middle, text, size, turned=turned, bold=True, halo=False),) if size >= 7.0 else ()


def _is_level(lie: Lie) -> bool:
    """True for a body along a row or a column."""
    return min(abs(lie.frame.along[0]), abs(lie.frame.along[1])) < 0.05


def _inside_round(body: Body, name: str, kind: str) -> tuple[Words, ...]:
    """Name and value in two lines within a round body that is wide enough, clear of its legs."""
    x, y = body.box.middle
    room = (body.box.right - body.box.left) * 0.74
    size, small = (room / (max(1, len(text)) * CHARACTER) for text in (name, kind))
    legs = [place for place in body.places if abs(place[0] - x) < room / 2 and abs(place[1] - y) < 14]
    if min(size, small) < 6.0 or legs or not kind:
        return ()
    return (Words(x, y - 5, name, min(9.5, size), bold=True, halo=False), Words(x, y + 5, kind, min(8.0, small), halo=False))
