"""Colour bands, capacitor codes and preferred values, held against the tables of IEC 60062 and IEC 60063."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from parts_library.markings import (
    DIGIT_COLOURS,
    SERIES,
    TOLERANCES,
    MarkingError,
    bands_for,
    capacitance_from_code,
    is_preferred,
    nearest_preferred,
    read_bands,
    read_code,
    resistance_from_bands,
)

# IEC 60063, tables of the E series, from memory of the standard.
IEC_60063 = {
    "E3": "10 22 47",
    "E6": "10 15 22 33 47 68",
    "E12": "10 12 15 18 22 27 33 39 47 56 68 82",
    "E24": "10 11 12 13 15 16 18 20 22 24 27 30 33 36 39 43 47 51 56 62 68 75 82 91",
    "E96": """100 102 105 107 110 113 115 118 121 124 127 130 133 137 140 143 147 150 154 158 162 165 169 174
              178 182 187 191 196 200 205 210 215 221 226 232 237 243 249 255 261 267 274 280 287 294 301 309
              316 324 332 340 348 357 365 374 383 392 402 412 422 432 442 453 464 475 487 499 511 523 536 549
              562 576 590 604 619 634 649 665 681 698 715 732 750 768 787 806 825 845 866 887 909 931 953 976""",
}


@pytest.mark.parametrize("series", IEC_60063)
def test_each_series_is_the_list_of_the_standard(series: str) -> None:
    expected = tuple(int(value) for value in IEC_60063[series].split())

    assert expected == SERIES[series]


# IEC 60062, clause on the colour code: digits, multipliers and tolerances, from memory of the standard (2016 edition).
IEC_60062_DIGITS = "black brown red orange yellow green blue violet grey white"
IEC_60062_TOLERANCES = {"silver": 10, "gold": 5, "brown": 1, "red": 2, "orange": 0.05, "yellow": 0.02, "green": 0.5,
                        "blue": 0.25, "violet": 0.1, "grey": 0.01}


def test_digits_and_tolerances_have_the_colours_of_the_standard() -> None:
    expected = {colour: pytest.approx(per_cent / 100) for colour, per_cent in IEC_60062_TOLERANCES.items()}

    assert tuple(IEC_60062_DIGITS.split()) == DIGIT_COLOURS
    assert expected == TOLERANCES


BANDS = [  # bands -> ohms, tolerance; the first line of each group as in common teaching tables, common practice
    ("brown black red", 1_000, 0.20),
    ("red red brown gold", 220, 0.05),
    ("yellow violet red gold", 4_700, 0.05),
    ("brown black orange silver", 10_000, 0.10),
    ("orange orange gold gold", 3.3, 0.05),
    ("red violet silver red", 0.27, 0.02),
    ("brown black black brown brown", 1_000, 0.01),
    ("yellow violet black red brown", 47_000, 0.01),
    ("green blue black gold green", 56, 0.005),
    ("orange blue green brown red brown", 3_650, 0.02),
    ("Gray RED brown Gold", 820, 0.05),
    ("purple green brown gold", 750, 0.05),
    ("brown black green gold", 1_000_000, 0.05),
    ("white brown yellow gold", 910_000, 0.05),
]


@pytest.mark.parametrize(("bands", "ohms", "tolerance"), BANDS)
def test_bands_are_read_as_the_standard_says(bands: str, ohms: float, tolerance: float) -> None:
    assert [ohms, tolerance] == pytest.approx(list(resistance_from_bands(bands.split())))


NO_BANDS = [
    ("red red", "a resistor has 3 to 6 bands, here are 2"),
    ("red " * 7, "a resistor has 3 to 6 bands, here are 7"),
    ("red pinkish brown gold", "'pinkish' is no colour of the resistor code"),
    ("gold brown red red", "gold is no digit; read the bands from the other end"),
    ("brown black red black", "black is no tolerance; read the bands from the other end"),
    ("brown black black red brown white", "white is no temperature coefficient; read the bands from the other end"),
]


@pytest.mark.parametrize(("bands", "message"), NO_BANDS)
def test_bands_that_say_nothing_are_refused_with_the_reason(bands: str, message: str) -> None:
    with pytest.raises(MarkingError) as caught:
        resistance_from_bands(bands.split())

    assert message == str(caught.value)


OTHER_END = [
    ("red red brown gold", None),  # gold ends it
    ("brown black black brown brown", 110.0),  # brown at both ends: 1 k from here, 110 from there
    ("brown red red", 220.0),
]


@pytest.mark.parametrize(("bands", "ohms"), OTHER_END)
def test_bands_that_make_sense_from_both_ends_say_so(bands: str, ohms: float | None) -> None:
    assert read_bands(bands.split()).from_other_end == ohms


@given(st.sampled_from(SERIES["E24"]), st.integers(-1, 5), st.sampled_from([0.05, 0.10, 0.20]))
def test_two_figure_values_come_back_from_their_own_bands(figures: int, exponent: int, tolerance: float) -> None:
    ohms = float(f"{figures}e{exponent}")
    bands = bands_for(ohms, tolerance)

    assert [ohms, tolerance] == pytest.approx(list(resistance_from_bands(bands)))
    assert len(bands) == (3 if tolerance == 0.20 else 4)


@given(st.sampled_from(SERIES["E96"]), st.integers(-2, 4), st.sampled_from(sorted(TOLERANCES.values())[:8]))
def test_three_figure_values_come_back_from_their_own_bands(figures: int, exponent: int, tolerance: float) -> None:
    ohms = float(f"{figures}e{exponent}")
    bands = bands_for(ohms, tolerance)

    assert [ohms, tolerance] == pytest.approx(list(resistance_from_bands(bands)))
    assert len(bands) == 5


CODES = [  # code -> picofarads, tolerance; IEC 60062, letter and digit codes of capacitors, from memory
    ("104", 100_000, None), ("104K", 100_000, 0.10), ("103J", 10_000, 0.05), ("222", 2_200, None),
    ("471", 470, None), ("22", 22, None), ("5", 5, None), ("100", 10, None), ("479", 4.7, None),
    ("4R7", 4.7, None), ("4R7C", 4.7, 0.25 / 4.7), ("p47", 0.47, None), ("4p7", 4.7, None), ("n47", 470, None),
    ("4n7", 4_700, None), ("100n", 100_000, None), ("2u2", 2_200_000, None), ("2µ2", 2_200_000, None),
    ("105Z", 1_000_000, 0.80), ("104m", 100_000, 0.20), ("2A104J", 100_000, 0.05),
]  # fmt: skip


@pytest.mark.parametrize(("code", "picofarads", "tolerance"), CODES)
def test_capacitor_codes_are_read_as_the_standard_says(code: str, picofarads: float, tolerance: float | None) -> None:
    read, spread = capacitance_from_code(code)

    assert picofarads == pytest.approx(read)
    assert tolerance == (spread if tolerance is None else pytest.approx(spread))


@pytest.mark.parametrize(("code", "volts"), [("1H104K", 50), ("2A104J", 100), ("1E106M", 25), ("1J334", 63), ("104", None)])
def test_a_voltage_code_before_the_value_is_the_rating(code: str, volts: float | None) -> None:
    assert read_code(code).volts == volts


@pytest.mark.parametrize("code", ["", "abc", "1044", "000", "R", "n", "10X", "104KK", "-104", "0"])
def test_a_code_that_says_nothing_is_refused_with_examples(code: str) -> None:
    with pytest.raises(MarkingError, match="is no capacitor code; one looks like 104, 104K or 4n7"):
        capacitance_from_code(code)


NEAREST = [(101, "E12", 100), (4_600, "E12", 4_700), (5_000, "E12", 4_700), (9_600, "E6", 10_000), (950, "E24", 910),
           (0.26, "E12", 0.27), (12_345, "E96", 12_400), (97, "E6", 100)]


@pytest.mark.parametrize(("ohms", "series", "expected"), NEAREST)
def test_the_nearest_preferred_value_is_nearest_by_ratio(ohms: float, series: str, expected: float) -> None:
    assert nearest_preferred(ohms, series) == pytest.approx(expected)


@given(st.floats(1e-2, 1e7), st.sampled_from(sorted(SERIES)))
def test_the_nearest_preferred_value_is_one_of_the_series(ohms: float, series: str) -> None:
    assert is_preferred(nearest_preferred(ohms, series), series)
