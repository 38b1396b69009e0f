"""What the models need of their elements, worked out once: parameters turned to (n, B), reciprocals, offsets.

Input: the element kinds of `stack`. Output: one frozen set of arrays a kind, batch on the last axis.
"""

from __future__ import annotations

from typing import Any, Self

import numpy as np
from msgspec import Struct, structs

from .limits import CONTINUATION_AMPS, CORNER_SHARE, HANDOVER_AMPS, UNLIMITED_AMPS
from .omega import wright_omega
from .stack import Bipolars, Channels, Drivers, Floats, Junctions, Sources


def batch_last(values: Floats) -> Floats:
    """(B, n) as a contiguous (n, B)."""
    return np.ascontiguousarray(np.asarray(values, dtype=np.float64).T)


FAR_SLOPES = 60.0
"""So many slopes short of breakdown a current is 1e-26 of what it is there."""


def _ceiling(limits: Floats) -> Floats:
    ceiling: Floats = np.minimum(batch_last(limits), UNLIMITED_AMPS)
    return ceiling


class Constants(Struct, frozen=True, eq=False):
    """Base: every field is an array whose last axis is the batch."""

    def take(self, keep: Any) -> Self:
        """The members ``keep``."""
        return type(self)(*(getattr(self, name)[..., keep] for name in self.__struct_fields__))

    def eased(self, share: float) -> Self:
        """With only a share of every source in it; most kinds have none."""
        return self


class JunctionConstants(Constants, frozen=True, eq=False):
    """Forward: i = unit * omega(forward_offset + v * per_slope), and likewise in reverse; ``rest`` makes i(0) = 0; above
    ``gives`` (V, negative) a junction is so far from breaking down that no current could tell."""

    saturation: Floats
    slope: Floats
    ohms: Floats
    siemens: Floats
    per_slope: Floats
    unit: Floats
    forward_offset: Floats
    breakdown: Floats
    breakdown_slope: Floats
    breakdown_ohms: Floats
    breakdown_amps: Floats
    breakdown_siemens: Floats
    per_breakdown_slope: Floats
    breakdown_unit: Floats
    reverse_offset: Floats
    rest: Floats
    gives: Floats

    @classmethod
    def of(cls, junctions: Junctions) -> JunctionConstants:
        saturation, slope, ohms = map(batch_last, (junctions.saturation, junctions.slope, junctions.ohms))
        breakdown, amps = batch_last(junctions.breakdown), batch_last(junctions.breakdown_amps)
        breakdown_slope, breakdown_ohms = batch_last(junctions.breakdown_slope), batch_last(junctions.breakdown_ohms)
        drop, breakdown_drop = saturation * ohms / slope, amps * breakdown_ohms / breakdown_slope
        unit, breakdown_unit = slope / ohms, breakdown_slope / breakdown_ohms
        reverse_offset = np.log(breakdown_drop) + breakdown_drop - breakdown / breakdown_slope
        rest = saturation - breakdown_unit * wright_omega(reverse_offset)
        return cls(
            saturation,
            slope,
            ohms,
            1.0 / ohms,
            1.0 / slope,
            unit,
            np.log(drop) + drop,
            breakdown,
            breakdown_slope,
            breakdown_ohms,
            amps,
            1.0 / breakdown_ohms,
            1.0 / breakdown_slope,
            breakdown_unit,
            reverse_offset,
            rest,
            FAR_SLOPES * breakdown_slope - breakdown,
        )


class BipolarConstants(Constants, frozen=True, eq=False):
    """``per_gain`` is (2, n, B): forward, reverse. ``most``: the exponent at which the straight continuation starts."""

    polarity: Floats
    saturation: Floats
    slope: Floats
    per_slope: Floats
    signed_per_slope: Floats
    most: Floats
    per_gain: Floats
    per_knee: Floats

    @classmethod
    def of(cls, bipolars: Bipolars) -> BipolarConstants:
        polarity, saturation, slope = map(batch_last, (bipolars.polarity, bipolars.saturation, bipolars.slope))
        per_gain = np.stack((1.0 / batch_last(bipolars.gain), 1.0 / batch_last(bipolars.reverse_gain)))
        most = np.log(CONTINUATION_AMPS / saturation)
        return cls(polarity, saturation, slope, 1.0 / slope, polarity / slope, most, per_gain, 1.0 / batch_last(bipolars.knee))


class ChannelConstants(Constants, frozen=True, eq=False):
    """``direction`` (2, n, B): the sign of each control's effect on the current."""

    polarity: Floats
    transconductance: Floats
    threshold: Floats
    slope: Floats
    direction: Floats

    @classmethod
    def of(cls, channels: Channels) -> ChannelConstants:
        polarity, transconductance = batch_last(channels.polarity), batch_last(channels.transconductance)
        direction = np.stack((np.ones_like(polarity), -np.ones_like(polarity)))
        return cls(polarity, transconductance, batch_last(channels.threshold), batch_last(channels.slope), direction)


class SourceConstants(Constants, frozen=True, eq=False):
    """Sources that have an electronic limit; ``width`` (A) of its corner."""

    volts: Floats
    siemens: Floats
    most: Floats
    width: Floats

    def eased(self, share: float) -> SourceConstants:
        return structs.replace(self, volts=self.volts * share)

    @classmethod
    def of(cls, sources: Sources) -> SourceConstants:
        most = _ceiling(sources.most)
        return cls(batch_last(sources.volts), 1.0 / batch_last(sources.ohms), most, HANDOVER_AMPS + CORNER_SHARE * most)


class DriverConstants(Constants, frozen=True, eq=False):
    """Limits with the widths (A) of their corners."""

    gain: Floats
    offset: Floats
    headroom_high: Floats
    headroom_low: Floats
    siemens: Floats
    source_limit: Floats
    sink_limit: Floats
    source_width: Floats
    sink_width: Floats

    @classmethod
    def of(cls, drivers: Drivers) -> DriverConstants:
        source_limit, sink_limit = _ceiling(drivers.source_limit), _ceiling(drivers.sink_limit)
        return cls(
            batch_last(drivers.gain),
            batch_last(drivers.offset),
            batch_last(drivers.headroom_high),
            batch_last(drivers.headroom_low),
            batch_last(drivers.siemens),
            source_limit,
            sink_limit,
            HANDOVER_AMPS + CORNER_SHARE * source_limit,
            HANDOVER_AMPS + CORNER_SHARE * sink_limit,
        )
