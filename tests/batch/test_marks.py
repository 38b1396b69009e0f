"""Marks add up line by line and stay between 0 and the maximum; a scheme that cannot be used says where and why."""

from __future__ import annotations

from datetime import datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec import structs

from checker.batch import SchemeError, Submission, default_scheme, default_text, read_scheme
from checker.batch.marking import Judged, mark, missing_mark, most_of
from checker.batch.model import Expectation, Mark, Outcome
from checker.batch.scheme import Deduction, ExpectationPoints, Late, LikenessPoints, Missing, Scheme, VerdictPoints
from checker.report.model import SEVERITIES, VERDICTS, Edit, Finding, Fix, Report, Span

ALL = Judged(likeness=True, expectations=True)
HERE = Span(1, 1, 1, 2)
DUE = datetime(2026, 3, 2, 18, 0)
MENDED = (Fix("turn it", (Edit(1, "x"),), checked=True),)


def finding(severity: str, rule: str = "led-reversed", fixes: tuple[Fix, ...] = MENDED) -> Finding:
    return Finding(rule=rule, severity=severity, span=HERE, message="it is so", fixes=fixes)


def outcome(verdict: str, *findings: Finding, likeness: float | None = 1.0, met: int = 2, expected: int = 2) -> Outcome:
    report = Report(legwise="0", file="list", verdict=verdict, headline="It is so", findings=findings)
    return Outcome(key=b"", report=report, likeness=likeness, same=likeness == 1.0,
                   expectations=tuple(Expectation(f"expect {number}", number < met) for number in range(expected)))


def handed_in(minutes_late: float | None = None) -> Submission:
    when = None if minutes_late is None else DUE + timedelta(minutes=minutes_late)
    return Submission(name="Ada", file="a.legs", handed_in=when, time_from="the archive")


def lines_of(made: Mark) -> list[tuple[str, float]]:
    return [(line.say, line.points) for line in made.lines]


def summed(made: Mark) -> float:
    return sum(round(100 * line.points) for line in made.lines) / 100


# ── the default scheme, case by case ──────────────────────────────────────────────────────────────────────────────


@pytest.mark.parametrize(
    ("found", "points", "because"),
    [
        (outcome("clear"), 20, "verdict: clear"),
        (outcome("clear", likeness=0.7), 17, "70% like the reference"),
        (outcome("clear", likeness=0.3), 6, "it is another circuit than the one asked for (30% alike)"),
        (outcome("clear", met=1), 17, "not met: expect 1"),
        (outcome("look-first", finding("look")), 18, "verdict: look first"),
        (outcome("will-not-work", finding("fault"), met=0), 11, "partial credit: one checked change mends all of it"),
        (outcome("will-not-work", finding("fault"), finding("fault"), met=0), 9, "verdict: will not work"),
        (outcome("will-not-work", finding("fault", fixes=()), met=0), 9, "verdict: will not work"),
        (outcome("do-not-power", finding("damage")), 8, "what must not be powered earns nothing for what it would do"),
        (outcome("clear", *[finding("note")] * 3), 19.5, "taken off for note, 3 times, no more than 0.5"),
        # what the reference has too was asked for: the first two notes cost nothing
        (structs.replace(outcome("clear", *[finding("note")] * 3), asked_for=(0, 1)), 20, "taken off for note"),
        (structs.replace(outcome("clear", *[finding("note")] * 2), asked_for=(0, 1)), 20, "verdict: clear"),
        # all but alike is not alike
        (outcome("clear", likeness=0.997), 20, "99% like the reference"),
    ],
)
def test_the_default_scheme_says_what_each_point_is_for(found: Outcome, points: float, because: str) -> None:
    made = mark(default_scheme(), ALL, found, handed_in())

    assert (points, 20) == (made.points, made.most)
    assert any(because in say for say, _ in lines_of(made))
    assert points == summed(made)


def test_a_better_verdict_never_earns_less() -> None:
    """One mendable fault each, everything else equal: a circuit that burns is worth less than one that does nothing."""
    by_verdict = {verdict: mark(default_scheme(), ALL, outcome(verdict, finding("fault")), handed_in()).points
                  for verdict in ("do-not-power", "unreadable", "will-not-work", "look-first", "clear")}

    assert sorted(by_verdict.values(), key=lambda points: points or 0.0) == list(by_verdict.values())


@pytest.mark.parametrize(
    ("minutes", "said", "taken"),
    [
        (None, "", 0), (-5, "", 0), (10, "", 0),
        (11, "handed in 11 min late (time of the archive)", -1),
        (24 * 60, "handed in 1 d 0 h late (time of the archive)", -1),
        (24 * 60 + 1, "handed in 1 d 0 h late (time of the archive)", -2),
        (100 * 24 * 60, "handed in 100 d 0 h late (time of the archive)", -5),
    ],
)
def test_late_is_counted_in_days_begun_after_the_grace(minutes: float | None, said: str, taken: float) -> None:
    made = mark(default_scheme(), ALL, outcome("clear"), handed_in(minutes), DUE)

    assert 20 + taken == made.points
    assert [(said, taken)] * bool(said) == [line for line in lines_of(made) if "late" in line[0]]


def test_what_cannot_be_judged_is_left_out_for_everyone() -> None:
    assert [8, 14, 20] == [most_of(default_scheme(), judged) for judged in (Judged(), Judged(likeness=True), ALL)]
    assert 8 == mark(default_scheme(), Judged(), outcome("clear", likeness=None), handed_in()).points


def test_a_list_that_was_not_checked_waits_for_a_person() -> None:
    made = mark(default_scheme(), ALL, Outcome(key=b"", problem="it was stopped"), handed_in())

    assert (None, 20) == (made.points, made.most)
    assert [("not marked, a person has to look: it was stopped", 0.0)] == lines_of(made)


def test_who_is_missing_gets_what_the_scheme_says() -> None:
    assert [("nothing was handed in", 0)] == lines_of(missing_mark(default_scheme(), ALL))


# ── any scheme, any outcome ───────────────────────────────────────────────────────────────────────────────────────

points = st.floats(0, 30).map(lambda value: round(value, 2))
shares = st.floats(0, 1)
schemes = st.builds(
    Scheme, name=st.just("any"), step=st.sampled_from([0.01, 0.25, 0.5, 1.0, 3.0]),
    verdict=st.builds(VerdictPoints, clear=points, look_first=points, will_not_work=points, unreadable=points,
                      do_not_power=points, one_fault_away=points, least_likeness=shares),
    expectations=st.none() | st.builds(ExpectationPoints, points=points, whose=st.sampled_from(["own", "reference"])),
    likeness=st.none() | st.builds(LikenessPoints, points=points, full=st.just(0.9), none=st.just(0.2)),
    deduct=st.lists(st.builds(Deduction, points=points, severity=st.sampled_from(SEVERITIES), most=points),
                    max_size=3).map(tuple),
    late=st.none() | st.builds(Late, points_per_day=points, most=points), missing=st.builds(Missing, points=points))
outcomes = st.builds(
    lambda verdict, severities, likeness, expected: outcome(verdict, *map(finding, severities), likeness=likeness,
                                                           met=expected // 2, expected=expected),
    st.sampled_from(VERDICTS), st.lists(st.sampled_from(SEVERITIES), max_size=4), shares, st.integers(0, 7))


@given(schemes, outcomes, st.builds(Judged, st.booleans(), st.booleans()), st.none() | st.integers(-1000, 10_000))
def test_the_lines_sum_to_the_total_within_0_and_the_maximum(scheme: Scheme, found: Outcome, judged: Judged,
                                                             late: int | None) -> None:
    made = mark(scheme, judged, found, handed_in(late), DUE)

    assert made.points is not None
    assert summed(made) == made.points
    assert 0 <= made.points <= round(made.most, 2)


# ── schemes that cannot be used ───────────────────────────────────────────────────────────────────────────────────

WHOLE = 'name = "x"\n[verdict]\nclear = 8\nlook-first = 6\nwill-not-work = 3\n'


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ('name = "x"', "field verdict is missing"),
        ("name = 3\n" + WHOLE[11:], "field name: a text in quotes is allowed, found 3"),
        (WHOLE.replace("clear = 8", 'clear = "all"'), "field verdict.clear: a number is allowed, found 'all'"),
        (WHOLE.replace("clear = 8", "clear = -1"), "field verdict.clear: a number of at least 0 is allowed, found -1"),
        (WHOLE + "perfect = 9", "field verdict.perfect: there is no such field; allowed: clear, look-first, will-not-work, "
                                "unreadable, do-not-power, one-fault-away, least-likeness"),
        (WHOLE + "[likeness]\npoints = 6\nfull = 2", "field likeness.full: a number of at most 1 is allowed, found 2"),
        (WHOLE + "[likeness]\npoints = 6\nfull = 0.4\nnone = 0.5", "field likeness.none: 0.5 is not below full, 0.4"),
        (WHOLE + '[expectations]\npoints = 6\nwhose = "mine"', "field expectations.whose: found 'mine'; allowed: reference, own"),
        (WHOLE + '[[deduct]]\npoints = 1\nseverity = "bad"',
         "field deduct[0].severity: found 'bad'; allowed: danger, damage, fault, look, note"),
        (WHOLE + "[[deduct]]\npoints = 1", "field deduct[0]: either rule or severity says what it is for"),
        (WHOLE + '[[deduct]]\npoints = 1\nrule = "led-reverse"',
         "field deduct[0].rule: there is no rule 'led-reverse'; the nearest is led-reversed"),
        (WHOLE + "[late]\npoints-per-day = 1\ndeadline = 5",
         "field late.deadline: a time such as 2026-03-02T18:00:00 is allowed, found 5"),
    ],
)
def test_a_scheme_that_cannot_be_used_names_file_field_and_what_is_allowed(text: str, said: str) -> None:
    with pytest.raises(SchemeError) as problem:
        read_scheme(text.encode(), "mine.toml")

    assert f"mine.toml, {said}" == str(problem.value)


@pytest.mark.parametrize(("data", "said"), [(b"[verdict", "mine.toml is not TOML"), (b"\xff\xff", "mine.toml is not UTF-8")])
def test_what_is_no_toml_says_so(data: bytes, said: str) -> None:
    with pytest.raises(SchemeError, match=said):
        read_scheme(data, "mine.toml")


def test_what_show_marks_prints_is_the_default_scheme() -> None:
    assert default_scheme() == read_scheme(default_text().encode(), "copy.toml")
    assert structs.replace(default_scheme(), name="mine") == read_scheme(
        default_text().replace("Bench marks", "mine").encode(), "mine.toml")
