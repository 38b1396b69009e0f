"""A scheme of marks, read from TOML: what earns points and what costs some.

Input: a file. Output: a Scheme. Every error names the file, the field, what was found and what is allowed.
"""

from __future__ import annotations

import re
import tomllib
from datetime import datetime
from functools import cache
from importlib.resources import files
from typing import Annotated, Any, Literal

import msgspec
from msgspec import Meta, Struct

from checker.report.model import SEVERITIES
from checker.rules import slugs
from grammar import nearest

DEFAULT = "marks.toml"

Points = Annotated[float, Meta(ge=0, le=1000)]
Share = Annotated[float, Meta(ge=0, le=1)]


class _Table(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True, rename="kebab"):
    """A misspelt field is an error, since a mark that is silently not counted would be unfair."""


class VerdictPoints(_Table, frozen=True, kw_only=True):
    """Points for each verdict; ``one_fault_away`` are added where one checked change mends all of it, up to the best
    verdict's; ``least_likeness``: less like the reference earns nothing."""

    clear: Points
    look_first: Points
    will_not_work: Points
    unreadable: Points = 0
    do_not_power: Points = 0
    one_fault_away: Points = 0
    least_likeness: Share = 0

    def of(self, verdict: str) -> float:
        """The points for a verdict of the report."""
        return float(getattr(self, verdict.replace("-", "_")))

    @property
    def most(self) -> float:
        return max(self.clear, self.look_first, self.will_not_work, self.unreadable, self.do_not_power)


class ExpectationPoints(_Table, frozen=True, kw_only=True):
    """Points shared evenly among expectations: those of the reference, or each list's own; ``only_if_safe``: what must not be
    powered earns none of them."""

    points: Points
    whose: Literal["reference", "own"] = "reference"
    only_if_safe: bool = False


class LikenessPoints(_Table, frozen=True, kw_only=True):
    """Points for being like the reference: all from ``full`` on, none up to ``none``, evenly between."""

    points: Points
    full: Share = 1.0
    none: Share = 0.0


class Deduction(_Table, frozen=True, kw_only=True):
    """Points taken off for each finding of a rule or a severity, up to ``most``."""

    points: Points
    rule: str | None = None
    severity: Literal["danger", "damage", "fault", "look", "note"] | None = None
    most: Points = 1000


class Late(_Table, frozen=True, kw_only=True):
    """Points taken off for each day begun after the deadline and ``grace_minutes``, up to ``most``."""

    points_per_day: Points
    most: Points = 1000
    grace_minutes: Annotated[float, Meta(ge=0)] = 0
    deadline: datetime | None = None


class Missing(_Table, frozen=True, kw_only=True):
    """The points of a person on the roster who handed in nothing."""

    points: Points = 0


class Scheme(_Table, frozen=True, kw_only=True):
    """A whole scheme. Totals are rounded up to a multiple of ``step``."""

    name: str
    verdict: VerdictPoints
    step: Annotated[float, Meta(ge=0.01, le=10)] = 0.5
    expectations: ExpectationPoints | None = None
    likeness: LikenessPoints | None = None
    deduct: tuple[Deduction, ...] = ()
    late: Late | None = None
    missing: Missing = Missing()


class SchemeError(ValueError):
    """A scheme that cannot be used; the message names the file, the field and what is allowed."""


def default_text() -> str:
    """The scheme that ships, with its comments."""
    return files("checker.batch").joinpath(DEFAULT).read_text(encoding="utf-8")


@cache
def default_scheme() -> Scheme:
    """The scheme that ships."""
    return read_scheme(default_text().encode(), DEFAULT)


def read_scheme(data: bytes, file: str) -> Scheme:
    """The scheme in a TOML file. Raises SchemeError."""
    try:
        raw = tomllib.loads(data.decode("utf-8-sig"))
    except UnicodeDecodeError:
        raise SchemeError(f"{file} is not UTF-8 text") from None
    except tomllib.TOMLDecodeError as error:
        raise SchemeError(f"{file} is not TOML: {error}") from None
    try:
        scheme = msgspec.convert(raw, Scheme)
    except msgspec.ValidationError as error:
        raise SchemeError(f"{file}, {_worded(str(error), raw)}") from None
    for field, problem in _broken_laws(scheme):
        raise SchemeError(f"{file}, field {field}: {problem}")
    return scheme


def _broken_laws(scheme: Scheme) -> list[tuple[str, str]]:
    broken = []
    known = slugs()
    for number, one in enumerate(scheme.deduct):
        if (one.rule is None) == (one.severity is None):
            broken.append((f"deduct[{number}]", "either rule or severity says what it is for"))
        if one.rule is not None and one.rule not in known:
            near = nearest(one.rule, known)
            broken.append((f"deduct[{number}].rule", f"there is no rule '{one.rule}'"
                                                     + (f"; the nearest is {near[0]}" if near else "")))
    if scheme.likeness is not None and scheme.likeness.none >= scheme.likeness.full:
        broken.append(("likeness.none", f"{scheme.likeness.none:g} is not below full, {scheme.likeness.full:g}"))
    return broken


# ── wording ───────────────────────────────────────────────────────────────────────────────────────────────────────

_PATH = re.compile(r" - at `\$\.?(.*)`$")
_TYPES = {"str": "a text in quotes", "int": "a number", "float": "a number", "array": "a list in brackets", "object": "a table",
          "bool": "true or false", "datetime": "a time such as 2026-03-02T18:00:00", "null": "nothing"}
_TABLES: dict[str, type[Struct]] = {"": Scheme, "verdict": VerdictPoints, "expectations": ExpectationPoints,
                                    "likeness": LikenessPoints, "deduct": Deduction, "late": Late, "missing": Missing}


def _worded(said: str, raw: Any) -> str:
    """msgspec's complaint for someone who writes a scheme: which field, what is allowed, what was found."""
    found = _PATH.search(said)
    path = found[1] if found else ""
    said = _PATH.sub("", said)
    table = path.split("[")[0]
    if unknown := re.match(r"Object contains unknown field `(.*)`", said):
        return f"field {_joined(path, unknown[1])}: there is no such field; allowed: {', '.join(_fields(table))}"
    if missing := re.match(r"Object missing required field `(.*)`", said):
        return f"field {_joined(path, missing[1])} is missing"
    if kinds := re.match(r"Expected `(.*?)`(?: (<=|>=) ([\d.]+))?(?:, got `(.*)`)?$", said):
        allowed = " or ".join(dict.fromkeys(_TYPES.get(kind, kind) for kind in kinds[1].split(" | ") if kind != "null"))
        bound = f" of at {'most' if kinds[2] == '<=' else 'least'} {float(kinds[3]):g}" if kinds[2] else ""
        return f"field {path or 'the file'}: {allowed}{bound} is allowed, found {_found(raw, path)}"
    if re.match(r"Invalid enum value", said):
        allowed = "reference, own" if path.endswith("whose") else ", ".join(SEVERITIES)
        return f"field {path}: found {_found(raw, path)}; allowed: {allowed}"
    return f"field {path}: {said}"


def _joined(path: str, name: str) -> str:
    return f"{path}.{name}" if path else name


def _fields(table: str) -> tuple[str, ...]:
    return _TABLES.get(table, Scheme).__struct_encode_fields__


def _found(raw: Any, path: str) -> str:
    for step in re.findall(r"[^.\[\]]+", path):
        raw = raw[int(step)] if isinstance(raw, list) else raw.get(step) if isinstance(raw, dict) else raw
    return f"'{raw}'" if isinstance(raw, str) else "a table" if isinstance(raw, dict) else str(raw)
