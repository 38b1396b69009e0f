"""The Report: all that a format prints, in the field names of the JSON contract.

The checker makes it, formats read it and import nothing else of the project. Values are plain Python: strings, floats,
bools. Lines and columns count from 1, ends are exclusive; quantities are in SI units.
"""

from __future__ import annotations

from msgspec import Struct, field

SEVERITIES = ("danger", "damage", "fault", "look", "note")
VERDICTS = ("do-not-power", "unreadable", "will-not-work", "look-first", "clear")


class Span(Struct, frozen=True):
    """A stretch of the text."""

    line: int
    column: int
    end_line: int
    end_column: int


class Evidence(Struct, frozen=True, kw_only=True):
    """A computed quantity against its limit, and when it occurs.

    ``state`` maps what was switched to how (``{"U1.D9": "high"}``), ``corner`` names the row of the corner table, ``reading``
    maps a part to its pins in the order of its holes where the list can be read in several ways. ``limit`` is None where
    the value speaks for itself; ``least`` is true where the value should have been at least the limit."""

    quantity: str
    of: str
    value: float
    unit: str
    limit: float | None = None
    least: bool = False
    state: dict[str, str] = field(default_factory=dict)
    corner: str = "nominal"
    reading: dict[str, str] = field(default_factory=dict)


class Edit(Struct, frozen=True):
    """Line ``line`` becomes ``text``; an empty text removes it, a line past the last one adds it."""

    line: int
    text: str


class Fix(Struct, frozen=True):
    """What the hand does (``say``) and what that makes of the list. ``checked`` once the edited list was run again."""

    say: str
    edits: tuple[Edit, ...]
    checked: bool = False


class Finding(Struct, frozen=True, kw_only=True):
    """One thing that is wrong, or worth a look: ``message`` says what in one sentence, ``why`` what follows from it."""

    rule: str
    severity: str
    parts: tuple[str, ...] = ()
    points: tuple[str, ...] = ()
    span: Span
    message: str
    why: str = ""
    evidence: tuple[Evidence, ...] = ()
    consequences: tuple[Finding, ...] = ()
    fixes: tuple[Fix, ...] = ()


class State(Struct, frozen=True, omit_defaults=True):
    """One operating point of the nominal corner: volts of every pin from the reference ground, amps of every part
    (two-terminal parts from pin 1 (A, +) to the other; else into the part at that pin). At switch-off also which part's
    ``coil`` it is, the ``energy`` in it in joules, and the ``release``, seconds until a tenth of its current is left (only
    for the coil's strongest current, and not for motors)."""

    state: dict[str, str]
    phase: str
    voltages: dict[str, float]
    currents: dict[str, float]
    coil: str = ""
    energy: float | None = None
    release: float | None = None


class Summary(Struct, frozen=True):
    """How many findings of each severity, consequences not counted."""

    danger: int = 0
    damage: int = 0
    fault: int = 0
    look: int = 0
    note: int = 0


class Report(Struct, frozen=True, kw_only=True):
    """Everything about one list. ``lines`` is the list's own text, which formats quote and the JSON leaves out;
    ``advice`` are closing sentences (next suspects, cautions) in the order to print them."""

    legwise: str
    file: str
    title: str | None = None
    by: str | None = None
    verdict: str
    headline: str
    findings: tuple[Finding, ...] = ()
    assumed: tuple[str, ...] = ()
    states: tuple[State, ...] = ()
    advice: tuple[str, ...] = ()
    summary: Summary = Summary()
    lines: tuple[str, ...] = ()
