"""From lark's syntax error to the row of the table that names it, with the nearest right spelling where there is one.

Input: the error and the tidy line. Output: an ``Unreadable``. The label follows from what could have come next; a
misspelt keyword is looked for at the first word of the line, at the word that does not fit, and at the one before it.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any

from grammar.points import Unreadable
from grammar.problems import row_for
from grammar.suggestions import correction
from grammar.ways_out import way_out

if TYPE_CHECKING:
    from lark import Token, Tree
    from lark.exceptions import UnexpectedInput

STATEMENTS = ("title", "by", "board", "supply", "part", "wire", "power", "pin", "keep", "expect")
_MORE_STATEMENTS = ("battery", "source", "jumper", "connect")

# The words that a terminal stands for, as far as they are worth suggesting.
_WORDS_OF = {
    terminal: tuple(words.split())
    for terminal, words in {
        "_IN": "in between",
        "_ACROSS": "across",
        "TURNED": "turned",
        "_AS": "as",
        "MEASURED": "measured",
        "MARK": "band stripe long short plus minus anode cathode dot notch flat tab front",
        "_AT": "faces facing toward",
        "SIDE": "left right top bottom",
        "COLUMN": "column",
        "ROW": "row",
        "_BANDS": "bands",
        "_CODE": "code",
        "COLOUR": "black brown red orange yellow green blue violet grey white gold silver",
        "LIMIT": "limit",
        "_ON": "on",
        "SIZE": "mini half full",
        "RAILS": "split joined",
        "_TO": "to",
        "WAY": "usb vin off",
        "ROLE": "output pwm input pullup analog bus high low unused",
        "_APART": "apart",
        "_APART_END": "apart",
        "STATE_VERB": "lit dark on off runs stopped high low",
        "BOUND_VERB": "carries drops dissipates at",
        "_UNDER": "under",
        "_OVER": "over",
        "_ABOUT": "about",
        "_BETWEEN": "between",
        "_WHEN": "when",
    }.items()
}
_CLAUSES = ("flat", "tab", "front", "band", "notch", "across", "in")
_AFTER_A_MARK = ("face", "faces", "facing", "toward", "towards", "row", "column")
_PIN_AND_ROLE = re.compile(
    rf"\s*(?P<name>[a-z]\w*)(?:\.|\s+pin\s+)(?P<pin>\w+):?\s+(?:(?:is|as)\s+)?(?:an?\s+)?(?:{'|'.join(_WORDS_OF['ROLE'])})\b",
    re.IGNORECASE,
)
_LEADS_FROM = re.compile(r"\s*(?P<word>from)\s.*\s(?:to|into|->)\s", re.IGNORECASE)
_RUN = r"([a-j])(\d{1,2})\.\.+([a-j])(\d{1,2})"
_RUNS_OF_HOLES = re.compile(rf"{_RUN}(?:[\s,]+(?:and\s+)?{_RUN})*", re.IGNORECASE)
_ROW = re.compile(r"rows?\s+(\d+)", re.IGNORECASE)
_WORD = re.compile(r"[^\s,()]+")


def explain(error: UnexpectedInput, plain: str) -> Unreadable:
    """The Unreadable for a syntax error in a tidy line."""
    could_follow = _could_follow(error)
    start, end = _place(error, plain)
    found = plain[start:end]
    if misspelt := _misspelt_statement(plain, start):
        return misspelt
    if pin := _PIN_AND_ROLE.match(plain):
        fills = {"word": "pin", "what": "says what the program does", "suggestion": f"pin {pin['name']}.{pin['pin']}"}
        return Unreadable("first-word-missing", pin.start("name"), pin.end("pin"), **fills)
    if leads := _LEADS_FROM.match(plain):
        return Unreadable("first-word-missing", *leads.span("word"), suggestion="wire from", word="wire",
                          what="joins two points")
    if runs := _RUNS_OF_HOLES.match(plain, start):
        holes = " ".join(f"{column}{row}" for column, row in _holes_of(runs[0]))
        return Unreadable("hole-astray", start, runs.end(), suggestion=holes)
    label = _label(could_follow, found)
    if told := way_out(plain, start, end, label):
        return told
    if misspelt := _misspelt_word(found, start, could_follow):
        return misspelt
    before = _word_before(plain, start)
    if before and found.lower() in _AFTER_A_MARK and (near := correction(before[0], _CLAUSES)):
        return Unreadable("misspelt", before.start(), before.end(), suggestion=near)
    if before and start == end and (misspelt := _misspelt_word(before[0], before.start(), could_follow)):
        return misspelt
    if label == "statement-unknown":
        start, end = _first_word(plain)
        return Unreadable(label, start, end, suggestion=_with_a_keyword(plain, plain[start:end].rstrip(":")))
    if label == "not-understood" and found.lower() in ("row", "rows", "column", "columns"):
        label = "hole-astray"
    if label == "hole-without-column" and (row := _ROW.match(plain, start)):
        start, end = row.span(1)
    return Unreadable(label, start, end, before=before[0] if before else "")


def _holes_of(runs: str) -> list[tuple[str, int]]:
    """``e10..e13 f13..f10`` hole by hole; a run along a row goes from column to column."""
    holes: list[tuple[str, int]] = []
    for column, row, last_column, last_row in re.findall(_RUN, runs.lower()):
        along = 1 if int(last_row) >= int(row) else -1
        across = 1 if last_column >= column else -1
        holes += [(chr(c), r) for c in range(ord(column), ord(last_column) + across, across)
                  for r in range(int(row), int(last_row) + along, along)]
    return holes


def _with_a_keyword(plain: str, word: str) -> str | None:
    """``BAT 9V on L+ L-`` lacks ``supply``, ``PUMP motor 9V`` lacks ``part``: names are written in capitals."""
    if not re.fullmatch(r"[A-Z][A-Z0-9_-]+", word) or not plain.split()[1:]:
        return None
    if re.search(r"\b(should|must|when|if|while)\b", plain):
        return f"expect {word}"
    feeds = re.search(r"\d\s*V\b", plain) and re.search(r"\b[LR][+-]|\brails?\b", plain)
    return f"supply {word}" if feeds else f"part {word}"


def misspelt_keyword(tree: Tree[Token], plain: str) -> Unreadable | None:
    """The misspelt keyword of a line that was read as a part only because its first word is unknown (``prt Q1 …``)."""
    statement = tree.children[0]
    if isinstance(statement, str) or statement.data != "kind_first":
        return None
    return _misspelt_statement(plain, len(plain))


def _could_follow(error: Any) -> frozenset[str]:
    allowed = getattr(error, "accepts", None) or getattr(error, "expected", None) or getattr(error, "allowed", None)
    return frozenset(allowed or ())


def _place(error: Any, plain: str) -> tuple[int, int]:
    """The word at which the error is, or the place after the last word."""
    start = error.pos_in_stream
    token = getattr(error, "token", None)
    if start is None or start < 0 or (token is not None and token.type == "$END") or not plain[start:].strip(" ,()"):
        end = len(plain.rstrip())
        return end, end
    match = _WORD.search(plain, start)
    return (match.start(), match.end()) if match else (start, start + 1)


def _first_word(plain: str) -> tuple[int, int]:
    match = _WORD.search(plain)
    return match.span() if match else (0, len(plain.rstrip()))


def _word_before(plain: str, start: int) -> re.Match[str] | None:
    words = list(_WORD.finditer(plain, 0, start))
    return words[-1] if words else None


def _misspelt_statement(plain: str, error_at: int) -> Unreadable | None:
    start, end = _first_word(plain)
    word = plain[start:end].rstrip(":")
    if word.lower() in STATEMENTS + _MORE_STATEMENTS or error_at < start or not word.isalpha():
        return None
    near = correction(word, STATEMENTS + _MORE_STATEMENTS)
    return Unreadable("misspelt", start, start + len(word), suggestion=near) if near and len(word) > 2 else None


def _misspelt_word(found: str, start: int, could_follow: frozenset[str]) -> Unreadable | None:
    if not found.isalpha() or len(found) < 3 or found.lower() in ("and", "the", "with") or "DESIGNATOR" in could_follow:
        return None
    words = [word for terminal, words in _WORDS_OF.items() if terminal in could_follow for word in words]
    if found.lower() in words:
        return None
    near = correction(found, words)
    return Unreadable("misspelt", start, start + len(found), suggestion=near) if near else None


def _label(could_follow: frozenset[str], found: str) -> str:
    label = row_for(could_follow)
    if label == "point-expected" and found.lower() in ("row", "rows"):
        return "hole-without-column"
    if label != "point-expected":
        return label
    if re.fullmatch(r"\d+", found):
        return "hole-without-column"
    if re.fullmatch(r"[k-z]-?\d+|\d+-?[k-z]", found, re.IGNORECASE):
        return "column-unknown"
    return label
