"""Rows: submissions joined with their outcomes, the roster and the marks.

Input: the intake, the journal, the roster, the scheme. Output: rows in the order of the source, then those who are missing.
Nothing is kept: each pass makes them anew, so a class of any size fits.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from msgspec import Struct, structs

from checker.batch.intake import Intake
from checker.batch.journal import Journal
from checker.batch.marking import Judged, mark, missing_mark
from checker.batch.model import MISSING, NOT_CHECKED, Mark, Outcome, Row, Submission
from checker.batch.roster import Entry, Roster
from checker.batch.scheme import Scheme
from checker.batch.shelf import Names
from checker.batch.words import counted
from checker.comparing.model import ANOTHER_BELOW
from checker.report.model import Report

AGAIN = "hand in the list again as plain text, in a file that ends in .legs or .txt"
"""What to do first about a submission that is no list."""


class Marked(Struct, frozen=True):
    """How a batch is marked: by which scheme, out of what."""

    scheme: Scheme
    judged: Judged


class Desk:
    """Everything that rows are made from."""

    def __init__(self, intake: Intake, journal: Journal, roster: Roster | None = None, marked: Marked | None = None,
                 ending: str = "") -> None:
        """``ending`` is that of the feedback files; empty where none are written."""
        self.intake, self.journal, self.roster, self.marked, self.ending = intake, journal, roster, marked, ending
        self.alike: dict[int, int] = {}
        self._lists_of: Counter[int] = Counter()
        if roster is not None:
            found = (roster.find(submission) for submission in intake)
            self._lists_of.update(number for number in found if number is not None)

    def __len__(self) -> int:
        return len(self.intake) + len(self._absent())

    def __iter__(self) -> Iterator[Row]:
        return (row for row, _ in self.with_outcomes())

    def with_outcomes(self) -> Iterator[tuple[Row, Outcome | None]]:
        """Each row with its outcome; None where nothing was checked."""
        names = Names()
        for number, submission in enumerate(self.intake, start=1):
            outcome = self.outcome_of(submission)
            row = self._row(number, submission, outcome)
            yield self._with_feedback(row, names), outcome
        for number, entry in enumerate(self._absent(), start=len(self.intake) + 1):
            yield self._with_feedback(self._missing(number, entry), names), None

    def outcome_of(self, submission: Submission) -> Outcome | None:
        """What was found in a submission; None where it has no text, or is not checked yet."""
        key = self.intake.key_of(submission)
        return self.journal.get(key) if not submission.problem and key in self.journal else None

    def _with_feedback(self, row: Row, names: Names) -> Row:
        if not self.ending:
            return row
        return structs.replace(row, feedback=f"feedback/{names.take(row.name or row.identifier)}.{self.ending}")

    def _row(self, number: int, submission: Submission, outcome: Outcome | None) -> Row:
        place = self.roster.find(submission) if self.roster is not None else None
        entry = self.roster.entries[place] if self.roster is not None and place is not None else None
        report = outcome.report if outcome is not None else None
        problem = submission.problem or (outcome.problem if outcome is not None else "it was not checked")
        name = entry.shown if entry else submission.name
        common = Row(number=number, name=name,
                     identifier=entry.identifier if entry else submission.identifier, file=submission.file,
                     verdict=report.verdict if report else NOT_CHECKED, problem="" if report else problem,
                     first=AGAIN if submission.problem else "",
                     alike=self.alike.get(number, 0), remarks=self._remarks(place), by=_by(report, name),
                     mark=self._mark(submission, outcome, entry))
        return common if report is None or outcome is None else self._beside(_told(common, report, outcome), outcome)

    def _beside(self, row: Row, outcome: Outcome) -> Row:
        """The row with what the reference says; a scheme may have its own bound for what is another circuit."""
        if not outcome.counting or outcome.likeness is None:
            return row
        least = (self.marked.scheme.verdict.least_likeness if self.marked is not None else 0.0) or ANOTHER_BELOW
        beside = f"{counted(outcome.counting, 'difference')} from the reference, first: {outcome.differences[0]}"
        return structs.replace(row, beside=beside, another=outcome.likeness < least)

    def _mark(self, submission: Submission, outcome: Outcome | None, entry: Entry | None) -> Mark | None:
        if self.marked is None:
            return None
        if entry is not None and entry.handed_in is not None:
            submission = structs.replace(submission, handed_in=entry.handed_in, time_from="the roster")
        return mark(self.marked.scheme, self.marked.judged, outcome or Outcome(key=b""), submission,
                    entry.deadline if entry else None)

    def _remarks(self, place: int | None) -> tuple[str, ...]:
        said = []
        if self.roster is not None and place is None:
            said.append("not on the roster")
        if place is not None and self._lists_of[place] > 1:
            said.append(f"one of {self._lists_of[place]} lists from this person")
        return tuple(said)

    def _absent(self) -> list[Entry]:
        if self.roster is None:
            return []
        return [entry for number, entry in enumerate(self.roster.entries) if not self._lists_of[number]]

    def _missing(self, number: int, entry: Entry) -> Row:
        return Row(number=number, name=entry.shown, identifier=entry.identifier, file="", verdict=MISSING,
                   problem="nothing was handed in",
                   mark=missing_mark(self.marked.scheme, self.marked.judged) if self.marked else None)


def _by(report: Report | None, name: str) -> str:
    """Whose list it says it is, where that is not who handed it in."""
    return report.by if report is not None and report.by and report.by.casefold() != name.casefold() else ""


def _told(row: Row, report: Report, outcome: Outcome) -> Row:
    first = next((fix.say for found in report.findings[:1] for fix in found.fixes if fix.checked), "")
    return structs.replace(
        row, headline=report.headline, title=report.title or "", first=first if report.verdict != "clear" else "",
        rules=tuple(dict.fromkeys(found.rule for found in report.findings)), summary=report.summary,
        likeness=outcome.likeness, same=outcome.same, met=sum(one.met for one in outcome.expectations),
        expected=len(outcome.expectations))
