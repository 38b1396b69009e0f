"""What an editor asks about a list, answered: cards, completion, definitions, new names, fixes at a place.

Input: the text, the tree or the report of one list, and a place in it (line and column from 0, columns in characters).
Output: plain values. Nothing here knows the protocol that carries them.
"""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct

from checker.cards import card_in_words, card_of
from checker.editor.words import Found, uses_of, word_at
from checker.report.model import Edit, Finding, Report
from checker.report.page import Page
from grammar import read
from grammar.layout import laid_out
from grammar.syntax_tree import Part, Statement, Supply, WiringList
from parts_library import Library, identify, identify_supply
from parts_library.schema import AnyEntry, SupplyKind

__all__ = ["KEYWORDS", "MOST_KINDS", "Offer", "Place", "all_findings", "card_at", "completions_at", "definition_of", "fixes_at",
           "is_name", "laid_out", "uses_at"]

KEYWORDS = {
    "title": "what this is", "by": "whose it is", "board": "the breadboard: mini, half or full",
    "supply": "a source, plus first", "part": "a part, its holes, and what can be seen on it",
    "wire": "a jumper or a lead", "power": "how a controller is powered", "pin": "what the program does with a pin",
    "keep": "two sides that must not touch", "expect": "what must happen",
}
"""The words that a statement begins with, and what each says."""

CARD_WIDTH = 76


class Offer(Struct, frozen=True):
    """One completion: what is inserted, what it is, and whether it is a keyword, a part, a name or a pin."""

    text: str
    says: str
    kind: str


class Place(Struct, frozen=True):
    """A stretch of one line, columns from 0."""

    line: int
    start: int
    end: int


# ── findings and fixes ────────────────────────────────────────────────────────────────────────────────────────────


def all_findings(report: Report) -> Iterator[Finding]:
    """Every finding that is shown at a place of its own: causes, not what follows from them."""
    yield from report.findings


def fixes_at(report: Report, line: int) -> Iterator[tuple[Finding, str, tuple[Edit, ...]]]:
    """The checked fixes of the findings on a line, or whose fix changes it: finding, what the hand does, edits."""
    for finding in report.findings:
        for fix in finding.fixes:
            lines = {edit.line - 1 for edit in fix.edits}
            if fix.checked and (finding.span.line - 1 <= line <= finding.span.end_line - 1 or line in lines):
                yield finding, fix.say, fix.edits


# ── cards ─────────────────────────────────────────────────────────────────────────────────────────────────────────


def card_at(text: str, line: int, column: int, library: Library) -> tuple[str, Place] | None:
    """The card of the part whose name, kind or pin is at a place, and the place of that word; for a keyword what it says."""
    tree = read(text)
    word = word_at(tree.lines, line, column)
    if word is None:
        return None
    place = Place(word.line, word.start, word.end)
    if word.start == len(tree.lines[line]) - len(tree.lines[line].lstrip()) and word.text.lower() in KEYWORDS:
        return f"{word.text.lower()}: {KEYWORDS[word.text.lower()]}", place
    statement = _statement_of(tree, word)
    entry = _entry_of(statement, library) if statement is not None else None
    return (card_in_words(card_of(entry, library), Page(width=CARD_WIDTH)), place) if entry is not None else None


def _statement_of(tree: WiringList, word: Found) -> Part | Supply | None:
    """The part that a word names, or on whose line it is the kind."""
    named = _declared(tree)
    name = word.text.split(".")[0].lower()
    if name in named:
        return named[name]
    return next((s for s in named.values() if s.span.line == word.line + 1 and any(
        w.span.line == word.line + 1 and w.span.column - 1 <= word.start < w.span.end_column - 1 for w in s.words)), None)


def _declared(tree: WiringList) -> dict[str, Part | Supply]:
    return {s.name.text.lower(): s for s in tree.statements if isinstance(s, Part | Supply)}


def _entry_of(statement: Part | Supply, library: Library) -> AnyEntry | None:
    words = [word.text for word in statement.words]
    if isinstance(statement, Supply):
        return identify_supply(words, library=library).entry
    code = statement.code.text if statement.code is not None else None
    return identify(words, name=statement.name.text, bands=[band.text for band in statement.bands], code=code,
                    library=library).entry


# ── definitions and new names ─────────────────────────────────────────────────────────────────────────────────────


def definition_of(text: str, line: int, column: int) -> Place | None:
    """Where the part that is named at a place is declared: the place of its name."""
    tree = read(text)
    statement = _named_at(tree, line, column)
    if statement is None:
        return None
    span = statement.name.span
    return Place(span.line - 1, span.column - 1, span.end_column - 1)


def uses_at(text: str, line: int, column: int) -> list[Place]:
    """Every place where the part that is named at a place is named."""
    tree = read(text)
    statement = _named_at(tree, line, column)
    found = uses_of(tree.lines, statement.name.text) if statement is not None else []
    return [Place(word.line, word.start, word.end) for word in found]


def _named_at(tree: WiringList, line: int, column: int) -> Part | Supply | None:
    word = word_at(tree.lines, line, column)
    return _declared(tree).get(word.text.split(".")[0].lower()) if word is not None else None


def is_name(name: str) -> bool:
    """True for what can be the name of a part: the list ``part NAME 1k`` has it."""
    statements: tuple[Statement, ...] = read(f"part {name} 1k").statements
    return len(statements) == 1 and isinstance(statements[0], Part) and statements[0].name.text == name


# ── completion ────────────────────────────────────────────────────────────────────────────────────────────────────


def completions_at(text: str, line: int, column: int, library: Library) -> list[Offer]:
    """What can stand at a place: a keyword at the start of a line, a kind after the name of a part or supply, pins behind a dot,
    names of the list elsewhere."""
    tree = read(text)
    before = (tree.lines[line] if line < len(tree.lines) else "")[:column]
    if "#" in before:
        return []
    words = before.split()
    is_new = not before or before[-1].isspace()
    count = len(words) + is_new
    if count <= 1:
        return [Offer(word, says, "keyword") for word, says in KEYWORDS.items()]
    begun = "" if is_new else words[-1]
    if "." in begun:
        return _pins(tree, begun.split(".")[0].lower(), library)
    if words[0].lower() in ("part", "supply") and count == 3:
        return _kinds(library, begun, is_supply=words[0].lower() == "supply")
    return [Offer(statement.name.text, " ".join(word.text for word in statement.words), "name")
            for statement in _declared(tree).values() if words[0].lower() not in ("part", "supply", "board", "title", "by")]


def _pins(tree: WiringList, name: str, library: Library) -> list[Offer]:
    statement = _declared(tree).get(name)
    entry = _entry_of(statement, library) if statement is not None else None
    return [Offer(pin, f"of {statement.name.text}", "pin") for pin in entry.pins] if entry is not None and statement else []


MOST_KINDS = 200


def _kinds(library: Library, begun: str, is_supply: bool) -> list[Offer]:
    """Kinds and part numbers that begin as what is typed."""
    begin = begun.lower()
    fitting = [entry for entry in library.entries.values()
               if isinstance(entry, SupplyKind) == is_supply and entry.name.lower().startswith(begin)]
    return [Offer(entry.name, entry.say, "part") for entry in fitting[:MOST_KINDS]]
