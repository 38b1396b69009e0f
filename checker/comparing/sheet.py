"""A comparison as text to read and as JSON.

Input: a Comparison and the names of the two files. Output: the verdict, then the differences with what to do about each,
what is only noted, and how alike the two are.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

import msgspec

from checker.comparing.model import FEW_STEPS, Comparison, Difference
from checker.report.page import Page
from checker.report.prose import prose, prose_width
from checker.report.words import file_name
from checker.version import VERSION

SAME, DIFFERENT, ANOTHER = "THE SAME CIRCUIT", "NOT THE SAME CIRCUIT", "ANOTHER CIRCUIT"
_BOUNDED = "The lists are large, or far from each other: a smaller difference was not ruled out."
_NOT_LOOKED_AT = "Holes, names, the order of the lines and the ways of the wires make no difference."


class Compared(msgspec.Struct, frozen=True):
    """A comparison with the names of its two files."""

    reference: str
    file: str
    comparison: Comparison


def render(name: str, compared: Compared, page: Page) -> str:
    """The comparison in the format ``name``, a key of ``FORMATS``."""
    return FORMATS[name](compared, page)


def verdict_of(comparison: Comparison) -> str:
    """The verdict in words."""
    verdict = SAME if comparison.same else ANOTHER if _is_told_as_another(comparison) else DIFFERENT
    return f"{verdict}, AS FAR AS IT CAN BE READ" if comparison.unread else verdict


# ── to read ───────────────────────────────────────────────────────────────────────────────────────────────────────


def _terminal(compared: Compared, page: Page) -> str:
    width = prose_width(page)
    comparison = compared.comparison
    verdict = verdict_of(comparison)
    counting = comparison.counting
    lines = [verdict, "=" * len(verdict), *prose(_about(compared, len(counting)), width), ""]
    if _is_told_as_another(comparison):
        return "\n".join([*lines, *prose(_another(comparison), width)]) + "\n"
    noted = [one for one in comparison.differences if not one.counts]
    for number, one in enumerate(counting, 1):
        lines += [*_difference(number, one, width), ""]
    for one in noted:
        lines += [*prose(f"{one.say}{_line(one)}", width, "Noted: ")]
    for said in comparison.partly:
        lines += [*prose(_sentence(said), width)]
    lines += [*prose(f"Alike: {percent(comparison.likeness)} of the connections. {_NOT_LOOKED_AT}", width)]
    if comparison.bounded:
        lines += [*prose(_BOUNDED, width)]
    return "\n".join(lines) + "\n"


def _is_told_as_another(comparison: Comparison) -> bool:
    return comparison.is_another and len(comparison.counting) > FEW_STEPS


def _another(comparison: Comparison) -> str:
    return (f"This is another circuit than the reference: only {percent(comparison.likeness)} of the connections are alike. "
            "What is different is more than a list of slips; --format json has all of it.")


def percent(share: float) -> str:
    """A share in per cent; 100 is only said of all."""
    return f"{min(round(100 * share), 100 if share >= 1.0 else 99)} %"


def _about(compared: Compared, counted: int) -> str:
    said = f"{file_name(compared.file)} beside {file_name(compared.reference)}, which is the reference"
    return f"{said}: {counted} difference{'' if counted == 1 else 's'}" if counted else said


def _difference(number: int, one: Difference, width: int) -> Iterator[str]:
    label = f"{number}. "
    yield from prose(f"{_capital(one.say)}{_line(one)}", width, label)
    if one.hand:
        yield from (" " * len(label) + line for line in prose(one.hand, width - len(label), "To do: "))


def _line(one: Difference) -> str:
    return f" (line {one.span.line})" if one.span is not None else ""


def _sentence(words: str) -> str:
    return f"{_capital(words)}."


def _capital(words: str) -> str:
    """With a capital letter where the first word is plain; a name stays as it is written."""
    return words[0].upper() + words[1:] if words.split(" ")[0] in ("the", "in") else words


# ── JSON ──────────────────────────────────────────────────────────────────────────────────────────────────────────


def _json(compared: Compared, page: Page) -> str:
    comparison = compared.comparison
    found = {
        "legwise": VERSION, "reference": compared.reference, "file": compared.file, "same": comparison.same,
        "likeness": round(comparison.likeness, 4), "bounded": comparison.bounded, "unread": comparison.unread,
        "another": comparison.is_another,
        "partly": comparison.partly, "differences": [_as_object(one) for one in comparison.differences],
        "pairs": comparison.pairs, "pins": comparison.pins,
    }
    return msgspec.json.format(msgspec.json.encode(found), indent=2).decode("utf-8") + "\n"


def _as_object(one: Difference) -> dict[str, object]:
    return {"kind": one.kind, "counts": one.counts, "wiring": one.is_wiring, "cost": round(one.cost, 4), "parts": one.parts,
            "reference_parts": one.reference_parts, "points": one.points, "span": one.span, "say": one.say, "hand": one.hand}


FORMATS: dict[str, Callable[[Compared, Page], str]] = {"terminal": _terminal, "json": _json}
"""The formats of a comparison, each a function of it and the page."""
