"""Finds a part by what people write: ``l7805``, ``2222``, ``BC547B``, ``74hc595n``, ``1n4007-t``.

Input: a word. Output: a ``Match``: exactly one entry, several that it could be, or none with near misses. Case, spaces and
hyphens never matter. A maker's prefix and a package's or gain group's suffix may be missing or too many; every such step
away from the entry's own name costs, and only the entries at the lowest cost are taken. Two at the same cost are two
answers: the caller asks.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from functools import cached_property

from msgspec import Struct

from grammar.suggestions import nearest
from parts_library.schema import AnyEntry, Bipolar, Chip, Diode, Jfet, Mosfet, Regulator, Thyristor, Zener


class Match(Struct, frozen=True):
    """What a word names. ``exact`` says that it is the name or an alias of each of ``entries`` as written; ``near`` are
    names of entries that are spelled alike, when nothing was found."""

    entries: tuple[AnyEntry, ...] = ()
    exact: bool = False
    near: tuple[str, ...] = ()

    @property
    def entry(self) -> AnyEntry | None:
        """The entry, if it is exactly one."""
        return self.entries[0] if len(self.entries) == 1 else None


# Letters that makers of chips put before the same number; common practice, no source. CMOS versions of bipolar chips
# (TLC555, LMC555) are other parts, and their letters are not among these.
_MAKERS = ("LM", "L", "UA", "MC", "SN", "NE", "SE", "SA", "NA", "KA", "CD", "HEF", "HCF", "MM", "DM", "M", "TC", "CA",
           "NJM", "UPC", "RC", "ULN", "ULQ", "MCP", "PC", "DS", "ATMEGA")
# Those of them that stand before the numbers of the 4000 and 74 series. An LM4040 is a reference and no counter: no maker ever
# put LM before a CMOS number.
_LOGIC_MAKERS = ("CD", "HEF", "HCF", "MC", "MM", "M", "TC", "SN", "DM")
_LOGIC_NUMBER = re.compile(r"(?:CD)?4\d{3,4}[A-Z]*|74[A-Z]*\d+[A-Z]*")
_FAMILY_NUMBER = re.compile(r"74([A-Z]+)(\d+)")
# Letters before the number of a transistor or diode that are left out in speech, or not printed on the part.
_DISCRETE = ("P2N", "2N", "1N", "2S", "PN", "MPS", "KSP", "BC", "B", "SS", "S", "MPSA", "FQP", "RFP")

_CHIP_SUFFIXES = ("N", "P", "A", "E", "T", "AN", "BN", "CN", "AP", "BP", "CP", "CT", "CV", "CDIP", "PG", "EN", "PE", "NE",
                  "PU", "TG", "BTG", "CTG", "ANG", "NG", "AE", "BE", "TU", "TV", "NT", "IP", "DIP", "ACP", "ACN", "BEY",
                  "NOPB", "CNNOPB", "NNOPB", "B1", "B1R")
_TRANSISTOR_SUFFIXES = ("A", "B", "C", "Y", "GR", "O", "BL", "P", "L", "H", "16", "25", "40", "TA", "BTA", "CTA", "TF",
                        "TAR", "BU", "G", "BK", "RLRA", "RLRAG", "ZL1G")
_DIODE_SUFFIXES = ("T", "TR", "TP", "TA", "RL", "RLG", "G", "E3", "A", "AT", "ATR")
_MOSFET_SUFFIXES = ("PBF", "TA", "G", "BU")
_OWN_SUFFIXES = ("A", "N", "P")
"""What people leave off an entry's own name: ``2N2222`` for 2N2222A, ``L298`` for L298N."""

_SHORTEST = 3
"""No core shorter than this is a part number: ``L293D`` is not found by ``93``."""


class Index:
    """The entries by all their spellings. Made once a library."""

    def __init__(self, entries: Iterable[AnyEntry]) -> None:
        self._names: dict[str, list[str]] = {}
        self._entries = tuple(entries)
        for entry in self._entries:
            for name in (entry.name, *entry.aliases):
                self._names.setdefault(name, []).append(entry.name)

    @cached_property
    def _written_out(self) -> dict[str, list[_Spelling]]:
        return _by_key(spelling for entry in self._entries for spelling in _written_out(entry))

    @cached_property
    def _spellings(self) -> dict[str, list[_Spelling]]:
        """All of them; a list whose parts are written out does without."""
        return _by_key(spelling for entry in self._entries for spelling in (*_written_out(entry), *_shortened(entry)))

    def find(self, text: str) -> Match:
        """The entries that ``text`` names at the lowest cost, or near misses."""
        match = self.match(text)
        return match if match.entries else Match(near=self._near(text))

    def match(self, text: str) -> Match:
        """As ``find``, without the search for near misses."""
        costs: dict[str, tuple[int, AnyEntry]] = {}
        for key, prefix, suffix in _forms_of(squeezed(text)):
            for spelling in self._spellings.get(key, ()):
                if not _goes_together(spelling, prefix, suffix):
                    continue
                cost = spelling.cost + 2 * bool(prefix) + 2 * bool(suffix)
                known = costs.get(spelling.entry.name)
                if known is None or cost < known[0]:
                    costs[spelling.entry.name] = (cost, spelling.entry)
        return _cheapest(text, costs) if costs else Match()

    def exactly(self, text: str) -> tuple[AnyEntry, ...]:
        """The entries of which ``text`` is the name or an alias, but for case, spaces and hyphens."""
        exact = self._written_out.get(squeezed(text), ())
        named = [spelling.entry for spelling in exact if spelling.cost == 0]
        return tuple(named or {spelling.entry.name: spelling.entry for spelling in exact}.values())

    def described(self, word: str) -> tuple[AnyEntry, ...]:
        """The entries of which a single word in lower case is part of the description: ``red``, ``active``."""
        return self._by_word.get(word, ())

    @cached_property
    def _by_word(self) -> dict[str, tuple[AnyEntry, ...]]:
        found: dict[str, list[AnyEntry]] = {}
        for entry in self._entries:
            for word in descriptors(entry):
                found.setdefault(word, []).append(entry)
        return {word: tuple(entries) for word, entries in found.items()}

    def _near(self, text: str) -> tuple[str, ...]:
        return tuple(dict.fromkeys(name for near in nearest(text, tuple(self._names)) for name in self._names[near]))[:3]


class _Spelling(Struct, frozen=True):
    """A key under which an entry is found; ``prefix`` and ``suffix`` are what was taken off its name for it."""

    key: str
    entry: AnyEntry
    cost: int
    prefix: str = ""
    suffix: str = ""


def descriptors(entry: AnyEntry) -> frozenset[str]:
    """The single words that describe an entry: those of its name and aliases, its colour, type, use and polarity."""
    words: set[str] = set()
    for name in (entry.name, *entry.aliases):
        lowered = name.lower()
        words.update((lowered, *lowered.split(), *lowered.replace("-", " ").split()))
    words |= {str(getattr(entry, field)).lower() for field in ("colour", "type", "use", "polarity", "chemistry")
              if hasattr(entry, field)}
    if isinstance(entry, Regulator):
        words |= {"regulator", "voltage-regulator", "ldo"}
    return frozenset(words)


# The sign for micro, which is printed as the first letter of UA741; both of its code points have one capital letter.
_GREEK = {0x39C: "U"}


def squeezed(text: str) -> str:
    """The word in capitals without spaces, hyphens and the like: the key that all comparisons use. A decimal point stays:
    a zener diode for 2.4 V is none for 24 V."""
    capitals = text.upper()
    if capitals.isalnum() and capitals.isascii():
        return capitals  # as most part numbers are
    pointed = re.sub(r"(?<=\d)[.,](?=\d)", ".", capitals)
    return re.sub(r"(?<!\d)\.|\.(?!\d)|[^0-9A-Z+.]", "", pointed.translate(_GREEK))


def _cheapest(text: str, costs: dict[str, tuple[int, AnyEntry]]) -> Match:
    lowest = min(cost for cost, _ in costs.values())
    # A bare number leaves the maker's letters open: every part of that number is meant, unless it is a name in full.
    spoken = lowest > 0 and squeezed(text).isdigit()
    taken = tuple(entry for cost, entry in costs.values() if cost == lowest or spoken)
    return Match(taken, exact=lowest <= 1)


def _by_key(spellings: Iterable[_Spelling]) -> dict[str, list[_Spelling]]:
    found: dict[str, list[_Spelling]] = {}
    for spelling in spellings:
        found.setdefault(spelling.key, []).append(spelling)
    return found


def _written_out(entry: AnyEntry) -> Iterator[_Spelling]:
    """Name and aliases as they are."""
    yield _Spelling(squeezed(entry.name), entry, 0)
    for alias in entry.aliases:
        yield _Spelling(squeezed(alias), entry, 1)


def _shortened(entry: AnyEntry) -> Iterator[_Spelling]:
    """A part number without a maker's letters, without a suffix, without both; a logic chip without the 74 or without the
    letters of its family, which leaves the family open."""
    name = squeezed(entry.name)
    if isinstance(entry, Chip) and (parts := _FAMILY_NUMBER.fullmatch(name)):
        yield _Spelling(name[2:], entry, 2, "74")
        yield _Spelling(f"74{parts[2]}", entry, 4, "74")
    if not re.search(r"\d", name) or not isinstance(entry, (Chip, Regulator, Bipolar, Mosfet, Jfet, Thyristor, Diode, Zener)):
        return
    chip = isinstance(entry, (Chip, Regulator))
    prefixes = ("", *(letters for letters in (_MAKERS if chip else _DISCRETE) if name.startswith(letters)))
    own = (*_OWN_SUFFIXES, "B") if isinstance(entry, Zener) else _OWN_SUFFIXES
    suffixes = ("", *(letters for letters in own if name.endswith(letters) and not isinstance(entry, Mosfet)))
    for prefix in prefixes:
        for suffix in suffixes:
            core = name[len(prefix):len(name) - len(suffix)]
            if (prefix or suffix) and len(core) >= _SHORTEST and re.search(r"\d", core):
                yield _Spelling(core, entry, 2 * bool(prefix) + 2 * bool(suffix), prefix, suffix)


def _forms_of(key: str) -> Iterator[tuple[str, str, str]]:
    """The key as written and with a maker's letters, a suffix or both taken off: (core, prefix, suffix)."""
    yield key, "", ""
    if not re.search(r"\d", key):
        return
    prefixes = ("", *(letters for letters in _MAKERS if key.startswith(letters)))
    every = dict.fromkeys(_CHIP_SUFFIXES + _TRANSISTOR_SUFFIXES + _DIODE_SUFFIXES + _MOSFET_SUFFIXES)
    suffixes = ("", *(letters for letters in every if key.endswith(letters)))
    for prefix in prefixes:
        for suffix in suffixes:
            core = key[len(prefix):len(key) - len(suffix)]
            if (prefix or suffix) and len(core) >= _SHORTEST and re.search(r"\d", core):
                yield core, prefix, suffix


def _goes_together(spelling: _Spelling, prefix: str, suffix: str) -> bool:
    """Whether what was taken off the word may be taken off for this entry: its own kind of letters, one side at a time."""
    if suffix and (spelling.suffix or suffix not in _suffixes_for(spelling.entry)):
        return False
    if not prefix:
        return True
    if _LOGIC_NUMBER.fullmatch(spelling.entry.name) and prefix not in _LOGIC_MAKERS:
        return False
    return isinstance(spelling.entry, (Chip, Regulator)) and spelling.prefix in ("", "74", *_MAKERS)


def _suffixes_for(entry: AnyEntry) -> tuple[str, ...]:
    if isinstance(entry, (Chip, Regulator)):
        return _CHIP_SUFFIXES
    if isinstance(entry, Bipolar):
        return _TRANSISTOR_SUFFIXES
    if isinstance(entry, (Diode, Zener)):
        return _DIODE_SUFFIXES
    return _MOSFET_SUFFIXES if isinstance(entry, Mosfet) else ()
