"""The Wright omega function against scipy, and against its own equation."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.special import lambertw, wrightomega

from checker.physics import wright_omega

EVERYWHERE = np.concatenate(
    (np.linspace(-745.0, 1000.0, 20_011), np.linspace(-40.0, 40.0, 50_021), np.logspace(0.0, 12.0, 5_000))
)


def test_omega_agrees_with_scipy_to_fourteen_digits() -> None:
    np.testing.assert_allclose(wright_omega(EVERYWHERE), wrightomega(EVERYWHERE), rtol=1e-14)


def test_omega_of_a_logarithm_is_the_lambert_function() -> None:
    x = np.logspace(-8.0, 8.0, 1_000)

    np.testing.assert_allclose(wright_omega(np.log(x)), lambertw(x).real, rtol=1e-13)


def test_omega_plus_its_logarithm_is_the_argument() -> None:
    z = np.linspace(-30.0, 1e3, 10_000)
    omega = wright_omega(z)

    np.testing.assert_allclose(omega + np.log(omega), z, rtol=1e-14, atol=1e-14)


@pytest.mark.parametrize(("z", "omega"), [(1.0, 1.0), (0.0, 0.567143290409783872999968662210), (-np.inf, 0.0)])
def test_omega_has_its_known_values(z: float, omega: float) -> None:
    """omega(0) is the constant W(1), OEIS A030178."""
    assert wright_omega(np.array([z]))[0] == pytest.approx(omega, rel=1e-15, abs=0.0)
