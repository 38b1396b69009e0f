"""Quantities are read in every common spelling, refused with a reason, and printed the way people write them."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from grammar import QuantityError, read_quantity, show_quantity
from grammar.quantities import UNITS

# Prefixes and unit symbols: the SI Brochure (BIPM, 9th edition, tables 2, 4 and 7). A letter in place of the decimal
# point: IEC 60062, letter codes R, K, M, p, n, µ (from memory). The other spellings: common practice, no source.
READ = [
    ("4k7", 4700, ""),
    ("4.7k", 4700, ""),
    ("4,7k", 4700, ""),
    ("4K7", 4700, ""),
    ("4 k", 4000, ""),
    ("1K", 1000, ""),
    ("4R7", 4.7, "ohm"),
    ("R47", 0.47, "ohm"),
    ("0R", 0, "ohm"),
    ("220R", 220, "ohm"),
    ("220", 220, ""),
    ("1kΩ", 1000, "ohm"),
    ("1k\u2126", 1000, "ohm"),
    ("1 kohm", 1000, "ohm"),
    ("1k ohms", 1000, "ohm"),
    ("10kOhm", 10_000, "ohm"),
    ("4k7 ohm", 4700, "ohm"),
    ("2.2M", 2.2e6, ""),
    ("1meg", 1e6, ""),
    ("1MEG", 1e6, ""),
    ("1 megohm", 1e6, "ohm"),
    ("2M2", 2.2e6, ""),
    ("1m", 1e-3, ""),
    ("1mohm", 1e-3, "ohm"),
    ("1Mohm", 1e6, "ohm"),
    ("100n", 100e-9, ""),
    ("0.1uF", 100e-9, "F"),
    ("10µF", 10e-6, "F"),
    ("10μF", 10e-6, "F"),
    ("10mF", 10e-3, "F"),
    ("10UF", 10e-6, "F"),
    ("22p", 22e-12, ""),
    ("470nF", 470e-9, "F"),
    ("4n7", 4.7e-9, ""),
    ("4u7F", 4.7e-6, "F"),
    ("1F", 1, "F"),
    ("220mA", 0.22, "A"),
    ("220 mA", 0.22, "A"),
    ("220MA", 0.22, "A"),
    ("2A", 2, "A"),
    (".5A", 0.5, "A"),
    ("1A5", 1.5, "A"),
    ("10 milliamps", 0.01, "A"),
    ("5V", 5, "V"),
    ("5v", 5, "V"),
    ("3V3", 3.3, "V"),
    ("9 volts", 9, "V"),
    ("9VDC", 9, "V"),
    ("230 V AC", 230, "V"),
    ("-5V", -5, "V"),
    ("\u22125V", -5, "V"),
    ("-220", -220, ""),
    ("+5V", 5, "V"),
    ("1/4W", 0.25, "W"),
    ("1/2 W", 0.5, "W"),
    ("½W", 0.5, "W"),
    ("0.5W", 0.5, "W"),
    ("100mW", 0.1, "W"),
    ("1/4 watt", 0.25, "W"),
    ("5%", 0.05, "%"),
    ("±5%", 0.05, "%"),
    ("+/-5%", 0.05, "%"),
    ("5 %", 0.05, "%"),
    ("70 percent", 0.7, "%"),
    ("16MHz", 16e6, "Hz"),
    ("16mhz", 16e6, "Hz"),
    ("1kHz", 1000, "Hz"),
    ("10ms", 0.01, "s"),
    ("2 s", 2, "s"),
    ("40degC", 40, "degC"),
    ("40 °C", 40, "degC"),
    ("200K/W", 200, "K/W"),
    ("200 °C/W", 200, "K/W"),
    ("5mJ", 5e-3, "J"),
    ("10uH", 10e-6, "H"),
    ("1e3", 1000, ""),
    ("1.5e-3A", 1.5e-3, "A"),
    ("  4k7 ", 4700, ""),
    ("4k7\u00a0ohm", 4700, "ohm"),
]


@pytest.mark.parametrize(("text", "value", "unit"), READ)
def test_a_spelling_is_read_as_its_value_and_unit(text: str, value: float, unit: str) -> None:
    quantity = read_quantity(text)

    assert quantity.value == pytest.approx(value, rel=1e-15)
    assert (unit, text) == (quantity.unit, quantity.text)


REFUSED = [
    ("1kk", "two prefixes", "1k"),
    ("4k7k", "both k and k", "4k7"),
    ("3V3A", "both V and A", "3V3"),
    ("22O", "not known: O", "220"),
    ("l0k", "is no quantity", "10k"),
    ("1O0", "is no quantity", "100"),
    ("1,000", "thousands or a decimal comma", "1000"),
    ("1.000 ohm", "thousands or a decimal point", "1000 ohm"),
    ("4.700", "thousands or a decimal point", "4700"),
    ("10MF", "millions of farads", "10uF"),
    ("±15V", "only a tolerance", None),
    ("1/0W", "divides by zero", None),
    ("5Q", "not known: Q", None),
    ("k47", "a number comes first", "0k47"),
    ("1e999", "too large", None),
    ("abc", "is no quantity", None),
    ("", "is no quantity", None),
    ("4k7 in b5", "is no quantity", None),
    ("1" * 50, "is no quantity", None),
    ("١٢", "is no quantity", None),
]


@pytest.mark.parametrize(("text", "reason", "suggestion"), REFUSED)
def test_a_text_that_is_no_quantity_is_refused_with_a_reason(text: str, reason: str, suggestion: str | None) -> None:
    with pytest.raises(QuantityError) as caught:
        read_quantity(text)

    assert reason in caught.value.reason
    assert suggestion == caught.value.suggestion


@pytest.mark.parametrize("suggestion", [suggestion for _, _, suggestion in REFUSED if suggestion])
def test_every_suggestion_can_itself_be_read(suggestion: str) -> None:
    assert math.isfinite(read_quantity(suggestion).value)


@pytest.mark.parametrize(
    "spellings",
    [
        ("100n", "0.1u", "0,1µ", "100000p"),
        ("4k7", "4.7k", "4700", "4.7e3"),
        ("220mA", "0.22A", "220000uA"),
        ("1/4W", "250mW", "0.25 W"),
    ],
)
def test_spellings_of_one_value_give_the_very_same_float(spellings: tuple[str, ...]) -> None:
    values = {read_quantity(spelling).value for spelling in spellings}

    assert 1 == len(values)


SHOWN = [
    (0.098, "A", "98 mA"),
    (4700, "ohm", "4.7 kΩ"),
    (0.15, "V", "0.15 V"),
    (0.1, "V", "0.1 V"),
    (0.0999, "V", "99.9 mV"),
    (8.4, "W", "8.4 W"),
    (0.625, "W", "625 mW"),
    (math.inf, "V", "infinite"),
    (-math.inf, "A", "minus infinite"),
    (math.nan, "A", "unknown"),
    (0, "V", "0 V"),
    (-0.098, "A", "-98 mA"),
    (0.9996, "A", "1 A"),
    (999.4, "ohm", "999 Ω"),
    (999.6, "ohm", "1 kΩ"),
    (99.96, "V", "100 V"),
    (100e-9, "F", "100 nF"),
    (0.0022, "F", "2200 µF"),
    (22e-12, "F", "22 pF"),
    (16e6, "Hz", "16 MHz"),
    (0.05, "%", "5 %"),
    (200, "K/W", "200 K/W"),
    (40, "degC", "40 °C"),
    (4700, "", "4.7 k"),
    (1e-18, "A", "0 A"),
    (12.345, "V", "12.3 V"),
    (0.01, "s", "10 ms"),
]


@pytest.mark.parametrize(("value", "unit", "shown"), SHOWN)
def test_a_value_is_printed_for_people(value: float, unit: str, shown: str) -> None:
    assert shown == show_quantity(value, unit)


@given(st.floats(min_value=1e-9, max_value=9e5), st.sampled_from(UNITS), st.sampled_from((1, -1)))
def test_what_is_printed_can_be_read_again_to_three_digits(size: float, unit: str, sign: int) -> None:
    quantity = read_quantity(show_quantity(sign * size, unit))

    assert unit == quantity.unit
    assert sign * size == pytest.approx(quantity.value, rel=6e-3)


@given(st.text(max_size=12))
def test_any_text_is_read_or_refused_but_never_fails_otherwise(text: str) -> None:
    try:
        quantity = read_quantity(text)
    except QuantityError as error:
        assert error.reason
    else:
        assert quantity.unit in UNITS
        assert math.isfinite(quantity.value)
