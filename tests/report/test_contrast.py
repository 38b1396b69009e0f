"""Ink on paper can be read: every pair of colours of the style sheet, by day and by night.

The ratio is that of WCAG 2.2 (W3C recommendation, 2023): "relative luminance" and "contrast ratio" of its glossary; the
bar is success criterion 1.4.3, level AA: 4.5 to 1 for text.
"""

from __future__ import annotations

import re

import pytest

from checker.report import stylesheet

TEXT = 4.5
INKS = ("ink", "pencil", "red", "amber", "blue", "green", "violet")
WASHES = ("red-wash", "amber-wash", "blue-wash", "green-wash", "grey-wash")


def palette(block: int) -> dict[str, str]:
    """The colours of the ``block``-th ``:root``: 0 by day, 1 by night (on top of the day's)."""
    blocks = re.findall(r":root \{(.*?)\}", stylesheet(), re.DOTALL)
    merged = "".join(blocks[: block + 1])
    return dict(re.findall(r"--([\w-]+): (#[0-9a-f]{6});", merged))


def luminance(colour: str) -> float:
    parts = [int(colour[at:at + 2], 16) / 255 for at in (1, 3, 5)]
    linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def ratio(one: str, other: str) -> float:
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def test_the_ratio_is_that_of_the_recommendation() -> None:
    """Black on white is 21 to 1; #767676 on white is the lightest grey that passes, #777777 just fails (common practice)."""
    assert ratio("#000000", "#ffffff") == pytest.approx(21)
    assert ratio("#767676", "#ffffff") >= TEXT > ratio("#777777", "#ffffff")


@pytest.mark.parametrize("night", [0, 1])
@pytest.mark.parametrize("ink", INKS)
@pytest.mark.parametrize("paper", ["paper", "sheet"])
def test_every_ink_can_be_read_on_both_papers(night: int, ink: str, paper: str) -> None:
    colours = palette(night)

    assert ratio(colours[ink], colours[paper]) >= TEXT


@pytest.mark.parametrize("night", [0, 1])
@pytest.mark.parametrize("wash", WASHES)
def test_the_list_can_be_read_where_it_is_marked(night: int, wash: str) -> None:
    colours = palette(night)

    assert ratio(colours["ink"], colours[wash]) >= TEXT


def test_the_paper_of_the_night_is_dark() -> None:
    assert luminance(palette(1)["paper"]) < 0.05 < 0.8 < luminance(palette(0)["paper"])
