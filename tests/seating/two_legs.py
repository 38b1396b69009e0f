"""Two legs: which end the band, the stripe or the longer leg is at.

Written out by hand from the design: the band of a diode and of a zener is the cathode; the longer leg of an LED is the
anode, the flat of its rim is at the cathode (both common practice, no source); the stripe of an aluminium electrolytic
is at the negative leg, the bar of a tantalum capacitor at the positive one (common practice, no source). A
phototransistor in an LED's case is the other way round: its shorter leg, at the flat, is the collector (memory; the
caution in the parts library).
"""

from __future__ import annotations

ONE_WAY: tuple[tuple[str, str], ...] = (
    # Diodes: the band is the cathode, in whatever order the holes are named.
    ("part D1 1N4001 in d12 d18 band d18", "A:d12 K:d18"),
    ("part D1 1N4001 in d12 d18 band d12", "A:d18 K:d12"),
    ("part D1 1N4001 in d18 d12 band d18", "A:d12 K:d18"),
    ("part D1 1N4001 in d12 d18 stripe d12", "A:d18 K:d12"),
    ("part D1 1N4001 in d12 d18 cathode d18", "A:d12 K:d18"),
    ("part D1 1N4001 in d12 d18 anode d18", "A:d18 K:d12"),
    ("part D1 1N4001 in d12 d18 band d18 anode d12", "A:d12 K:d18"),
    ("part D1 1N4001 in d12 d18 band row 12", "A:d18 K:d12"),
    ("part D1 1N4001 in c12 h12 band h12", "A:c12 K:h12"),
    ("part D1 1N4001 in L+12 a12 band L+12", "A:a12 K:L+12"),
    ("part D1 1N4001 in L+12 a12 band L+", "A:a12 K:L+12"),
    ("part D1 1N4148 in d12 d16 band d12", "A:d16 K:d12"),
    ("part D1 1N4733A in d12 d18 band d12", "A:d18 K:d12"),
    # LEDs: long is the anode; short, and the flat of the rim, the cathode.
    ("part D1 led red in d12 d13 long d12", "A:d12 K:d13"),
    ("part D1 led red in d12 d13 long d13", "A:d13 K:d12"),
    ("part D1 led red in d12 d13 short d12", "A:d13 K:d12"),
    ("part D1 led red in d12 d13 flat d12", "A:d13 K:d12"),
    ("part D1 led red in d12 d13 flat d13", "A:d12 K:d13"),
    ("part D1 led red in d12 d13 anode d13", "A:d13 K:d12"),
    ("part D1 led red in d12 d13 cathode d13", "A:d12 K:d13"),
    ("part D1 led red in d12 d13 long d12 flat d13", "A:d12 K:d13"),
    ("part D1 red led in d12 and d13, long leg d12", "A:d12 K:d13"),
    # Electrolytics: the stripe is the negative leg, the longer one the positive.
    ("part C1 100uF 25V in d12 d13 stripe d12", "+:d13 -:d12"),
    ("part C1 100uF 25V in d12 d13 stripe d13", "+:d12 -:d13"),
    ("part C1 100uF 25V in d12 d13 long d13", "+:d13 -:d12"),
    ("part C1 100uF 25V in d12 d13 short d13", "+:d12 -:d13"),
    ("part C1 100uF 25V in d12 d13 plus d13", "+:d13 -:d12"),
    ("part C1 100uF 25V in d12 d13 minus d13", "+:d12 -:d13"),
    # Tantalum: the bar is the positive leg.
    ("part C1 tantalum 10uF 25V in d12 d13 stripe d12", "+:d12 -:d13"),
    ("part C1 tantalum 10uF 25V in d12 d13 band d13", "+:d13 -:d12"),
    ("part C1 tantalum 10uF 25V in d12 d13 plus d12", "+:d12 -:d13"),
    ("part C1 tantalum 10uF 25V in d12 d13 long d13", "+:d13 -:d12"),
    # Buzzer, photodiode, phototransistor.
    ("part BZ1 buzzer in d12 d15 plus d12", "+:d12 -:d15"),
    ("part BZ1 buzzer in d12 d15 plus d15", "+:d15 -:d12"),
    ("part BZ1 buzzer in d12 d15 long d15", "+:d15 -:d12"),
    ("part D1 photodiode in d12 d13 long d12", "A:d12 K:d13"),
    ("part Q1 phototransistor in d12 d13 long d12", "E:d12 C:d13"),
    ("part Q1 phototransistor in d12 d13 short d12", "C:d12 E:d13"),
    ("part Q1 phototransistor in d12 d13 flat d12", "C:d12 E:d13"),
    # Claims: agreed, alone, measured.
    ("part D1 1N4001 in d12 d18 band d18 as A K", "A:d12 K:d18"),
    ("part D1 1N4001 in d12 d18 as K A", "A:d18 K:d12"),
    ("part D1 1N4001 in d12 d18 as cathode anode", "A:d18 K:d12"),
    ("part D1 1N4001 in d12 d18 band d18 as K A measured", "A:d18 K:d12"),
    ("part C1 100uF 25V in d12 d13 as - +", "+:d13 -:d12"),
    # Either way round: the first hole is pin 1.
    ("part R1 1k in d12 d18", "1:d12 2:d18"),
    ("part R1 1k in d18 d12", "1:d18 2:d12"),
    ("part R1 220 in L+12 a12", "1:L+12 2:a12"),
    ("part C1 100nF in d12 d13", "1:d12 2:d13"),
    ("part TH1 thermistor in d12 d15", "1:d12 2:d15"),
    ("part F1 fuse 500mA in d12 d20", "1:d12 2:d20"),
)

SEVERAL_WAYS: tuple[tuple[str, tuple[str, ...], str], ...] = (
    ("part D1 1N4001 in d12 d18", ("A:d12 K:d18", "A:d18 K:d12"), "marking-unsaid"),
    ("part D1 led red in d12 d13", ("A:d12 K:d13", "A:d13 K:d12"), "marking-unsaid"),
    ("part C1 100uF 25V in d12 d13", ("+:d12 -:d13", "+:d13 -:d12"), "marking-unsaid"),
    ("part C1 tantalum 10uF 25V in d12 d13", ("+:d12 -:d13", "+:d13 -:d12"), "marking-unsaid"),
    ("part BZ1 buzzer in d12 d15", ("+:d12 -:d15", "+:d15 -:d12"), "marking-unsaid"),
    ("part D1 1N4001 in d12 d18 band d18 as K A", ("A:d12 K:d18", "A:d18 K:d12"), "claim-contradicts-marking"),
    ("part D1 1N4001 in d12 d18 band d12 anode d12", ("A:d18 K:d12", "A:d12 K:d18"), "claim-contradicts-marking"),
    ("part D1 led red in d12 d13 long d12 flat d12", ("A:d12 K:d13", "A:d13 K:d12"), "claim-contradicts-marking"),
    ("part C1 100uF 25V in d12 d13 long d12 stripe d12", ("+:d12 -:d13", "+:d13 -:d12"), "claim-contradicts-marking"),
)

ASKED_BACK: tuple[tuple[str, str, int], ...] = (
    ("part D1 1N4001 in d12 d18 band d15", "bad-value mark-elsewhere", 2),
    ("part BZ1 buzzer in d12 d15 plus d20", "bad-value mark-elsewhere", 2),
    ("part D1 1N4001 in d12 d18 notch row 12", "bad-value mark-without-leg", 2),
    ("part D1 1N4001 in d12 d18 long d12", "bad-value mark-not-on-package", 2),
    ("part D1 led red in d12 d13 band d12", "bad-value mark-not-on-package", 2),
    ("part C1 100uF 25V in d12 d13 dot d12", "bad-value mark-not-on-package", 2),
    ("part D1 1N4001 in d12 d18 as A A", "bad-value claim-count", 2),
    ("part D1 1N4001 in d12 d18 as A B", "unknown-point claim-pin", 2),
    ("part R1 1k in d12", "bad-value leg-count", 0),
    ("part R1 1k in d12 d13 d14", "bad-value leg-count", 0),
    ("part R1 1k across 10-12", "bad-value not-for-across", 0),
)
