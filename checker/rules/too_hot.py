"""A junction above its limit though the power rating at 25 °C is kept."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import structs

from checker.rules.base import Found, Rule
from checker.rules.case import Case
from checker.rules.limits import over_limit
from checker.rules.ratings import Rating, ratings_of
from checker.rules.weak_drive import too_small
from parts_library.schema import Regulator


def find(case: Case) -> Iterator[Found]:
    """Junction temperature at 40 °C ambient above the limit, where too-much-power does not say it already."""
    overloaded = set(too_small(case))
    for rating in ratings_of(case):
        if rating.kind == "power" and over_limit(case, rating, "too-hot", "part", case.mask("heat")):
            overloaded.add(rating.key)
        elif rating.kind == "junction" and rating.key not in overloaded:
            if (found := over_limit(case, rating, "too-hot", "part", case.mask("heat"))):
                yield found if not _saves_itself(case, rating) else structs.replace(found, severity="note", case="saves-itself")


def _saves_itself(case: Case, rating: Rating) -> bool:
    """True for a part that switches itself off when it gets too hot, and does so only while a motor is held still. Linear
    regulators do (their datasheets call it thermal shutdown or overload protection)."""
    entry = case.bench.parts[rating.key].entry
    running = case.mask("heat") & case.mask("running")
    shuts_down = isinstance(entry, Regulator) or (entry is not None and entry.thermal_shutdown)
    return shuts_down and not (rating.values > rating.limit)[running].any()

EXPLANATION = """
# What it means
The power in a part is perhaps allowed with a heat sink, but the bare part gets hotter inside than its limit. Each watt
heats a bare TO-220 regulator by about 65 degrees over the room, and a TO-92 part by 150 to 200 degrees. The room is
taken as 40 °C.

# Why it matters
A regulator for 5 V on 12 V has 7 V left over. At 300 mA that is 2.1 W, so 2.1 times 65 is 137 degrees above the room:
over the 125 °C at which it may work. It then switches itself off and on again, or fails. Less input voltage helps most:
from 7.5 V the same light costs only 0.75 W. A heat sink or less current helps too.

# A list that has it
title "Tide tank: a 5 V light from the 12 V pump supply"
board half
supply PLUG 12V
part REG 7805 in c10 c11 c12 front faces a
part LIGHT lamp-module 5V 300mA
wire PLUG.+ to a10
wire PLUG.- to L-1
wire L-11 to a11
wire LIGHT.+ to a12
wire LIGHT.- to L-20

# The same list mended
title "Tide tank: a 5 V light from the 12 V pump supply"
board half
supply PLUG 7.5V
part REG 7805 in c10 c11 c12 front faces a
part LIGHT lamp-module 5V 300mA
wire PLUG.+ to a10
wire PLUG.- to L-1
wire L-11 to a11
wire LIGHT.+ to a12
wire LIGHT.- to L-20

# How to check with a meter
With power on, measure the volts from leg IN to leg OUT of the regulator, and the current of the light with the meter in
series at 10 A. Multiply: over about 1.3 W it needs a heat sink. If it smells, or a finger held near it feels warmth,
switch off.

# Source
65 K/W from the junction to the air for the bare TO-220, 125 °C at most: LM78XX / LM78XXA 3-Terminal 1 A Positive
Voltage Regulator datasheet, Fairchild Semiconductor, Rev. 1.3.1, 2006. How to compute it: Basics of Low-Dropout
Regulators, chapter 4.2, Toshiba.
"""

RULE = Rule("too-hot", "current", EXPLANATION, find)
