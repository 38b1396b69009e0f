"""The corners at which a circuit is looked at: one table, each row with its reason.

A corner says for each spread quantity whether it is low (-1), nominal (0) or high (+1). Which numbers low and high are
is a fact of the part (battery fresh or spent, gain of the datasheet); what has no figure of its own takes ``SPREAD``.
"""

from __future__ import annotations

from msgspec import Struct

AMBIENT = 40.0
"""Ambient temperature of the heat corner, degrees C: DESIGN table of corners, a warm room with the board in a box."""

SPREAD = 0.05
"""Supplies without figures of their own: ±5 % (common practice, no source; module regulators and adapters)."""

USB_LOW, USB_HIGH = 4.75, 5.25
"""USB 2.0 specification, table 7-7: VBUS at a high-power port, volts."""


class Corner(Struct, frozen=True):
    """One row: the sign of each spread, whether motors are held still, and what the corner decides."""

    name: str
    say: str
    supply: int = 0
    resistor: int = 0
    gain: int = 0
    threshold: int = 0
    stalled: bool = False
    skew: int = 0
    heat: bool = False
    function: bool = False


NOMINAL = Corner("nominal", "with everything at its nominal value", heat=True, function=True)

CORNERS: tuple[Corner, ...] = (
    NOMINAL,
    # a motor held by hand is the ordinary start of every motor: its heat counts with all else nominal
    Corner("stalled", "with motors held still", stalled=True, heat=True),
    # the most current: fresh supply, low resistors, high gain, low forward voltages
    Corner("supply-high", "with the supply high and resistors low", supply=1, resistor=-1, gain=1, threshold=-1, heat=True),
    Corner("supply-high-stalled", "with the supply high, resistors low and motors held still", supply=1, resistor=-1, gain=1,
           threshold=-1, stalled=True),
    # the hottest switch: a high supply that a weakly driven transistor has to hold off
    Corner("lowest-gain", "with the supply high and the transistor at its lowest gain", supply=1, resistor=1, gain=-1,
           threshold=1, heat=True),
    # the weakest drive: a spent supply, high resistors, low gain, high thresholds
    Corner("supply-low", "with the supply low, resistors high and gain low", supply=-1, resistor=1, gain=-1, threshold=1),
)

SKEWS: tuple[Corner, ...] = (
    # two supplies of the same name are never the same: 4.9 V against 5.1 V is common practice, no source
    Corner("first-supply-high", "with the first supply high and the others low", skew=1, heat=True),
    Corner("first-supply-low", "with the first supply low and the others high", skew=-1, heat=True),
)

BY_NAME = {corner.name: corner for corner in (*CORNERS, *SKEWS)}


def corners_for(sources: int) -> tuple[Corner, ...]:
    """The corners of a circuit with so many sources of its own: supplies can only differ where there are two."""
    return CORNERS + (SKEWS if sources > 1 else ())
