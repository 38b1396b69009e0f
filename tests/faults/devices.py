"""The oracle's own equations of parts: currents from voltages, one small closure a part.

Every element is a function ``(v, out)``: ``v`` are node voltages, and it adds the current that leaves each of its nodes to
``out``. The junction with series resistance is solved exactly by the Wright omega function (scipy), so that every current is
smooth and grows at most linearly; SI units throughout. Textbook forms: Shockley's diode, Ebers and Moll's transport
transistor, the square law for MOSFETs (P. Horowitz, W. Hill, The Art of Electronics, 3rd ed., 2015, appendices; from memory).
"""

from __future__ import annotations

from collections.abc import Callable
from math import exp, log

import numpy as np
from scipy.special import wrightomega

Element = Callable[[np.ndarray, np.ndarray], None]
THERMAL = 0.02585
"""kT/q at 300 K, volts."""


def resistor(a: int, b: int, ohms: float) -> Element:
    siemens = 1.0 / ohms

    def element(v: np.ndarray, out: np.ndarray) -> None:
        amps = siemens * (v[a] - v[b])
        out[a] += amps
        out[b] -= amps

    return element


def source(plus: int, minus: int, volts: float, ohms: float, limit: float = 1e3) -> Element:
    """A voltage behind a resistance that gives ``limit`` at most; it takes current back without a limit."""

    def element(v: np.ndarray, out: np.ndarray) -> None:
        wanted = (volts - (v[plus] - v[minus])) / ohms
        amps = wanted / (1.0 + (max(wanted, 0.0) / limit) ** 8) ** 0.125
        out[plus] -= amps
        out[minus] += amps

    return element


def current(a: int, b: int, amps: float) -> Element:
    """A forced current from a through the part to b."""

    def element(v: np.ndarray, out: np.ndarray) -> None:
        out[a] += amps
        out[b] -= amps

    return element


def junction(volts: float, amps: float, ohms: float, slope: float = 1.6) -> Callable[[float], float]:
    """Amps of a junction as a function of its volts; it carries ``amps`` at ``volts``. ``slope`` is the emission factor."""
    scale = slope * THERMAL
    saturation = amps / exp(min((volts - amps * ohms) / scale, 600.0))
    offset = log(saturation * ohms / scale)

    def flow(v: float) -> float:
        return scale / ohms * float(wrightomega(offset + (v + saturation * ohms) / scale)) - saturation

    return flow


def between(a: int, b: int, flow: Callable[[float], float]) -> Element:
    """A two-legged part whose current depends on its voltage alone."""

    def element(v: np.ndarray, out: np.ndarray) -> None:
        amps = flow(v[a] - v[b])
        out[a] += amps
        out[b] -= amps

    return element


def breakdown(volts: float, ohms: float) -> Callable[[float], float]:
    """What flows backwards once the reverse voltage passes ``volts``."""
    knee = junction(volts, 1e-3, ohms, slope=2.0)
    return lambda v: -knee(-v)


def bipolar(c: int, b: int, e: int, sign: int, flow: Callable[[float], float], forward: float, back: float,
            emitter_breakdown: float, collector_breakdown: float) -> Element:
    """Transport form; ``sign`` is 1 for NPN, -1 for PNP. ``forward`` and ``back`` are the two gains."""
    emitter = breakdown(emitter_breakdown, 5.0)
    collector = breakdown(collector_breakdown, 5.0)

    def element(v: np.ndarray, out: np.ndarray) -> None:
        vbe, vbc = sign * (v[b] - v[e]), sign * (v[b] - v[c])
        ahead, behind = flow(vbe), flow(vbc)
        broken, through = emitter(vbe), collector(sign * (v[e] - v[c]))
        base = ahead / forward + behind / back + broken
        into = ahead - behind - behind / back - through
        out[b] += sign * base
        out[c] += sign * into
        out[e] -= sign * (base + into)

    return element


def mosfet(d: int, g: int, s: int, sign: int, threshold: float, gain: float, body: Callable[[float], float],
           drain_breakdown: float) -> Element:
    """Square law both ways round, body diode from source to drain; ``sign`` is 1 for an N channel, gain in A/V²."""
    avalanche = breakdown(drain_breakdown, 1.0)

    def channel(vgs: float, vds: float) -> float:
        over = 0.02 * float(np.logaddexp(0.0, (vgs - threshold) / 0.02))
        drop = min(vds, over)
        return gain * (2.0 * over - drop) * drop

    def element(v: np.ndarray, out: np.ndarray) -> None:
        vgs, vds = sign * (v[g] - v[s]), sign * (v[d] - v[s])
        amps = channel(vgs, vds) if vds >= 0.0 else -channel(vgs - vds, -vds)
        amps -= body(-vds)
        amps -= avalanche(-vds)
        out[d] += sign * amps
        out[s] -= sign * amps

    return element


def regulator(vin: int, gnd: int, vout: int, volts: float, dropout: float, limit: float, quiescent: float) -> Element:
    """Holds OUT at ``volts`` above GND while IN allows it; wired wrongly, its body is three diodes."""
    flow = junction(0.7, 0.1, 0.5)

    def element(v: np.ndarray, out: np.ndarray) -> None:
        headroom = v[vin] - v[gnd] - dropout
        target = max(min(volts, headroom), 0.0)
        wanted = (target - (v[vout] - v[gnd])) / 0.02
        amps = limit * float(np.tanh(max(wanted, 0.0) / limit)) if headroom > 0.0 else 0.0
        own = quiescent * min(max((v[vin] - v[gnd]) / 2.0, 0.0), 1.0)
        out[vin] += amps + own
        out[vout] -= amps
        out[gnd] -= own
        for a, b in ((vout, vin), (gnd, vin), (gnd, vout)):
            back = flow(v[a] - v[b])
            out[a] += back
            out[b] -= back

    return element
