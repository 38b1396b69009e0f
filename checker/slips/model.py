"""What a slip is, what became of it, and the sheet that lists the destructive ones."""

from __future__ import annotations

from msgspec import Struct

from checker.report.model import Edit, Evidence, Report


class Slip(Struct, frozen=True, kw_only=True):
    """One slip of the hand as an edit of the list.

    ``at`` is what to look at ("D1", "the red wire from e18 to L+18"), ``line`` its line in the list, ``right`` how it has to
    be ("its band belongs to d18"), ``wrong`` how it is after the slip ("turned round")."""

    at: str
    line: int
    right: str
    wrong: str
    edits: tuple[Edit, ...]


class Destructive(Struct, frozen=True, kw_only=True):
    """A slip that destroys something: the worst that it does, in one sentence, with its evidence. ``weight`` is how many
    times the limit that is, as the rule counts."""

    slip: Slip
    rule: str
    severity: str
    parts: tuple[str, ...]
    message: str
    evidence: tuple[Evidence, ...]
    weight: float


class Entry(Struct, frozen=True):
    """One thing to look at twice: all its destructive slips, the worst first."""

    at: str
    line: int
    slips: tuple[Destructive, ...]


class Sheet(Struct, frozen=True, kw_only=True):
    """The build sheet of one list. ``report`` is the list's own; of ``simulated`` slips, ``destructive`` destroy something,
    ``not_working`` only keep it from working, and of ``unsettled`` some state could not be computed: ``open`` says which."""

    report: Report
    simulated: int
    destructive: int
    not_working: int
    unsettled: int
    entries: tuple[Entry, ...]
    open: tuple[str, ...] = ()
