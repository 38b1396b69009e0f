"""What the reader sees. Snapshots hold the whole page; the tests beside them say what must hold on every page."""

from __future__ import annotations

import re

import msgspec
import pytest
from rich.cells import cell_len

from checker.report import Page, render
from checker.report.model import Edit, Evidence, Finding, Fix, Report, Span
from checker.report.prose import wrap
from checker.report.words import SAFETY, VERDICT_WORDS
from tests.report.regenerate import CASES, FOLDER, WIDTHS, file_of, rendered
from tests.report.samples import DO_NOT_POWER, REVERSED, SAMPLES

COLOUR_CODES = re.compile(r"\x1b\[[0-9;]*m")


def page_of(report: Report, width: int = 80) -> str:
    return render("terminal", [report], Page(width=width))


def with_findings(*findings: Finding) -> str:
    return page_of(msgspec.structs.replace(DO_NOT_POWER, findings=findings))


def words_of(text: str) -> str:
    return " ".join(text.split())


@pytest.mark.parametrize(("name", "width"), CASES)
class TestEveryPage:
    def test_is_the_page_that_was_read_and_approved(self, name: str, width: int) -> None:
        assert rendered(name, width) == file_of(name, width).read_text(encoding="utf-8")

    def test_fits_the_width_and_forty_lines(self, name: str, width: int) -> None:
        lines = rendered(name, width).splitlines()

        assert max(map(cell_len, lines)) <= width
        assert len(lines) <= 40
        assert not [line for line in lines if line != line.rstrip()]

    def test_opens_with_the_verdict_and_the_headline(self, name: str, width: int) -> None:
        text = rendered(name, width)

        assert text.splitlines()[0] == VERDICT_WORDS[name]
        assert words_of(text.split("\n", 2)[2]).startswith(SAMPLES[name].headline)

    def test_says_the_safety_sentence_once_and_last(self, name: str, width: int) -> None:
        text = words_of(rendered(name, width))

        assert text.count(SAFETY) == 1
        assert text.endswith(SAFETY)

    def test_reads_the_same_without_colour(self, name: str, width: int) -> None:
        coloured = render("terminal", [SAMPLES[name]], Page(width=width, colour=True))

        assert "\x1b[" in coloured
        assert COLOUR_CODES.sub("", coloured) == rendered(name, width)


def test_no_snapshot_is_left_over_from_another_time() -> None:
    assert sorted(FOLDER.glob("*.txt")) == sorted(file_of(*case) for case in CASES)


def test_every_verdict_has_a_sample() -> None:
    assert set(SAMPLES) == set(VERDICT_WORDS)


def test_the_first_step_stands_above_the_findings_only_when_it_was_checked() -> None:
    unchecked = msgspec.structs.replace(REVERSED, fixes=(Fix("turn D1 round", (Edit(9, "part D1"),)),))

    assert "\nFirst: turn D1 round" in with_findings(REVERSED)
    assert "\nFirst: " not in with_findings(unchecked)
    assert "Fix, not checked: turn D1 round" in with_findings(unchecked)
    assert "Checked:" not in with_findings(unchecked)


@pytest.mark.parametrize(
    ("edit", "shown"),
    [
        (Edit(9, "part D1 1N4001 in d12 d18 band d18"), "      9  part D1 1N4001 in d12 d18 band d18\n"),
        (Edit(11, "wire U1.GND to L-5"), "      (new line)\n      11  wire U1.GND to L-5\n"),
        (Edit(10, ""), "      (take this line out)\n      10  wire U1.D9 to a16\n"),
    ],
)
def test_an_edit_shows_the_line_as_it_will_read_and_a_removal_the_line_that_goes(edit: Edit, shown: str) -> None:
    finding = msgspec.structs.replace(REVERSED, fixes=(Fix("do this", (edit,), True),))

    assert f"   Fix, checked: do this\n{shown}" in with_findings(finding)


@pytest.mark.parametrize(("count", "shown", "more"), [(0, 0, ""), (4, 4, ""), (5, 5, ""), (6, 4, "also: 2 more")])
def test_consequences_are_folded_under_their_cause(count: int, shown: int, more: str) -> None:
    follow = tuple(
        Finding(rule="too-hot", severity="fault", span=Span(1, 1, 1, 2), message=f"follows {n}") for n in range(count)
    )
    text = with_findings(msgspec.structs.replace(REVERSED, consequences=follow))

    assert text.count("also: follows") == shown
    assert more in text


def test_a_consequence_that_only_repeats_a_number_just_shown_is_not_printed() -> None:
    worst = Evidence(quantity="voltage", of="Q1 E-B", value=6.84, unit="V", limit=6.0)
    again = Finding(rule="too-much-voltage", severity="damage", span=Span(1, 1, 1, 2),
                    message="Q1 E-B sees 6.84 V, more than its 6 V", evidence=(worst,))
    other = msgspec.structs.replace(again, message="nothing takes the current of K1")
    text = with_findings(msgspec.structs.replace(REVERSED, evidence=(worst,), consequences=(again, other)))

    assert "also: Q1 E-B sees" not in text
    assert "also: nothing takes" in text


def test_where_no_change_was_proven_it_is_said_where_to_look() -> None:
    unmended = msgspec.structs.replace(REVERSED, fixes=())

    assert "Fix: no single change was found that mends this. Look at D1 and d12\n" in with_findings(unmended)


def test_beside_a_dangerous_voltage_nobody_is_told_to_go_on() -> None:
    unmended = msgspec.structs.replace(REVERSED, fixes=())
    hazard = msgspec.structs.replace(unmended, rule="hazardous-voltage", severity="danger")

    assert "Fix" not in with_findings(hazard, unmended)


def test_a_number_of_the_sentences_is_not_said_again_below_them() -> None:
    told = msgspec.structs.replace(
        REVERSED, why="Q1 keeps 4.98 V to itself and turns 100 mW into heat (it can take 625 mW)", evidence=(
            Evidence(quantity="current", of="FAN", value=0.0202, unit="A", limit=0.12, least=True, state={"U1.D6": "high"}),
            Evidence(quantity="voltage", of="Q1", value=4.98, unit="V", state={"U1.D6": "high"}),
            Evidence(quantity="power", of="Q1", value=0.1, unit="W", limit=0.625, state={"U1.D6": "high"}),
            Evidence(quantity="voltage", of="Q1", value=4.98, unit="V", state={"U1.D6": "low"})))
    text = with_findings(told)

    assert "- FAN: current 20.2 mA, should be at least 120 mA, when U1.D6 is high" in text
    assert "- Q1: power" not in text
    assert text.count("4.98 V") == 2
    assert "when U1.D6 is low" in text


def test_several_fixes_are_checked_one_at_a_time() -> None:
    assert "with that change" in with_findings(REVERSED)
    assert "with each of these changes, one at" in with_findings(REVERSED, REVERSED)


def test_a_rule_is_pointed_at_once_however_often_it_is_met() -> None:
    assert with_findings(REVERSED, REVERSED).count("legwise why diode-reversed") == 1


def test_a_flood_of_findings_is_cut_to_a_page_and_says_so() -> None:
    text = with_findings(*[REVERSED] * 100)

    assert text.count("Fix, checked: ") == 12
    assert text.count("mister.legs:9:32: damage: ") == 30
    assert "and 58 more; --format json holds all of them" in words_of(text)


def test_several_lists_end_with_one_line_each() -> None:
    text = render("terminal", list(SAMPLES.values()), Page(several=True))

    assert text.splitlines()[-5:] == [
        "DO NOT POWER: mister.legs",
        "COULD NOT READ ALL OF IT: standard input",
        "WILL NOT WORK: tide.legs",
        "LOOK FIRST: prop.legs",
        "CLEAR: signal.legs",
    ]


def test_a_list_cannot_steer_the_terminal_that_prints_it() -> None:
    escape = "\x1b[2J\x9b\u202e\x07"
    finding = msgspec.structs.replace(REVERSED, span=Span(1, 1, 1, 5), message=escape, why=escape)
    hostile = msgspec.structs.replace(
        DO_NOT_POWER, title=escape, by=escape, headline=escape, lines=(escape,), findings=(finding,), advice=(escape,)
    )
    text = page_of(hostile)

    assert not set(text) & set(escape[:1] + escape[4:])
    assert "\u241b[2J" in text


@pytest.mark.parametrize(
    ("words", "first_room", "room", "lines"),
    [
        ("", 10, 10, [""]),
        ("one two three", 7, 9, ["one two", "three"]),
        ("a value of 8.4 W", 14, 14, ["a value of", "8.4 W"]),
        ("as said on line 12", 16, 16, ["as said on", "line 12"]),
        ("longer than the label leaves", 4, 12, ["", "longer than", "the label", "leaves"]),
        ("unbreakable", 6, 6, ["unbrea", "kable"]),
        ("電圧 電流", 5, 5, ["電圧", "電流"]),
    ],
)
def test_wrapping_keeps_a_value_with_its_unit(words: str, first_room: int, room: int, lines: list[str]) -> None:
    assert wrap(words, first_room, room) == lines


@pytest.mark.parametrize("width", [1, *WIDTHS])
def test_a_report_with_nothing_but_a_verdict_is_still_a_page(width: int) -> None:
    bare = Report(legwise="0.1", file="x.legs", verdict="look-first", headline="")

    assert words_of(page_of(bare, width)) == f"LOOK FIRST ========== x.legs {SAFETY}"
