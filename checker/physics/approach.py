"""Where on its curve a device is met next: the step control at the devices.

Newton's method replaces each device by the tangent at its last voltages. On an exponential the plain next point is
often absurd: a tangent taken at rest says nothing of the current to come. So the solver keeps, for each device, the
voltages it is linearised at, and chooses the next ones here from the plain proposal and the tangent. It only chooses
where to linearise; the network equations are solved in full each time.

All arrays are (k, n, B) as in `devices`.
"""

from __future__ import annotations

import numpy as np

from .constants import BipolarConstants, ChannelConstants, DriverConstants, JunctionConstants, SourceConstants
from .devices import Response, driver_range, driver_target, logistic, softplus
from .limits import (
    ALIVE_CORNER,
    ALIVE_VOLTS,
    CLOSE_SLOPES,
    FALL_SHARE,
    FLOOR_AMPS,
    HANDOVER_AMPS,
    KNEE_AMPS,
    LIFE_FLOOR,
    OVERDRIVE_FLOOR,
    RAIL_CORNER,
)
from .stack import Bools, Floats


def start_junction(constants: JunctionConstants) -> Floats:
    """Met first as if it conducted."""
    knee: Floats = constants.slope * np.log1p(KNEE_AMPS / constants.saturation) + KNEE_AMPS * constants.ohms
    return knee[None]


def start_bipolar(constants: BipolarConstants) -> Floats:
    """Met first as an amplifier: base-emitter conducting, base-collector at rest."""
    knee = constants.polarity * constants.slope * np.log1p(KNEE_AMPS / constants.saturation)
    return np.stack((knee, np.zeros_like(knee)))


def start_channel(constants: ChannelConstants) -> Floats:
    """Met first a volt above its threshold, saturated."""
    above = constants.polarity * (constants.threshold + 1.0)
    return np.stack((above, np.zeros_like(above)))


def start_source(constants: SourceConstants) -> Floats:
    """Met first without load."""
    return constants.volts[None]


def start_driver(constants: DriverConstants) -> Floats:
    """Met first in the middle of a 5 V supply, where its gain is full."""
    middle = np.full_like(constants.gain, 2.5)
    difference = (middle - constants.offset) / np.where(constants.gain == 0.0, np.inf, constants.gain)
    return np.stack((difference, 2.0 * middle, middle))


def approach_junction(proposed: Floats, previous: Floats, response: Response, constants: JunctionConstants) -> Floats:
    """Forward, and in breakdown, a junction goes to the voltage that carries the tangent's current (`_aim`)."""
    proposal, last = proposed[0], previous[0]
    current = response.currents[0]
    aimed = current + response.derivatives[0] * (proposal - last)
    rising = proposal > last
    forward = _aim(aimed, current, rising, KNEE_AMPS)
    top = constants.slope * np.log1p(forward / constants.saturation) + forward * constants.ohms
    met = np.where(proposal > top + CLOSE_SLOPES * constants.slope, top, proposal)
    if not (proposal < constants.gives).any():
        return met[None]
    back = _aim(-aimed, -current, ~rising, constants.breakdown_amps)
    bottom = constants.breakdown_slope * np.log(back / constants.breakdown_amps) + constants.breakdown
    bottom = -(bottom + (back - constants.breakdown_amps) * constants.breakdown_ohms)
    return np.where(proposal < bottom - CLOSE_SLOPES * constants.breakdown_slope, bottom, met)[None]


def approach_bipolar(proposed: Floats, previous: Floats, response: Response, constants: BipolarConstants) -> Floats:
    """Both junctions as in `approach_junction`, without breakdown."""
    moves = (proposed - previous) * constants.polarity
    current = response.currents[1:] * constants.polarity / constants.per_gain
    aimed = current + response.derivatives[2:] * moves / constants.per_gain
    top = constants.slope * np.log1p(_aim(aimed, current, moves > 0.0, KNEE_AMPS) / constants.saturation)
    far = proposed * constants.polarity > top + CLOSE_SLOPES * constants.slope
    return np.where(far, top * constants.polarity, proposed)


def approach_channel(proposed: Floats, previous: Floats, response: Response, constants: ChannelConstants) -> Floats:
    """Where conduction falls, the overdrive goes to the root of the tangent's square, and on by decades when that is
    nothing. Rising is left alone: a square is no exponential, and gates are mostly driven hard."""
    last = previous * constants.polarity - constants.threshold
    plain = proposed * constants.polarity - constants.threshold
    overdrive = constants.slope * softplus(last / constants.slope)
    square = overdrive * (overdrive + 2.0 * logistic(last / constants.slope) * (plain - last))
    floor = OVERDRIVE_FLOOR * constants.slope
    middle = np.where(overdrive > 10.0 * floor, np.sqrt(overdrive * floor), np.inf)
    aim = np.where(square > 0.0, np.sqrt(np.abs(square)), middle) / constants.slope
    top = constants.slope * (aim + np.log(-np.expm1(-aim)))
    far = (plain < last) & (plain > top + CLOSE_SLOPES * constants.slope)
    return np.where(far, (top + constants.threshold) * constants.polarity, proposed)


def approach_driver(proposed: Floats, previous: Floats, response: Response, constants: DriverConstants) -> Floats:
    """A stage never goes from one rail to the other in one step, nor from one current limit to the other: it is met
    in the middle, where its gain is full. Neither does its supply come or go in one step."""
    met = proposed.copy()
    met[1] = _supply(proposed[1], previous[1])
    top, bottom, _, _ = driver_range(met[1], constants)
    wanted = constants.offset + constants.gain * proposed[0]
    before = constants.offset + constants.gain * previous[0]
    crossed = _crossed(before, wanted, bottom, top, 4.0 * RAIL_CORNER)
    middle = 0.5 * (top + bottom)
    met[0] = np.where(crossed, (middle - constants.offset) / np.where(crossed, constants.gain, 1.0), proposed[0])
    target, _, _ = driver_target(np.where(crossed, middle, wanted), bottom, top)
    pushed = constants.siemens * (driver_target(before, bottom, top)[0] - previous[2])
    push = constants.siemens * (target - proposed[2])
    overrun = _crossed(pushed, push, -constants.sink_limit, constants.source_limit, 4.0 * HANDOVER_AMPS)
    half = 0.5 * (constants.source_limit - constants.sink_limit)
    met[2] = np.where(overrun, target - half / constants.siemens, proposed[2])
    return met


def _supply(proposed: Floats, last: Floats) -> Floats:
    """The supply voltage at which a stage is met: at the voltage where it comes to life, if it has stepped across;
    below that, where life is an exponential, at the life that its tangent foretells, or decades lower if that is
    none."""
    life = logistic((last - ALIVE_VOLTS) / ALIVE_CORNER)
    foretold = life + life * (1.0 - life) * (proposed - last) / ALIVE_CORNER
    lower = np.where(life > 10.0 * LIFE_FLOOR, np.sqrt(life * LIFE_FLOOR), 0.0)
    aim = np.minimum(np.where(foretold > 0.0, foretold, lower), 0.5)
    least = ALIVE_VOLTS + ALIVE_CORNER * np.log(aim / (1.0 - aim))
    falls = (proposed < last) & (proposed < least - 0.5 * ALIVE_CORNER)
    rises = (last < ALIVE_VOLTS - 4.0 * ALIVE_CORNER) & (proposed > ALIVE_VOLTS + 4.0 * ALIVE_CORNER)
    return np.where(falls, least, np.where(rises, ALIVE_VOLTS, proposed))


def _crossed(before: Floats, after: Floats, low: Floats, high: Floats, margin: float) -> Bools:
    """Whether a value has gone from beyond one bound to beyond the other."""
    return ((before > high) & (after < low - margin)) | ((before < low) & (after > high + margin))


def approach_freely(proposed: Floats, previous: Floats, response: Response, constants: object) -> Floats:
    """No step control."""
    return proposed


def _aim(aimed: Floats, current: Floats, rising: Bools, knee: Floats | float) -> Floats:
    """The current to go to on an exponential, from that of its tangent.

    Where conduction rises it may have to rise by many decades: from nothing to the knee at once, from a little at
    least to the (logarithmic) middle between the tangent's current and the knee. Where it falls the tangent's current
    is right, unless there is none left: a fall of a few slopes is taken as it is, a longer one to the middle between the
    last current and none, and without limit (infinity) once that is nothing."""
    some = current > 100.0 * FLOOR_AMPS
    up = np.maximum(aimed, np.where(some, np.sqrt(np.maximum(aimed, FLOOR_AMPS) * knee), knee))
    middle = np.where(some & (aimed < -FALL_SHARE * current), np.sqrt(np.maximum(current, FLOOR_AMPS) * FLOOR_AMPS), np.inf)
    result: Floats = np.where(rising, up, np.where(aimed > 0.0, aimed, middle))
    return result
