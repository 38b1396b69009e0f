"""What stands on a card: ratings in words, pins, other orders, sources; and what a search finds."""

from __future__ import annotations

from pathlib import Path
from types import UnionType
from typing import Any, get_args, get_type_hints

import msgspec
import pytest

from checker.cards import Card, Families, Listing, card_in_words, card_of, families, families_in_words, listing_in_words, search
from checker.cards.ratings import EVERY, FIELDS
from checker.cards.records import pins_in_words
from checker.cards.words import KIND_WORDS, PIN_WORDS, kind_of
from checker.report.page import Page
from parts_library import load_library, pin_named
from parts_library.schema import AnyEntry, Entry, Level, UnitFloat

LIBRARY = load_library()
CARDS = {name: card_of(entry, LIBRARY) for name, entry in LIBRARY.entries.items()}
WIDTHS = (60, 80, 120)
PRINTED = {"ohm": "Ω", "K/W": "°C", "degC": "°C"}


def is_quantity(hint: Any) -> bool:
    """True for a field that is one quantity, or none where it is not known."""
    kinds = get_args(hint) if isinstance(hint, UnionType) or get_args(hint) else (hint,)
    return any(isinstance(kind, type) and issubclass(kind, UnitFloat | Level) for kind in kinds)


@pytest.mark.parametrize("kind", get_args(AnyEntry), ids=lambda kind: str(kind.__name__))
def test_every_quantity_of_the_schema_has_words(kind: type[Entry]) -> None:
    quantities = {field for field, hint in get_type_hints(kind).items() if is_quantity(hint)}

    assert quantities == {field for field, *_ in (*FIELDS[kind], *EVERY)}
    assert kind_of(kind) in KIND_WORDS


@pytest.mark.parametrize(
    ("name", "what", "said", "limit"),
    [
        # PN2222A/MMBT2222A/PZT2222A, Fairchild Semiconductor, Rev. 1.0.0: V(CEO) 40 V, V(EBO) 6 V, P(D) 625 mW
        ("PN2222A", "collector to emitter, base open", "40 V", True),
        ("PN2222A", "emitter to base, backwards", "6 V", True),
        ("PN2222A", "power it may shed at 25 °C around it", "625 mW", True),
        ("PN2222A", "current gain at 150 mA", "100 to 300", False),
        # NE555, Diodes Incorporated: 4.5 V to 16 V
        ("NE555", "supply voltage in which it works", "4.5 V to 16 V", False),
        # from memory, as the data say
        ("led red", "reverse voltage", "5 V", True),
        ("led red", "forward voltage at 20 mA", "2 V, at most 2.5 V", False),
        ("controller-5v", "current of a pin", "40 mA", True),
        ("controller-5v", "voltage that VIN takes", "7 V to 12 V", False),
        ("controller-5v", "read as low up to", "30 % of the supply", False),
        ("electrolytic", "voltage the wrong way round", "1 V", True),
        ("L293D", "current of OUT1…OUT4", "1.2 A", True),
        # of a chip with two supplies the pin is named: VCC1 is the logic's (SLRS008, Texas Instruments)
        ("L293D", "supply voltage at VCC1 in which it works", "4.5 V to 7 V", False),
    ],
)
def test_a_rating_is_said_in_words_with_its_unit(name: str, what: str, said: str, limit: bool) -> None:
    assert (said, limit) in [(row.said, row.limit) for row in CARDS[name].ratings if row.what == what]


def test_every_number_on_a_card_has_its_unit_and_limits_come_first() -> None:
    rows = [(name, row) for name, card in CARDS.items() for row in card.ratings]
    order = {name: [row.limit for row in card.ratings] for name, card in CARDS.items()}

    assert [] == [(name, row) for name, row in rows if PRINTED.get(row.unit, row.unit) not in row.said]
    assert [] == [(name, row) for name, row in rows if not row.said or not row.what]
    assert [] == [name for name, limits in order.items() if sorted(limits, reverse=True) != limits]


def test_every_card_comes_back_from_json_as_it_was() -> None:
    back = {name: msgspec.json.decode(msgspec.json.encode(card), type=Card) for name, card in CARDS.items()}

    assert [] == [name for name in CARDS if CARDS[name] != back[name]]


def test_listings_and_families_come_back_from_json_as_they_were() -> None:
    listing, found = search(LIBRARY, "relay"), families(LIBRARY)

    assert listing == msgspec.json.decode(msgspec.json.encode(listing), type=Listing)
    assert found == msgspec.json.decode(msgspec.json.encode(found), type=Families)


def test_the_words_for_a_pin_are_spellings_that_a_list_may_use() -> None:
    said = [(entry, pin, word) for name, entry in LIBRARY.entries.items()
            for pin, word in PIN_WORDS.get(CARDS[name].kind, {}).items() if pin in entry.pins]

    assert said
    assert [] == [(entry.name, pin, word) for entry, pin, word in said if pin_named(entry, word) != pin]
    assert [] == [name for name, card in CARDS.items() if tuple(pin.name for pin in card.pins) != LIBRARY.entries[name].pins]


@pytest.mark.parametrize("width", WIDTHS)
@pytest.mark.parametrize("name", ["PN2222A", "2N2222A", "NE555", "controller-5v", "led-bar", "relay", "character-display"])
def test_a_card_keeps_to_the_width_of_the_page_without_colour(name: str, width: int) -> None:
    text = card_in_words(CARDS[name], Page(width=width))

    assert max(map(len, text.splitlines())) <= width
    assert "\x1b" not in text


@pytest.mark.parametrize("name", [name for name, entry in LIBRARY.entries.items() if entry.other_orders])
def test_every_other_order_is_shown_with_its_marking_and_how_to_tell(name: str) -> None:
    words = " ".join(card_in_words(CARDS[name], Page(width=80)).split())

    for order in LIBRARY.entries[name].other_orders:
        assert ", ".join(f"{number} {pin}" for number, pin in enumerate(order.pins, 1)) in words
        assert " ".join(order.marked.split()) in words
        assert " ".join(order.tell.split()) in words


def test_every_card_says_where_its_facts_are_from_and_what_to_take_care_of() -> None:
    words = {name: " ".join(card_in_words(card, Page(width=80)).split()) for name, card in CARDS.items()}
    wanted = [(name, text) for name, entry in LIBRARY.entries.items()
              for text in (*entry.cautions, *(f"{source.title}, {source.maker}" for source in entry.sources))]
    memory = {name for name, text in words.items() if "from memory, so to be doubted first: " in text}

    assert [] == [(name, text) for name, text in wanted if " ".join(text.split()) not in words[name]]
    assert memory == {name for name, entry in LIBRARY.entries.items() if entry.from_memory}


@pytest.mark.parametrize(
    ("pins", "said"),
    [
        (("IN1", "IN2", "IN3", "IN4", "EN1"), "IN1…IN4, EN1"),
        (("1A", "2A", "3A"), "1A…3A"),
        (("Q0", "Q1"), "Q0, Q1"),
        (("A1", "B2", "A3"), "A1, B2, A3"),
        (("SDA",), "SDA"),
    ],
)
def test_pins_that_are_numbered_on_are_named_as_the_first_and_the_last(pins: tuple[str, ...], said: str) -> None:
    assert said == pins_in_words(pins)


@pytest.mark.parametrize(
    ("words", "first", "has", "has_not"),
    [
        ("2222", "PN2222A", "P2N2222A", "PN2907A"),
        ("npn darlington", "MPSA13", "TIP120", "BC516"),
        ("NPN Darlington", "MPSA13", "TIP120", "BC516"),
        ("leds", "led", "led red", "PN2222A"),
        ("relay 12", "relay-12v", "relay-12v", "relay-5v"),
        ("elco", "electrolytic", "electrolytic", "tantalum"),
        ("transistors", "npn", "TIP120", "resistor"),
    ],
)
def test_a_search_finds_by_name_alias_kind_and_description(words: str, first: str, has: str, has_not: str) -> None:
    names = [line.name for line in search(LIBRARY, words, most=1000).parts]

    assert first == names[0]
    assert has in names and has_not not in names


def test_a_long_listing_is_cut_and_says_how_many_there_are() -> None:
    listing = search(LIBRARY, "transistor", most=5)
    text = listing_in_words(listing, Page(width=60))

    assert (5, True) == (len(listing.parts), listing.count > 100)
    assert f"{listing.count} parts, the first 5 of them shown" in text
    assert max(map(len, text.splitlines()[:5])) <= 60


@pytest.mark.parametrize("words", ["xyzzy", "", "npn relay"])
def test_words_that_fit_nothing_find_nothing(words: str) -> None:
    assert (0, ()) == (search(LIBRARY, words).count, search(LIBRARY, words).parts)


def test_the_families_count_every_part_once() -> None:
    found = families(LIBRARY)
    text = families_in_words(found, Page(width=80))

    assert len(LIBRARY.entries) == found.count == sum(family.count for family in found.families)
    assert all(family.kind in text and str(family.count) in text for family in found.families)


KIT = """
[[part]]
kind = "bipolar"
name = "DRAWER1"
say = "NPN transistor from the drawer \\u001b[31mmeasured"
package = "TO-92"
pins = ["C", "B", "E"]
polarity = "npn"
vceo = "30V"
vebo = "5V"
ic = "200mA"
gain = [{ ic = "10mA", min = 100, typ = 150, max = 300 }]
from_memory = ["pins", "ratings", "model"]
"""


def test_a_part_of_a_kit_has_a_card_and_cannot_steer_the_terminal(tmp_path: Path) -> None:
    (tmp_path / "kit.toml").write_text(KIT, encoding="utf-8")
    library = load_library(tmp_path / "kit.toml")
    card = card_of(library.entries["DRAWER1"], library)
    text = card_in_words(card, Page(width=80))

    assert ["C", "B", "E"] == card.drawing[-1].split()
    assert "100 to 300, usually 150" in text
    assert "\x1b" not in text
