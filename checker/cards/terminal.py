"""A card, a listing and the families as text for people, without colour, within the width of the page.

Input: the value and a page. Output: text. Control characters that a kit may hold are made visible.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from textwrap import wrap

from checker.cards.card import Card, OtherOrder, Pin
from checker.cards.listing import Families, Listing
from checker.cards.rating import Rating
from checker.cards.words import fact_in_words
from checker.report.page import Page
from checker.report.words import visible

_INDENT = "   "
_WIDEST = 96
_SHORTEST_COLUMN = 20


def card_in_words(card: Card, page: Page) -> str:
    """The whole card."""
    width = min(page.width, _WIDEST)
    blocks = [_head(card, width), *(f"{title}\n" + "\n".join(lines) for title, lines in _sections(card, width) if lines)]
    return visible("\n\n".join(blocks)) + "\n"


def _head(card: Card, width: int) -> str:
    lines = [card.name, "=" * len(card.name), *wrap(card.says, width)]
    if card.also_called:
        lines += wrap("also called " + ", ".join(card.also_called), width, break_on_hyphens=False)
    lines += ["", *wrap(f"{card.package}: {card.package_says}", width), *wrap(card.seen[:1].upper() + card.seen[1:], width)]
    return "\n".join([*lines, "", *(f"{_INDENT}{line}" for line in card.drawing)])


def _sections(card: Card, width: int) -> Iterator[tuple[str, list[str]]]:
    yield "Marks", _items((mark.says for mark in card.marks), width)
    yield "Other names for its pins", _items(_names(card.pins), width)
    yield "Joined inside", _items(card.joins, width)
    yield "Limits", _table([row for row in card.ratings if row.limit], width)
    yield "What to expect", _table([row for row in card.ratings if not row.limit], width)
    yield "Also sold in another order", [line for order in card.other_orders for line in _order(order, width)]
    yield "Take care", _items(card.cautions, width)
    yield "Where this is from", _items(_origins(card), width)


def _names(pins: Sequence[Pin]) -> Iterator[str]:
    for pin in pins:
        if pin.also:
            yield f"{pin.name}: {', '.join(pin.also)}"


def _order(order: OtherOrder, width: int) -> list[str]:
    legs = ", ".join(f"{number} {name}" for number, name in enumerate(order.pins, 1))
    return [*_items([legs], width), *_items([f"marked: {order.marked}"] if order.marked else [], width, _INDENT * 2),
            *_items([f"to tell: {order.tell}"] if order.tell else [], width, _INDENT * 2)]


def _origins(card: Card) -> Iterator[str]:
    for origin in card.sources:
        yield f"{origin.document}: {_facts(card, origin.facts)}"
    if card.from_memory:
        yield f"from memory, so to be doubted first: {_facts(card, card.from_memory)}"


def _facts(card: Card, facts: Iterable[str]) -> str:
    return "; ".join(dict.fromkeys(fact_in_words(fact, card.kind) for fact in facts))


def _items(texts: Iterable[str], width: int, indent: str = _INDENT) -> list[str]:
    return [line for text in texts
            for line in wrap(text, width, initial_indent=indent, subsequent_indent=indent + "  ", break_on_hyphens=False)]


def _table(rows: Sequence[Rating], width: int) -> list[str]:
    """Words at the left, values in a column at the right; words too long for theirs are wrapped."""
    if not rows:
        return []
    values = min(max(len(row.said) for row in rows), width // 2)
    room = max(width - values - len(_INDENT) - 2, _SHORTEST_COLUMN)
    column = min(max(len(row.what) for row in rows), room)
    lines = []
    for row in rows:
        words = wrap(row.what, column, subsequent_indent="  ", break_on_hyphens=False)
        lines += [f"{_INDENT}{line}" for line in words[:-1]]
        lines.append(f"{_INDENT}{words[-1]:{column}}  {row.said}")
    return lines


def listing_in_words(listing: Listing, page: Page) -> str:
    """One line a part, cut to the width, and how many there are."""
    width = max((len(line.name) for line in listing.parts), default=0) + 2
    lines = [_cut(f"{line.name:{width}}{line.says}", page.width) for line in listing.parts]
    return visible("\n".join([*lines, "", _count(listing)])) + "\n"


def _count(listing: Listing) -> str:
    shown = len(listing.parts)
    if shown < listing.count:
        return f"{listing.count} parts, the first {shown} of them shown; one more word narrows them down"
    return f"{listing.count} part{'s' * (listing.count != 1)}; legwise part NAME shows one"


def families_in_words(found: Families, page: Page) -> str:
    """One line a family: what a search finds it by, its count, a few of its parts."""
    width = max((len(each.kind) for each in found.families), default=0) + 2
    digits = len(str(found.count))
    lines = [_cut(f"{each.kind:{width}}{each.count:{digits}}  {each.family}: {', '.join(each.such_as)}", page.width)
             for each in found.families]
    end = f"{found.count} parts; legwise parts WORDS finds some, legwise part NAME shows one"
    return visible("\n".join([*lines, "", end])) + "\n"


def _cut(line: str, width: int) -> str:
    return line if len(line) <= width else line[: width - 1].rstrip() + "…"
