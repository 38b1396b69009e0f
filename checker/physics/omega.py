"""The Wright omega function of a real argument: the w > 0 with w + ln w = z.

It solves an exponential in series with a resistance in closed form, so that a diode with its series resistance needs no
inner node. numpy has no such function and scipy is not a dependency, hence this one.

Input: any real array, minus infinity included. Output: omega of each element, relative error below 1e-14.
"""

from __future__ import annotations

import numpy as np

from .stack import Floats

# Below this omega(z) = exp(z) to the last bit, since its next term is exp(2 z) and exp(-37) < 1e-16.
EXPONENTIAL_BELOW = -37.0


def wright_omega(z: Floats) -> Floats:
    """omega(z), elementwise; its derivative is omega / (1 + omega).

    First guess: the uniform estimate of Iacono and Boyd (New approximations to the principal real-valued
    branch of the Lambert W-function, 2017), within 2 %, written for ln x = z. Then one fourth-order step of Fritsch,
    Shafer and Crowley (Algorithm 443, 1973) in the logarithmic form of Lawrence, Corless and Jeffrey (Algorithm 917,
    2012), and one Newton step. References from memory; the tests measure the error."""
    result: Floats = np.exp(np.minimum(z, 0.0))
    near = z >= EXPONENTIAL_BELOW
    if near.all():
        return _near(z)
    # most junctions of a board block, and one of the two ends of each is far from breaking down
    result[near] = _near(z[near])
    return result


def _near(z: Floats) -> Floats:
    """omega(z) from ``EXPONENTIAL_BELOW`` on."""
    soft = np.maximum(z, 0.0) + np.log1p(np.exp(-np.abs(z)))
    w = soft * (1.0 - np.log1p(soft) / (2.0 + soft))
    rest = z - w - np.log(w)
    above = 1.0 + w
    double = 2.0 * above * (above + rest * (2.0 / 3.0))
    w = w * (1.0 + rest / above * (double - rest) / (double - 2.0 * rest))
    finer: Floats = w * (1.0 + (z - w - np.log(w)) / (1.0 + w))
    return finer
