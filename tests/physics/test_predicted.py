"""States of a bridge chip: what its outputs do follows from the pins on its inputs, so that no combination is lost."""

from __future__ import annotations

from pathlib import Path

import pytest

from checker.survey import survey
from parts_library import load_library

CAR = (Path(__file__).parents[1] / "clear" / "two-motor-car-on-l293d.legs").read_text("utf-8")


def test_every_setting_of_the_six_pins_is_looked_at_and_nothing_is_cut() -> None:
    operating = survey([CAR], load_library())[0].operatings[0]

    settings = {tuple(point.state[f"U1.{pin}"] for pin in ("D2", "D3", "D4", "D5", "D9", "D10"))
                for point in operating.points if point.phase == "steady" and point.corner.name == "nominal"}
    assert not operating.plan.bounded
    assert 2 ** 6 == len(settings)


@pytest.mark.parametrize(
    ("enable", "first", "second", "out_first", "out_second"),
    [("high", "high", "low", "high", "low"), ("high", "low", "high", "low", "high"), ("high", "low", "low", "low", "low"),
     ("low", "high", "low", "released", "released")],
)
def test_the_outputs_follow_their_inputs_and_their_enable(enable: str, first: str, second: str, out_first: str,
                                                          out_second: str) -> None:
    operating = survey([CAR], load_library())[0].operatings[0]
    wanted = {"U1.D9": enable, "U1.D2": first, "U1.D3": second}

    seen = {(point.state["U2.OUT1"], point.state["U2.OUT2"]) for point in operating.points
            if all(point.state.get(name) == option for name, option in wanted.items())}
    assert {(out_first, out_second)} == seen
