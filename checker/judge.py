"""Judging: every rule on every reading, and the readings brought together.

Input is the seated bench with the mishaps found on the way, and the operating points of each reading; output the findings
of the list. What all readings share is found once; what only some of them show becomes a question about the board.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from checker.bench.mishap import Mishap
from checker.bench.model import Bench, BenchPart
from checker.circuit.model import Circuit
from checker.operating.operate import Operating
from checker.report.model import SEVERITIES
from checker.rules import RULES
from checker.rules.base import Answer, Found
from checker.rules.case import Case
from checker.seating.boards import name_of
from checker.seating.contrary import Told, answer_of, words_at
from checker.seating.model import Reading, Seat, Spot
from checker.seating.seat import all_points, package_of
from grammar.syntax_tree import Part, PlacedIn, Rail, Span

HARMFUL = ("danger", "damage")
READING_RULES = ("syntax", "unknown-part", "unknown-point", "name-reused", "bad-value")
"""What makes part of the list unread: what seems to be missing may then be there."""

WORTH_ASKING = ("danger", "damage", "fault")

CONTRARY = "claim-contradicts-marking"
"""A list that contradicts itself is asked back whatever comes out: one of its two statements is not what is on the board."""


def judge(operatings: Sequence[Operating], mishaps: Sequence[Mishap]) -> list[Found]:
    """The findings of a list, in the order of the rules."""
    early = _unique([_of_mishap(mishap) for mishap in mishaps])
    by_reading = [find_all(Case(operating)) for operating in operatings]
    late = _brought_together([operating.circuit for operating in operatings], by_reading) if by_reading else []
    unread = any(f.rule in READING_RULES and f.severity == "fault" for f in early)
    found = [f for f in (*early, *late) if not (unread and f.needs_whole_list)]
    if any(f.rule == "nothing-powered" and f.case == "no-supply" for f in found):
        found = [f for f in found if f.rule not in ("no-return-path", "never-conducts")]
    if any(f.rank <= SEVERITIES.index("fault") and not _says_nothing_flows(f) for f in found):
        found = [f for f in found if not _says_nothing_flows(f)]
    order = {rule.slug: number for number, rule in enumerate(RULES)}
    return sorted(_worst_of_each(found), key=lambda f: (f.rank, order[f.rule]))


def _says_nothing_flows(found: Found) -> bool:
    """That nothing flows at all is worth saying only where no fault says why."""
    return found.rule == "nothing-powered" and found.case == "no-current"


def find_all(case: Case) -> list[Found]:
    """What every rule finds in one reading."""
    return [found for rule in RULES if rule.find is not None for found in rule.find(case)]


def _of_mishap(mishap: Mishap) -> Found:
    return Found(rule=mishap.rule, severity=mishap.severity, span=mishap.span, case=mishap.facts.get("case", ""),
                 parts=mishap.parts, points=mishap.points, facts=mishap.facts)


def _worst_of_each(found: Sequence[Found]) -> list[Found]:
    """One finding a key: the most severe, and of those the one farthest over its limit."""
    worst: dict[tuple[str, tuple[str, ...], str], Found] = {}
    for one in found:
        known = worst.get(one.key)
        if known is None or (one.rank, -one.weight) < (known.rank, -known.weight):
            worst[one.key] = one
    return list(worst.values())


def _unique(found: Sequence[Found]) -> list[Found]:
    seen: dict[tuple[object, ...], Found] = {}
    for one in found:
        seen.setdefault((one.rule, one.parts, one.points, one.span), one)
    return list(seen.values())


# ── readings ──────────────────────────────────────────────────────────────────────────────────────────────────────


def _brought_together(circuits: Sequence[Circuit], by_reading: Sequence[list[Found]]) -> list[Found]:
    """One reading: its findings. Several: what they share, and a question for what they do not."""
    if len(by_reading) == 1:
        return by_reading[0]
    keys = [{f.key for f in found if f.severity in WORTH_ASKING} for found in by_reading]
    shared = set.intersection(*keys)
    if all(_is_harmful(found) for found in by_reading):
        # whichever way it is, something breaks: the list's own reading says what
        return by_reading[0] + _questions(circuits, by_reading, shared, harmless=False)
    everywhere = set.intersection(*({f.key for f in found} for found in by_reading))
    common = [f for f in by_reading[0] if f.key in shared or (f.severity not in WORTH_ASKING and f.key in everywhere)]
    return common + _questions(circuits, by_reading, shared, harmless=True)


def _is_harmful(found: Sequence[Found]) -> bool:
    return any(f.severity in HARMFUL for f in found)


def _questions(circuits: Sequence[Circuit], by_reading: Sequence[list[Found]], shared: set[tuple[str, tuple[str, ...], str]],
               harmless: bool) -> list[Found]:
    """One question for each part (or board) on whose seat the outcome depends."""
    asked: dict[tuple[str, ...], list[int]] = {}
    for number, circuit in enumerate(circuits):
        if len(circuit.reading.differs) == 1:
            asked.setdefault(circuit.reading.differs, [0]).append(number)
    questions = []
    for subject, numbers in asked.items():
        outcomes = {number: [f for f in by_reading[number] if f.severity in WORTH_ASKING and f.key not in shared]
                    for number in numbers}
        contrary = any(circuits[number].reading.because == CONTRARY for number in numbers)
        if len({frozenset(f.key for f in found) for found in outcomes.values()}) > 1 or not harmless or contrary:
            questions.append(_question(circuits, subject, outcomes))
    return questions


def _question(circuits: Sequence[Circuit], subject: tuple[str, ...], outcomes: dict[int, list[Found]]) -> Found:
    """The question about one part: which answers there are and what follows from each."""
    bench = circuits[0].bench
    readings = {number: circuits[number].reading for number in outcomes}
    reasons = [reading.because for reading in readings.values() if reading.because]
    because = CONTRARY if CONTRARY in reasons else reasons[0]
    worst = max((f for found in outcomes.values() for f in found), key=lambda f: (-f.rank, f.weight), default=None)
    part = bench.parts.get(subject[0])
    answers = tuple(_answer(bench, part, reading.seats.get(subject[0]), reading, outcomes[number])
                    for number, reading in readings.items())
    span = part.span if part else _board_span(bench)
    return Found(rule=because, severity="look", span=span, case="question", parts=(part.name,) if part else (),
                 points=tuple(circuits[0].place_of[subject[0], pin] for pin in part.pins) if part else (),
                 facts={"name": part.name if part else "board", "said": _said_twice(bench, part, answers)}, answers=answers,
                 evidence=worst.evidence if worst else (), weight=1.0)


def _said_twice(bench: Bench, part: BenchPart | None, answers: Sequence[Answer]) -> str:
    """The words of the list that cannot all be true, one a line: the claim, and what any of the answers takes out."""
    if part is None or not isinstance(part.statement, Part):
        return ""
    claim = part.statement.claim
    spans = sorted({span for answer in answers for span in answer.drop} | ({claim.span} if claim else set()))
    return "\n".join(words_at(span, bench.tree.lines) for span in spans)


def _answer(bench: Bench, part: BenchPart | None, seat: Seat | None, reading: Reading, then: Sequence[Found]) -> Answer:
    """One way that the part may sit, in the words of what can be seen."""
    if part is None or seat is None:
        split = any(plan.split for plan in reading.plans.values())
        return Answer("the rails are split in the middle" if split else "the rails run through",
                      "rails split" if split else "rails joined", then=_worst_first(then))
    order = _order_of(part, seat)
    known = [(part.entry.pins, "", "")] if part.entry is not None else []
    known += [(o.pins, o.marked, o.tell) for o in getattr(part.entry, "other_orders", ())]
    legs = tuple(seat.legs)
    _, marked, tell = next((k for k in known if k[0] == legs), ((), "", ""))
    told = Told(seat.answer)
    if seat.because == CONTRARY:
        told = answer_of(part, package_of(bench, part), seat, order, bench.tree.lines)
    return Answer(seat.words or _plain(seat.legs), told.add, marked, tell, _worst_first(then), told.drop,
                  tuple(words_at(span, bench.tree.lines) for span in told.drop))


def _order_of(part: BenchPart, seat: Seat) -> str:
    """The pins in the order of the holes as the list writes them."""
    place = part.statement.place if isinstance(part.statement, Part) else None
    if not isinstance(place, PlacedIn):
        return " ".join(seat.legs)
    return seat.pins_in_hole_order(place.points)


def _worst_first(found: Sequence[Found]) -> tuple[Found, ...]:
    return tuple(sorted(found, key=lambda f: (f.rank, f.rule == "expectation-missed", -f.weight)))


def _board_span(bench: Bench) -> Span:
    """The board's line, or the first line with a rail where none is said."""
    for board in bench.boards.values():
        return board.span
    return next((p.span for p in all_points(bench) if isinstance(p, Rail)), Span(1, 1, 1, 2))


def _plain(legs: Mapping[str, Spot]) -> str:
    return ", ".join(f"{pin} at {name_of(spot)}" for pin, spot in legs.items())
