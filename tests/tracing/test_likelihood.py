"""How readings are compared and questions are weighed, against scipy (multivariate normal, numerical integration) and by hand."""

from __future__ import annotations

from math import log2, sqrt

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.stats import multivariate_normal, norm

from checker.tracing.choosing import Expected, asked, best_question, told_apart
from checker.tracing.likelihood import CORNER_WIDTHS, SLIP_CHANCE, SLIP_RANGE, Belief, own_width, posterior
from checker.tracing.model import Prediction, Probe, Seen

VOLTS, AMPS, LOOK = Probe("volts", "b10"), Probe("amps", "R1"), Probe("look", "LED1", look="lit")

WIDTHS = [
    # prediction, probe, read, last digit, standard deviation: the root of the squares of what is beside it
    (Prediction(5.0, scale=5.0), VOLTS, 5.0, 0.01, sqrt(0.07**2 + 0.10**2)),  # 1 % of 5 V and 2 digits; 2 % of 5 V
    (Prediction(0.0), VOLTS, 0.0, 0.01, 0.02),  # 2 digits
    (Prediction(0.7, scale=0.7), VOLTS, 0.700, 0.001, sqrt(0.009**2 + 0.014**2)),
    (Prediction(5.0, scale=5.0), VOLTS, 5.0, 0.1, sqrt(0.07**2 + 0.10**2 + 0.1**2 / 12)),  # rounded to 0.1 V
    (Prediction(0.0, scale=5.0), VOLTS, 0.0, 0.01, sqrt(0.02**2 + 0.10**2)),  # the difference of two voltages of 5 V
    (Prediction(3.0, scale=3.0, loose=True), VOLTS, 3.0, 0.01, sqrt(0.05**2 + 0.06**2 + 0.05**2)),
    (Prediction(0.1, scale=0.1), AMPS, 0.1, 1e-4, sqrt(0.0012**2 + 0.002**2)),
    (Prediction(5.0, scale=5.0, known=False), VOLTS, 5.0, 0.01, 3.0),
]


@pytest.mark.parametrize(("prediction", "probe", "read", "digit", "expected"), WIDTHS)
def test_the_width_of_a_reading(prediction: Prediction, probe: Probe, read: float, digit: float, expected: float) -> None:
    assert own_width(prediction, probe, read, digit) == pytest.approx(expected, rel=1e-9)


def test_readings_one_by_one_are_as_likely_as_all_at_once() -> None:
    """Spreads move all predictions together: the readings are one Gaussian with the covariance D + M Mᵀ, here from scipy."""
    predictions = [Prediction(9.0, (0.45, 0.0, 0.0, 0.0, 0.0), 9.0), Prediction(6.0, (0.30, 0.0, 0.1, 0.0, 0.0), 6.0),
                   Prediction(2.0, (0.05, 0.0, -0.1, 0.0, 0.2), 2.0)]
    values = [8.7, 5.8, 2.05]
    belief = Belief()
    for prediction, value in zip(predictions, values, strict=True):
        belief.take(prediction, Seen(VOLTS, value, "", 0.01))
    moves = np.array([one.moves for one in predictions]) / CORNER_WIDTHS
    own = [own_width(one, VOLTS, value, 0.01) for one, value in zip(predictions, values, strict=True)]
    together = multivariate_normal(mean=[9.0, 6.0, 2.0], cov=np.diag(np.square(own)) + moves @ moves.T).logpdf(values)

    assert belief.log_likelihood == pytest.approx(together, abs=0.02)  # a slip of the pen takes 0.3 % of each


def test_a_tired_supply_that_was_measured_is_expected_elsewhere() -> None:
    """9 V, at worst 8.1 V (two widths of 0.45 V). Read as 8.4 V with 0.208 V of its own (root of 0.104² and 0.18²), the supply is
    believed to be low by 0.6 V * 0.45² / (0.45² + 0.208²) = 0.494 V; half of it is expected half way down."""
    supply, half = Prediction(9.0, (0.9, 0.0, 0.0, 0.0, 0.0), 9.0), Prediction(4.5, (0.45, 0.0, 0.0, 0.0, 0.0), 4.5)
    belief = Belief()
    belief.take(supply, Seen(VOLTS, 8.4, "", 0.01))
    mean, _ = belief.expects(half, VOLTS)

    assert mean == pytest.approx(4.5 - 0.494 / 2, abs=0.002)


def test_one_absurd_reading_costs_no_more_than_a_slip_of_the_pen() -> None:
    belief = Belief()
    belief.take(Prediction(5.0, (0.5, 0.0, 0.0, 0.0, 0.0), 5.0), Seen(VOLTS, 500.0, "", 0.5))

    assert belief.log_likelihood == pytest.approx(np.log(SLIP_CHANCE / SLIP_RANGE["volts"]))
    assert belief.mean.tolist() == [0.0] * 5  # and says nothing about the supply


@pytest.mark.parametrize(("chance", "seen", "likelihood"), [(0.97, 1.0, 0.97), (0.97, 0.0, 0.03), (0.5, 1.0, 0.5)])
def test_a_look_is_as_likely_as_its_chance(chance: float, seen: float, likelihood: float) -> None:
    belief = Belief()
    belief.take(Prediction(chance), Seen(LOOK, seen, ""))

    assert np.exp(belief.log_likelihood) == pytest.approx(likelihood)


def test_the_posterior_is_prior_times_likelihood() -> None:
    """Bayes by hand: 0.1 * 0.97, 0.3 * 0.03, over their sum 0.106."""
    beliefs = [Belief(), Belief()]
    for belief, chance in zip(beliefs, (0.97, 0.03), strict=True):
        belief.take(Prediction(chance), Seen(LOOK, 1.0, ""))

    assert posterior([0.1, 0.3], beliefs) == pytest.approx([0.097 / 0.106, 0.009 / 0.106])


def expected(means: list[float], width: float, probe: Probe = VOLTS) -> Expected:
    return Expected(probe, {}, np.array(means), np.full(len(means), width))


BITS = [
    # expected readings, their width, chances, bits
    ([0.0, 5.0], 0.1, [0.5, 0.5], 1.0),
    ([0.0, 5.0, 9.0, 2.0], 0.05, [0.25] * 4, 2.0),
    ([5.0, 5.0, 5.0], 0.1, [0.2, 0.3, 0.5], 0.0),
    ([0.0, 5.0], 0.1, [0.9, 0.1], -0.9 * log2(0.9) - 0.1 * log2(0.1)),
    ([0.0, 0.0, 5.0, 5.0], 0.1, [0.1, 0.4, 0.2, 0.3], 1.0),
]


@pytest.mark.parametrize(("means", "width", "chances", "bits"), BITS)
def test_what_a_probe_tells_in_bits(means: list[float], width: float, chances: list[float], bits: float) -> None:
    assert asked(expected(means, width), np.array(chances)).bits == pytest.approx(bits, abs=0.01)


@pytest.mark.parametrize("gap", [0.5, 1.0, 2.0, 3.0, 5.0])
def test_of_two_that_overlap_it_tells_no_more_than_there_is(gap: float) -> None:
    """Two bells, ``gap`` widths apart: the information from scipy's numerical integration. Halving the line between them keeps
    most of it, and can add none."""
    def integrand(x: float) -> float:
        one, other = norm.pdf(x), norm.pdf(x, gap)
        mixed = (one + other) / 2.0
        return float(sum(p / 2.0 * log2(p / mixed) for p in (one, other) if p > 1e-300))

    whole = quad(integrand, -8.0, gap + 8.0)[0]
    told = asked(expected([0.0, gap], 1.0), np.array([0.5, 0.5])).bits

    assert 0.6 * whole <= told <= whole + 0.01


def test_a_look_tells_what_its_chances_tell() -> None:
    """Two equally likely, 97 % and 3 %: 1 bit less the entropy of 0.03, which is 0.194."""
    assert asked(expected([0.97, 0.03], 0.2, LOOK), np.array([0.5, 0.5])).bits == pytest.approx(1.0 - 0.194, abs=0.001)


def test_outcomes_are_cut_where_a_meter_tells_them_apart_and_the_wide_one_goes_with_both() -> None:
    one = Expected(VOLTS, {}, np.array([0.0, 0.02, 4.9, 5.0, 2.4]), np.array([0.05, 0.05, 0.2, 0.2, 2.0]))
    outcomes = asked(one, np.full(5, 0.2)).outcomes

    assert [(o.low, o.high, sorted(o.numbers)) for o in outcomes] == [(0.0, 0.02, [0, 1, 4]), (4.9, 5.0, [2, 3, 4])]


def test_of_two_that_tell_the_same_the_easier_is_asked() -> None:
    leg = Expected(Probe("volts", "R1.1", leg_at="b11"), {}, np.array([0.0, 5.0]), np.array([0.1, 0.1]))
    row = Expected(Probe("volts", "d12"), {}, np.array([0.0, 5.0]), np.array([0.1, 0.1]))
    chances = np.array([0.5, 0.5])
    best = best_question([leg, row], chances)

    assert best is not None
    assert best.probe.name == "d12"
    assert best_question([expected([5.0, 5.0], 0.1)], chances) is None


@pytest.mark.parametrize(("means", "width", "apart"), [([0.0, 0.2], 0.05, True), ([0.0, 0.1], 0.05, False)])
def test_two_are_told_apart_beyond_two_and_a_half_widths(means: list[float], width: float, apart: bool) -> None:
    assert told_apart(0, 1, [expected(means, width)]) is apart
