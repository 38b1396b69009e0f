"""A fixed sample of the benchmark of diagnosis, and the oracle held against values worked out by hand.

The whole benchmark is ``python -m tests.faults.run``; its bars are those of DESIGN.md, section 7.
"""

from __future__ import annotations

import pytest

from tests.faults.generator import faults
from tests.faults.judge import Result
from tests.faults.oracle import outcome
from tests.faults.run import HERE, Job, lists, one_list
from tests.faults.table import FIXED, FOUND, NAMED, is_found

SAMPLE = ("buoy-chain-9v", "greenhouse-vent-motor", "kelp-pump-irlz", "marble-gate-relay", "level-crossing", "quiz-lamps-low",
          "puppet-jaw-pnp", "harbour-winch-high", "turnstile-up", "aquarium-night-7805", "radio-dial-follower", "potter-wheel")
FAULTS_EACH = 8


def share(results: list[Result], holds: list[bool]) -> float:
    return sum(holds) / len(results)


@pytest.fixture(scope="module")
def results() -> list[Result]:
    return [result for name in SAMPLE for result in one_list(Job(HERE / "circuits" / f"{name}.legs", FAULTS_EACH, 7))]


@pytest.fixture(scope="module")
def harmful(results: list[Result]) -> list[Result]:
    return [result for result in results if result.truth == "harmful"]


def test_there_are_sixty_correct_lists_of_the_benchmark_alone() -> None:
    assert len([path for path in lists() if path.parent.name == "circuits"]) >= 60


def test_a_correct_list_and_its_harmless_changes_are_clear(results: list[Result]) -> None:
    alarms = [(r.base, r.say, r.first) for r in results if r.kind in ("correct", "harmless change") and r.verdict != "clear"]

    assert alarms == []


def test_the_sample_holds_harmful_faults(harmful: list[Result]) -> None:
    assert len(harmful) >= 20


def test_harmful_faults_are_found(harmful: list[Result]) -> None:
    missed = [(r.base, r.say, r.harm, r.verdict) for r in harmful if not is_found(r)]

    assert share(harmful, [is_found(r) for r in harmful]) >= FOUND, missed


def test_the_cause_of_harm_is_named_first(harmful: list[Result]) -> None:
    wrong = [(r.base, r.say, r.first) for r in harmful if not r.named]

    assert share(harmful, [r.named for r in harmful]) >= NAMED, wrong


def test_a_checked_fix_is_offered_for_harm(harmful: list[Result]) -> None:
    assert share(harmful, [r.fix for r in harmful]) >= FIXED, [(r.base, r.say, r.first) for r in harmful if not r.fix]


# ── the oracle itself ─────────────────────────────────────────────────────────────────────────────────────────────

LAMP = "supply B1 9V\npart R1 {ohms}\npart LED1 led red\nwire B1.+ to R1.1\nwire R1.2 to LED1.{a}\nwire LED1.{k} to B1.-\n"

# ohms, anode and cathode as wired, amps by hand (9 V - 2 V) / R; common practice for a red LED
LAMPS = [(470, "A", "K", 0.0149, False), (220, "A", "K", 0.031, False), (100, "A", "K", 0.067, True), (470, "K", "A", 0.0, True)]


@pytest.mark.parametrize(("ohms", "a", "k", "amps", "harmful"), LAMPS)
def test_the_oracle_agrees_with_a_lamp_worked_out_by_hand(ohms: int, a: str, k: str, amps: float, harmful: bool) -> None:
    found = outcome(LAMP.format(ohms=ohms, a=a, k=k))

    assert max(found.active["led1"].values()) == pytest.approx(amps, rel=0.05, abs=2e-6)
    assert bool(found.harms) == harmful


# what is exchanged in the pump stage, and whether a rating is passed: by hand from the datasheet of the PN2222A
PUMP = (HERE.parent.parent / "checker" / "examples" / "seed-tray-mister.legs").read_text("utf-8")
CHANGES = [("", "", False), ("band d18", "band d12", True), ("R1   220 ", "R1   22 ", True), ("R1   220 ", "R1   22k ", False),
           ("part   D1 ", "#", True), ("flat faces a  as E B C", "flat faces j", True), ("b11 b16", "b16 b11", False)]


@pytest.mark.parametrize(("old", "new", "harmful"), CHANGES)
def test_the_oracle_knows_what_harms_the_pump_stage(old: str, new: str, harmful: bool) -> None:
    assert old in PUMP

    assert bool(outcome(PUMP.replace(old, new) if old else PUMP).harms) == harmful


def test_every_fault_changes_the_list_and_says_where() -> None:
    made = list(faults(PUMP))

    assert len(made) > 40
    assert all(fault.text.split() != PUMP.split() and (fault.parts or fault.lines) for fault in made)
