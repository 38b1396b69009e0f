"""The oracle's own equations of parts: currents from voltages, one small closure a part.

An element knows its nodes and ``flow``: volts of these nodes → amps that leave each of them into the part. The junction with
series resistance is solved exactly by the Wright omega function (scipy), so that every current is smooth and grows at most
linearly; SI units throughout. Textbook forms: Shockley's diode, Ebers and Moll's transport transistor, the square law for MOSFETs
(P. Horowitz, W. Hill, The Art of Electronics, 3rd ed., 2015, appendices; from memory).
"""

from __future__ import annotations

from collections.abc import Callable
from math import exp, log, log1p

from msgspec import Struct
from scipy.special import wrightomega  # type: ignore[import-untyped]

THERMAL = 0.02585
"""kT/q at 300 K, volts."""

Curve = Callable[[float], float]


class Element(Struct, frozen=True):
    """``flow`` takes one voltage a node and gives one current a node; the currents add up to nothing."""

    nodes: tuple[int, ...]
    flow: Callable[..., tuple[float, ...]]


def between(a: int, b: int, curve: Curve) -> Element:
    """A two-legged part whose current depends on its voltage alone."""
    def flow(va: float, vb: float) -> tuple[float, ...]:
        amps = curve(va - vb)
        return amps, -amps

    return Element((a, b), flow)


def resistor(a: int, b: int, ohms: float) -> Element:
    siemens = 1.0 / ohms
    return between(a, b, lambda volts: siemens * volts)


OFF_OHMS = 10e6
"""What a junction leaks when it blocks: 1 uA at 10 V, so that blocked junctions in series share a voltage."""


def current(a: int, b: int, amps: float) -> Element:
    """A forced current from a through the part to b."""
    return between(a, b, lambda volts: amps)


def source(plus: int, minus: int, volts: float, ohms: float, limit: float = 1e3) -> Element:
    """A voltage behind a resistance that gives ``limit`` at most; it takes current back without a limit."""
    def curve(across: float) -> float:
        wanted = (volts - across) / ohms
        return -wanted / float((1.0 + (max(wanted, 0.0) / limit) ** 8) ** 0.125)

    return between(plus, minus, curve)


def junction(volts: float, amps: float, ohms: float, slope: float = 1.6) -> Curve:
    """Amps of a junction as a function of its volts; it carries ``amps`` at ``volts``. ``slope`` is the emission factor."""
    scale = slope * THERMAL
    saturation = amps / exp(min((volts - amps * ohms) / scale, 600.0))
    offset = log(saturation * ohms / scale)
    return lambda v: float(scale / ohms * wrightomega(offset + (v + saturation * ohms) / scale) - saturation)


def breakdown(volts: float, ohms: float, amps: float = 1e-3) -> Curve:
    """What flows backwards once the reverse voltage passes ``volts``, where it is ``amps``."""
    knee = junction(0.5, amps, min(ohms, 0.3 / amps))
    return lambda v: -knee(0.5 - volts - v)


def soft(x: float, width: float) -> float:
    """x where it is positive, else nothing, with a round corner of that width."""
    scaled = x / width
    return x if scaled > 30.0 else width * log1p(exp(max(scaled, -700.0)))


def bipolar(c: int, b: int, e: int, sign: int, ahead_of: Curve, forward: float, back: float, emitter_stands: float,
            collector_stands: float) -> Element:
    """Transport form; ``sign`` is 1 for NPN, -1 for PNP. ``forward`` and ``back`` are the two gains."""
    emitter, collector = breakdown(emitter_stands, 5.0), breakdown(collector_stands, 5.0)

    def flow(vc: float, vb: float, ve: float) -> tuple[float, ...]:
        vbe, vbc = sign * (vb - ve), sign * (vb - vc)
        ahead, behind = ahead_of(vbe), ahead_of(vbc)
        base = ahead / forward + behind / back + emitter(vbe) + (vbe + vbc) / OFF_OHMS
        into = ahead - behind - behind / back - collector(sign * (ve - vc)) - vbc / OFF_OHMS
        return sign * into, sign * base, -sign * (base + into)

    return Element((c, b, e), flow)


def mosfet(d: int, g: int, s: int, sign: int, threshold: float, gain: float, body: Curve, drain_stands: float) -> Element:
    """Square law both ways round, body diode from source to drain; ``sign`` is 1 for an N channel, gain in A/V²."""
    avalanche = breakdown(drain_stands, 1.0)

    def channel(vgs: float, vds: float) -> float:
        over = soft(vgs - threshold, 0.02)
        drop = min(vds, over)
        return gain * (2.0 * over - drop) * drop

    def flow(vd: float, vg: float, vs: float) -> tuple[float, ...]:
        vgs, vds = sign * (vg - vs), sign * (vd - vs)
        amps = channel(vgs, vds) if vds >= 0.0 else -channel(vgs - vds, -vds)
        amps -= body(-vds) + avalanche(-vds) - vds / OFF_OHMS
        return sign * amps, 0.0, -sign * amps

    return Element((d, g, s), flow)


def regulator(vin: int, gnd: int, vout: int, volts: float, dropout: float, limit: float, quiescent: float) -> Element:
    """Holds OUT at ``volts`` above GND while IN allows it; wired wrongly, its body is three diodes."""
    back = junction(0.7, 0.1, 0.5)

    def flow(vi: float, vg: float, vo: float) -> tuple[float, ...]:
        headroom = vi - vg - dropout
        target = soft(headroom, 0.02) - soft(headroom - volts, 0.02)
        wanted = soft((target - (vo - vg)) / 0.3, 0.002)
        amps = wanted - 0.98 * soft(wanted - limit, 0.1 * limit)
        own = quiescent * soft((vi - vg) / 2.0, 0.02) / (1.0 + soft((vi - vg) / 2.0, 0.02))
        through, low, up = back(vo - vi), back(vg - vi), back(vg - vo)
        return amps + own - through - low, -own + low + up, -amps + through - up

    return Element((vin, gnd, vout), flow)
