"""More amps through a part than it is made for, with a resistor in the way that is too small, or none wanted."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import structs

from checker.rules.base import Found, Rule
from checker.rules.case import Case
from checker.rules.contacts import contact_currents
from checker.rules.limits import over_limit
from checker.rules.no_current_limit import wants_resistor
from checker.rules.ratings import ratings_of
from checker.rules.weak_drive import too_small

FUSES = ("fuse", "polyfuse")


def find(case: Case) -> Iterator[Found]:
    """Currents above an absolute maximum in the worst corner; LEDs, junctions and bases without any resistor are left to
    no-current-limit. Then contacts of the breadboard."""
    for rating in ratings_of(case):
        if rating.kind in ("current", *FUSES) and not wants_resistor(case, rating):
            if (found := over_limit(case, rating, "too-much-current", rating.kind if rating.kind in FUSES else "part")):
                yield _of_small(case, rating.key, found)
    yield from contact_currents(case)

def _of_small(case: Case, key: str, found: Found) -> Found:
    """Of a transistor that is too small for its load: with what the load wants."""
    if key not in too_small(case) or "load" in found.facts:
        return found
    load, amps = too_small(case)[key]
    return structs.replace(found, case="small", facts={**found.facts, "load": case.name(load), "wanted": f"{amps:.3g}"})


EXPLANATION = """
# What it means
More current flows through a part than it can take, although something limits it: the resistor is too small, or the
transistor or switch too weak for its load. Each part has a limit: 30 mA for a common LED, 200 mA for a 2N3904, 600 mA
for a PN2222A, 50 mA for a small push button. The breadboard has one too: a spring and the jumper in it are good for
about 1 A for long, and above 3 A they melt the plastic around them.

# Why it matters
Twice the rated current makes an LED dim for good within hours, three times kills it. In this list 47 Ω lets 60 mA
through a 30 mA lamp, since 5 V less the 2.2 V that the lamp then keeps, over 47 Ω, is about 60 mA. Resistors that are
ten times too small come from one misread band: yellow, violet, black is 47 Ω and yellow, violet, brown is 470 Ω.

# A list that has it
title "Model signal: the red lamp"
board half
supply PACK 5V on L+ L-
part RED led red in c10 c11 long c10
part R1 47 in b5 b10
wire L+5 to a5
wire L-11 to a11

# The same list mended
title "Model signal: the red lamp"
board half
supply PACK 5V on L+ L-
part RED led red in c10 c11 long c10
part R1 220 in b5 b10
wire L+5 to a5
wire L-11 to a11

# How to check with a meter
Take the resistor out of the board and measure it on resistance; do not trust the colours. With power on, measure the volts
across it and divide by its ohms: that is the current, and no wire needs to be opened. Over 30 mA is too much for this
LED.

# Source
Current limits: WP7113ID datasheet, Kingbright, absolute maximum ratings (from memory). Ohm's law gives the rest.
Contacts: 1 A is common practice, no source; 3 A is what new 2.54 mm contacts are rated at, from memory.
Colours of the bands: IEC 60062, marking codes for resistors and capacitors.
"""

RULE = Rule("too-much-current", "current", EXPLANATION, find)
