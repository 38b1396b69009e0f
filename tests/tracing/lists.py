"""The lists of these tests, and how they are made ready."""

from __future__ import annotations

from functools import lru_cache

from checker.examples import text_of
from checker.operating.points import State
from checker.survey import survey
from checker.tracing import Seen, Trace, Tracer, seen_in, state_in
from parts_library import load_library

LIBRARY = load_library()

DIVIDER = """\
title "Tide tank probe"
board half
supply PACK 9V on L+ L-
part R1 1k in b5 b10
part R2 2k in c10 c15
wire L+ to a5
wire a15 to L-
"""

LAMP = """\
title "Tide tank lamp"
board half
supply PACK 9V on L+ L-
part R1 470 in a5 a10
part LED1 led red in b10 b15 long b10
wire L+ to c5
wire c15 to L-
"""

MEGOHMS = """\
title "Dew probe"
board half
supply PACK 9V on L+ L-
part R1 10M in b5 b10
wire L+ to a5
wire L- to a15
"""

APART = """\
title "Two buoys"
board half
supply PACK 9V on L+ L-
supply OTHER 5V on R+ R-
part R1 1k in b5 b10
part R2 1k in g5 g10
wire L+ to a5
wire a10 to L-
wire R+ to j5
wire j10 to R-
"""

COIN_SLOT = """\
title "Coin slot"
board half
part U1 controller-5v
part Q1 phototransistor in c10 c12 as C E measured
part R1 10k in b12 b17
wire U1.5V to a10
wire U1.A1 to a12
wire U1.GND to a17
pin U1.A1 analog
"""

LONG_TABLE = """\
title "Long table"
board half
supply B1 aa-pack-4 on L+ L-
part LED1 led green in a20 a22 long a20
part R1 270 in b22 b15
wire L+20 to b20
wire L-15 to a15
"""

FERRY_CLOCK = """\
title "Ferry clock, one figure"
part U1 controller-5v
part DS seven-segment common-cathode
part RA 470
part RB 470
wire U1.D7 to RA.1
wire U1.D8 to RB.1
wire RA.2 to DS.A
wire RB.2 to DS.B
wire DS.COM1 to U1.GND
"""

MISTER = text_of("seed-tray-mister")


@lru_cache(maxsize=16)
def tracer_of(text: str) -> Tracer:
    return Tracer(survey([text], LIBRARY)[0], LIBRARY)


def readings(text: str, typed: str) -> list[Seen]:
    """``U1.D9=high? b16=4.9V``: a word with a question mark is the state of those behind it."""
    circuit = tracer_of(text).circuit
    found: list[Seen] = []
    state: State = {}
    for word in typed.split():
        if word.endswith("?"):
            state = state_in([word[:-1]], circuit)
        else:
            found.append(seen_in(word, circuit, state))
    return found


def traced(text: str, typed: str) -> Trace:
    return tracer_of(text).trace(readings(text, typed))
