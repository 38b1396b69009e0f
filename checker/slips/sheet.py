"""The build sheet as a page to print and tick off, and as JSON.

Input: a Sheet. Output: text. The page has no colour and needs no more than its width: it is for paper beside the board.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from typing import Any

import msgspec

from checker.report.page import Page
from checker.report.prose import prose, prose_width
from checker.report.words import SAFETY, about
from checker.sentences.words import HOTTER_THAN_ANY, listed
from checker.slips.model import Destructive, Entry, Sheet
from grammar import show_quantity

_TITLE = "WHERE TO LOOK TWICE"
_BOX, _HANG = "[ ] ", "    "
_MOST_OTHERS, _MOST_OPEN = 6, 3
_NOTHING = "No single slip of these destroys anything."
_LOOKED_AT = (
    "Each slip alone: parts turned, legs and wire ends a row off or in the other rail, leads exchanged, resistors bridged or "
    "ten times too small, parts and wires left out. Two slips at once were not simulated."
)


def render(name: str, sheet: Sheet, page: Page) -> str:
    """The sheet in the format ``name``, a key of ``FORMATS``."""
    return FORMATS[name](sheet, page)


# ── paper ─────────────────────────────────────────────────────────────────────────────────────────────────────────


def _terminal(sheet: Sheet, page: Page) -> str:
    width = prose_width(page)
    lines = [_TITLE, "=" * len(_TITLE), *prose(about(sheet.report), width), *prose(_summary(sheet), width), ""]
    for entry in sheet.entries:
        lines += [*_entry(entry, width), ""]
    if not sheet.entries:
        lines += [_NOTHING, ""]
    lines += [*prose(_LOOKED_AT, width), *prose(SAFETY, width)]
    return "\n".join(lines) + "\n"


def _summary(sheet: Sheet) -> str:
    rest = sheet.simulated - sheet.destructive - sheet.not_working - sheet.unsettled
    said = [f"{_counted(sheet.simulated, 'slip')} simulated: {sheet.destructive} destructive",
            f"{sheet.not_working} merely {'does' if sheet.not_working == 1 else 'do'} not work",
            f"{rest} {'changes' if rest == 1 else 'change'} nothing that matters"]
    if sheet.unsettled:
        which = f" ({'; '.join(sheet.open[:_MOST_OPEN])}{'; …' if len(sheet.open) > _MOST_OPEN else ''})"
        said.append(f"{sheet.unsettled} could not be computed{which if sheet.open else ''}")
    return f"{', '.join(said)}."


def _counted(amount: int, word: str) -> str:
    return f"{amount} {word}{'' if amount == 1 else 's'}"


def _entry(entry: Entry, width: int) -> Iterator[str]:
    worst, *others = entry.slips
    yield from prose(f"look twice at {entry.at}: {worst.slip.right}", width, _BOX)
    yield from prose(f"{worst.slip.wrong}: {worst.message}{_numbers(worst)}", width, _HANG)
    rights = [right for right in dict.fromkeys(one.slip.right for one in others) if right != worst.slip.right]
    if rights:
        shown = _together(rights)
        more = [f"and {len(shown) - _MOST_OTHERS} more"] if len(shown) > _MOST_OTHERS else []
        yield from prose(f"check also: {'; '.join([*shown[:_MOST_OTHERS], *more])}", width, _HANG)


_PLACES = re.compile(r"its (leg|end) belongs in (\S+)")


def _together(rights: Sequence[str]) -> list[str]:
    """What has to be so, in few words: the legs with all their holes, the ends with theirs, then the rest."""
    places: dict[str, list[str]] = {}
    for right in rights:
        if match := _PLACES.fullmatch(right):
            places.setdefault(match[1], []).append(match[2])
    said = [f"{what}{'s' if len(where) > 1 else ''} in {listed(where)}" for what, where in places.items()]
    rest = [right for right in rights if not _PLACES.fullmatch(right)]
    return [*said, *("not left out" if right == "it is on the board" else right for right in rest)]


def _numbers(one: Destructive) -> str:
    """The first number of the evidence beside its limit, where the sentence itself does not say it."""
    if not one.evidence:
        return ""
    evidence = one.evidence[0]
    shown = show_quantity(evidence.value, evidence.unit)
    if shown in one.message or (evidence.unit == "degC" and evidence.value > HOTTER_THAN_ANY):
        return ""
    limit = f", limit {show_quantity(evidence.limit, evidence.unit)}" if evidence.limit is not None else ""
    return f" ({evidence.of}: {evidence.quantity} {shown}{limit})"


# ── JSON ──────────────────────────────────────────────────────────────────────────────────────────────────────────


def _json(sheet: Sheet, page: Page) -> str:
    report = sheet.report
    found = {
        "legwise": report.legwise, "file": report.file, "title": report.title, "by": report.by, "verdict": report.verdict,
        "summary": {"simulated": sheet.simulated, "destructive": sheet.destructive, "not_working": sheet.not_working,
                    "unsettled": sheet.unsettled},
        "look_twice": [{"at": entry.at, "line": entry.line, "slips": [_as_object(one) for one in entry.slips]}
                       for entry in sheet.entries],
    }
    return msgspec.json.format(msgspec.json.encode(found), indent=2).decode("utf-8") + "\n"


def _as_object(one: Destructive) -> dict[str, Any]:
    return {"right": one.slip.right, "wrong": one.slip.wrong, "edits": one.slip.edits, "rule": one.rule,
            "severity": one.severity, "parts": one.parts, "message": one.message, "evidence": one.evidence}


FORMATS: dict[str, Callable[[Sheet, Page], str]] = {"terminal": _terminal, "json": _json}
"""The formats of a sheet, each a function of the sheet and the page."""
