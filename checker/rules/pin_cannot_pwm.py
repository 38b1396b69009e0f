"""A pin that the program is to pulse, but that has no pulse hardware."""

from __future__ import annotations

from collections.abc import Iterator

from checker.rules.base import Found, Rule
from checker.rules.case import Case
from parts_library.schema import Controller


def find(case: Case) -> Iterator[Found]:
    """Controller pins with the role pwm that cannot do it."""
    for key, part in case.parts(Controller):
        entry = part.entry
        assert isinstance(entry, Controller)
        for (owner, pin), (roles, span) in case.bench.roles.items():
            if owner == key and "pwm" in roles and pin not in entry.pwm:
                yield Found(rule="pin-cannot-pwm", severity="fault", span=span, case="pin", parts=(part.name,),
                            points=(f"{part.name}.{pin}",), facts={"pin": pin, "able": " ".join(entry.pwm)})

EXPLANATION = """
# What it means
The program is to pulse a pin (fade a lamp, set a motor's speed), but this pin has no timer behind it. On the
controllers meant here the pins D3, D5, D6, D9, D10 and D11 can do it. All others can only be fully on or fully off.

# Why it matters
The lamp does not fade: it stays dark below half and jumps to full light above. Nothing breaks. A pulsed pin gives 5 V
in short strokes, 490 or 980 a second; at half of the time the lamp gets 9 mA for half of it, which looks half as
bright.

# A list that has it
title "Lighthouse model: the lamp that fades"
board half
part U1 controller-5v
part LAMP led white in c10 c11 long c10
part R1 220 in e11 L-11
wire U1.GND to L-1
wire U1.D8 to a10
pin U1.D8 pwm

# The same list mended
title "Lighthouse model: the lamp that fades"
board half
part U1 controller-5v
part LAMP led white in c10 c11 long c10
part R1 220 in e11 L-11
wire U1.GND to L-1
wire U1.D9 to a10
pin U1.D9 pwm

# How to check with a meter
Power on, program at half brightness, measure the volts from GND to the pin. A pin that can be pulsed shows about 2.5 V,
the mean of 0 V and 5 V. One that cannot shows 0 V or 5 V.

# Source
Six outputs of the three timers, OC0A to OC2B: ATmega48A/PA/88A/PA/168A/PA/328/P datasheet 8271H, Atmel, August 2014,
pin configurations. Which names they have on a board: from memory.
"""

RULE = Rule("pin-cannot-pwm", "function", EXPLANATION, find)
