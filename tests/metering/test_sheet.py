"""What every sheet of a list that is right has to keep, and what the sheet of the pump stage says."""

from __future__ import annotations

from math import inf

import pytest

from checker.examples import text_of
from checker.metering import MeterSheet
from checker.metering.after import MOST_AFTER
from checker.metering.before import FEW, SMALL, SOME
from checker.metering.lamp import E12, resistor_for
from checker.metering.model import Reading
from checker.seating.seat import all_points
from parts_library.schema import SupplyKind
from tests.metering.bench import CLEAR, circuit_of, sheet_of, surveyed

MISTER = text_of("seed-tray-mister")


@pytest.fixture(params=CLEAR)
def name(request: pytest.FixtureRequest) -> str:
    return str(request.param)


def sheet_named(name: str) -> MeterSheet:
    return sheet_of(text_of(name))


def readings(sheet: MeterSheet) -> tuple[Reading, ...]:
    return sheet.before + sheet.after


def test_a_sheet_is_short(name: str) -> None:
    sheet = sheet_named(name)
    feeds = sum(reading.what.endswith(("plus to minus", "to GND")) for reading in sheet.before)

    assert 1 <= len(sheet.before) <= (FEW if len(circuit_of(text_of(name)).bench.parts) <= SMALL else SOME)
    assert 1 <= len(sheet.after) <= MOST_AFTER + feeds


def test_the_first_reading_is_a_supply_from_plus_to_minus(name: str) -> None:
    first = sheet_named(name).before[0]

    assert first.what.endswith(("plus to minus", "to GND"))
    assert first.function == "resistance"
    assert first.low >= 5.0 or "short" in " ".join((*first.notes, *(one.shows for one in first.instead)))


def test_the_dial_is_turned_once_before_power(name: str) -> None:
    functions = [reading.function for reading in sheet_named(name).before]

    assert functions == sorted(functions, key=("resistance", "diode test").index)


def test_every_value_lies_within_its_band(name: str) -> None:
    assert [] == [reading for reading in readings(sheet_named(name)) if not reading.low <= reading.value <= reading.high]


def test_free_holes_are_free(name: str) -> None:
    """A hole that the sheet names for a jumper end is one that no leg and no wire is in."""
    text = text_of(name)
    taken = {point.text.lower() for point in all_points(surveyed(text).bench)}
    taken |= {place.lower() for place in circuit_of(text).place_of.values()}
    spots = [spot for reading in readings(sheet_named(name)) for spot in (reading.red, reading.black)]

    assert [] == [spot.point for spot in spots if spot.say.startswith("free hole") and spot.point.lower() in taken]
    assert [] == [spot for spot in spots if spot.point.split(".")[0].lower() in taken and spot.say.startswith("rail")]


def test_another_value_is_never_one_that_is_fine(name: str) -> None:
    sheet = sheet_named(name)

    assert [] == [(reading.what, one) for reading in readings(sheet) for one in reading.instead
                  if one.shows == "OL" and reading.high == inf]
    assert all(one.means for reading in readings(sheet) for one in reading.instead)


def test_limits_leave_room_and_stay_below_the_supply(name: str) -> None:
    parts = circuit_of(text_of(name)).bench.parts
    for stage in sheet_named(name).power:
        if stage.limit is None or stage.limit_loaded is None:
            continue
        part = parts[stage.supply.lower()]
        assert isinstance(part.entry, SupplyKind)
        most = min((limit for limit in (part.limit, part.entry.limit, part.entry.rated) if limit), default=5.0)
        assert 0.02 <= stage.limit <= stage.limit_loaded <= most
        assert stage.draws[0].high < stage.limit
        assert max(draw.high for draw in stage.draws) < stage.limit_loaded


def test_most_likely_faults_change_a_reading(name: str) -> None:
    """Two fifths of them before power already; others are sleeping programs, empty supplies, values within a band."""
    sheet = sheet_named(name)

    assert sheet.faults > 10
    assert sheet.found_before >= 0.4 * sheet.faults
    assert sheet.found_after >= 0.6 * sheet.faults


def test_the_lamp_probe_is_lit_and_dark_as_it_says_with_a_harmless_current(name: str) -> None:
    for probe in sheet_named(name).lamp:
        assert probe.ohms in [step * 10.0 ** decade for step in E12 for decade in range(-1, 5)]
        assert 1e-3 < probe.amps <= 3e-3
        assert [] == [hole for hole in probe.holes if not hole.lit or set(hole.lit) & set(hole.dark) or hole.amps > 4e-3]


@pytest.mark.parametrize(("volts", "ohms"), [(5.0, 1200.0), (9.0, 2700.0), (12.0, 3900.0), (6.4, 1800.0)])
def test_the_lamp_probes_resistor_is_the_next_of_the_series(volts: float, ohms: float) -> None:
    """(V - 1.8 V) / 3 mA, up to the next value: 1067, 2400, 3400, 1533 Ω."""
    assert resistor_for(volts) == ohms


# ── the pump stage, read ──────────────────────────────────────────────────────────────────────────────────────────


def before(what: str) -> Reading:
    return next(reading for reading in sheet_of(MISTER).before if reading.what.startswith(what))


def test_a_motor_is_no_short_and_says_so() -> None:
    reading = before("PUMP")

    assert reading.expect.startswith("about 30 Ω")
    assert "beeps like a short" in reading.notes[0]
    assert any(one.shows == "under 5 Ω" for one in reading.instead)


def test_a_turned_clamp_diode_is_found_before_power_with_the_motor_unplugged() -> None:
    reading = before("D1")

    assert "PUMP" in reading.hold
    assert reading.function == "diode test"
    assert any("turned round" in fault for one in reading.instead if one.shows == "OL" for fault in one.means)


def test_the_grounds_that_must_be_joined_are_measured() -> None:
    assert before("grounds of PACK and U1").expect == "under 1 Ω"


def test_what_is_kept_apart_is_measured() -> None:
    apart = [reading for reading in sheet_of(text_of("floor-bell")).before if "kept apart" in reading.what]

    assert ["OL"] == [reading.expect for reading in apart]


def test_the_pump_draws_what_its_rating_says() -> None:
    """9 V over 90 Ω less the switch and the supply's 0.1 Ω; for a moment 9.45 V over 30 Ω."""
    stage = next(stage for stage in sheet_of(MISTER).power if stage.supply == "PACK")

    assert stage.limit == 0.02
    assert stage.draws[1].amps == pytest.approx(0.099, abs=0.002)
    assert stage.draws[1].start == pytest.approx(9.45 / 30, rel=0.05)
    assert stage.limit_loaded == 0.5


def test_a_list_that_says_nothing_gives_a_sheet_with_nothing() -> None:
    assert () == sheet_of("").before
    assert sheet_of("part R1 1k in a1 a5").warning
