"""The element models as pure functions: voltages between nodes in, branch currents and their derivatives out.

A model sees control voltages (k, n, B) of its n elements in B members (the batch is the last axis here, so that the
block of a kind is contiguous) and returns branch currents (m, n, B) and derivatives (p, n, B). Which nodes a control
voltage is between, where a branch current leaves the circuit and enters it again, and which derivative belongs to
which branch and control, is the `Shape` of the kind. All models are smooth, and none generates power.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from .constants import (
    BipolarConstants,
    ChannelConstants,
    DriverConstants,
    JunctionConstants,
    SourceConstants,
)
from .limits import ALIVE_CORNER, ALIVE_VOLTS, HANDOVER_AMPS, LIMITED_SHARE, RAIL_CORNER
from .omega import wright_omega
from .stack import Floats


class Shape(NamedTuple):
    """Topology of a kind, in terms of its terminals: pairs (plus, minus) of the controls, pairs (from, to) of the
    branches, and pairs (branch, control) of the derivatives."""

    controls: tuple[tuple[int, int], ...]
    branches: tuple[tuple[int, int], ...]
    derivatives: tuple[tuple[int, int], ...]


class Response(NamedTuple):
    """Branch currents (m, n, B) and derivatives (p, n, B)."""

    currents: Floats
    derivatives: Floats


TWO_TERMINALS = Shape(((0, 1),), ((0, 1),), ((0, 0),))
TRANSFER = Shape(((0, 1),), ((2, 3),), ((0, 0),))
# Collector 0, base 1, emitter 2. Controls: base-emitter, base-collector. Branches: transport, and the two base
# currents.
BIPOLAR = Shape(((1, 2), (1, 0)), ((0, 2), (1, 2), (1, 0)), ((0, 0), (0, 1), (1, 0), (2, 1)))
# Drain 0, gate 1, source 2. Controls: gate-source, gate-drain.
CHANNEL = Shape(((1, 2), (1, 0)), ((0, 2),), ((0, 0), (0, 1)))
# Out 0, high 1, low 2, plus 3, minus 4. Controls: difference, supply, out. Branches: sourced, sunk.
DRIVER = Shape(((3, 4), (1, 2), (0, 2)), ((1, 0), (0, 2)), ((0, 0), (0, 1), (0, 2), (1, 0), (1, 1), (1, 2)))


def softplus(x: Floats) -> Floats:
    """ln(1 + exp(x)) without overflow."""
    result: Floats = np.maximum(x, 0.0) + np.log1p(np.exp(-np.abs(x)))
    return result


def corner(x: Floats) -> Floats:
    """ln(1 + exp(-|x|)): what softplus adds to the positive part of x. Sums of clipped values and corners keep the
    digits that differences of softplus lose."""
    result: Floats = np.log1p(np.exp(-np.abs(x)))
    return result


def logistic(x: Floats) -> Floats:
    """1 / (1 + exp(-x)), the derivative of softplus, without overflow."""
    small = np.exp(-np.abs(x))
    result: Floats = np.where(x >= 0.0, 1.0, small) / (1.0 + small)
    return result


def exponential(x: Floats, most: Floats) -> tuple[Floats, Floats]:
    """exp(x) and its derivative, continued as a straight line above x = most."""
    beyond = np.maximum(x - most, 0.0)
    slope = np.exp(x - beyond)
    return slope * (1.0 + beyond), slope


def junction(voltages: Floats, constants: JunctionConstants) -> Response:
    """Diode with series resistance and breakdown, from anode to cathode."""
    voltage = voltages[0]
    forward = constants.forward_offset + voltage * constants.per_slope
    reverse = constants.reverse_offset - voltage * constants.per_breakdown_slope
    both = wright_omega(np.concatenate((forward, reverse)))
    conductances = both / (1.0 + both)
    count = len(voltage)
    current = both[:count] * constants.unit - both[count:] * constants.breakdown_unit - constants.rest
    slope = conductances[:count] * constants.siemens + conductances[count:] * constants.breakdown_siemens
    return Response(current[None], slope[None])


def bipolar(voltages: Floats, constants: BipolarConstants) -> Response:
    """Transport-form Ebers-Moll, the transport divided by a base charge that grows above the knee (Gummel-Poon's charge
    without Early effect): q = (1 + sqrt(1 + 4 I_forward / knee)) / 2."""
    exponent, slope = exponential(voltages * constants.signed_per_slope, constants.most)
    flows = constants.saturation * (exponent - 1.0)
    rises = constants.saturation * constants.per_slope * slope
    root = np.sqrt(1.0 + 4.0 * constants.per_knee * flows[0])
    charge = 0.5 * (1.0 + root)
    transport = (flows[0] - flows[1]) / charge
    rise_forward = (rises[0] - transport * constants.per_knee * rises[0] / root) / charge
    base = flows * constants.per_gain
    currents = np.concatenate((transport[None], base)) * constants.polarity
    return Response(currents, np.concatenate((rise_forward[None], -(rises[1] / charge)[None], rises * constants.per_gain)))


def channel(voltages: Floats, constants: ChannelConstants) -> Response:
    """Symmetric smooth square law: K/2 (F(vgs - threshold)^2 - F(vgd - threshold)^2), F = slope * softplus(x /
    slope)."""
    x = (voltages * constants.polarity - constants.threshold) / constants.slope
    overdrive = constants.slope * softplus(x)
    halves = overdrive * overdrive
    current = 0.5 * constants.transconductance * constants.polarity * (halves[0] - halves[1])
    rises = constants.transconductance * overdrive * logistic(x) * constants.direction
    return Response(current[None], rises)


def limited_source(voltages: Floats, constants: SourceConstants) -> Response:
    """Source behind a resistance with an electronic limit; current from plus through the source to minus, so negative
    when it delivers."""
    unlimited = (constants.volts - voltages[0]) * constants.siemens
    x = (unlimited - constants.most) / constants.width
    excess = np.maximum(unlimited - constants.most, 0.0)
    sharp = np.minimum(unlimited, constants.most) + LIMITED_SHARE * excess
    delivered = sharp - (1.0 - LIMITED_SHARE) * constants.width * corner(x)
    slope = constants.siemens * (1.0 - (1.0 - LIMITED_SHARE) * logistic(x))
    return Response(-delivered[None], slope[None])


def driver(voltages: Floats, constants: DriverConstants) -> Response:
    """Saturating stage. Controls: difference of the inputs, supply (high less low), output less low. Branches: sourced
    (high to out), sunk (out to low)."""
    difference, supply, out = voltages
    top, bottom, top_rise, bottom_rise = driver_range(supply, constants)
    target, lower, upper = driver_target(constants.offset + constants.gain * difference, bottom, top)
    above, over = logistic(lower), logistic(upper)
    push = constants.siemens * (target - out)
    per_difference = constants.siemens * constants.gain * (above - over)
    per_supply = constants.siemens * ((1.0 - above) * bottom_rise + over * top_rise)
    sourced, source_rise = _one_way(push, constants.source_limit, constants.source_width)
    sunk, sink_rise = _one_way(-push, constants.sink_limit, constants.sink_width)
    alive = logistic((supply - ALIVE_VOLTS) / ALIVE_CORNER)
    waking = alive * (1.0 - alive) / ALIVE_CORNER
    source_rise, sink_rise = alive * source_rise, -alive * sink_rise
    derivatives = np.stack(
        (
            source_rise * per_difference,
            source_rise * per_supply + waking * sourced,
            -source_rise * constants.siemens,
            sink_rise * per_difference,
            sink_rise * per_supply + waking * sunk,
            -sink_rise * constants.siemens,
        )
    )
    return Response(np.stack((alive * sourced, alive * sunk)), derivatives)


def driver_range(supply: Floats, constants: DriverConstants) -> tuple[Floats, Floats, Floats, Floats]:
    """Highest and lowest output (V above low) at this supply and their derivatives. The range closes, and never turns
    round, when the supply is too small for the headrooms."""
    room = (supply - constants.headroom_high) / RAIL_CORNER
    top, top_rise = RAIL_CORNER * softplus(room), logistic(room)
    lack = (constants.headroom_low - top) / RAIL_CORNER
    return top, constants.headroom_low - RAIL_CORNER * softplus(lack), top_rise, logistic(lack) * top_rise


def driver_target(wanted: Floats, bottom: Floats, top: Floats) -> tuple[Floats, Floats, Floats]:
    """The wanted output held smoothly between bottom and top (V above low), and how many corners it is above each."""
    lower, upper = (wanted - bottom) / RAIL_CORNER, (wanted - top) / RAIL_CORNER
    return np.clip(wanted, bottom, top) + RAIL_CORNER * (corner(lower) - corner(upper)), lower, upper


def _one_way(push: Floats, limit: Floats, width: Floats) -> tuple[Floats, Floats]:
    """The positive part of ``push`` up to ``limit``, smooth at both ends, and its derivative."""
    x, y = push / HANDOVER_AMPS, (push - limit) / width
    return np.clip(push, 0.0, limit) + HANDOVER_AMPS * corner(x) - width * corner(y), logistic(x) - logistic(y)
