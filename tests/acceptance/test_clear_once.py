"""Lists that came out clear once although they cannot work or do harm: each with the verdict, the rules of its findings besides
notes, and words of the first headline. The numbers beside a row are worked out by hand."""

from __future__ import annotations

import pytest

from checker import check

BOARD = "part U1 controller-5v\n"
RELAY_STAGE = ("supply P 12V limit 1A\n" + BOARD + "part K1 relay-12v\npart Q1 BC337\npart R1 {}\npart D1 1N4007\n"
               "wire U1.D7 to R1.1\n"
               "wire R1.2 to Q1.B\nwire Q1.E to U1.GND to P.-\nwire Q1.C to K1.A2\nwire K1.A1 to P.+\npin U1.D7 output\n")

SHIFTED = ("part R1 470\npart D1 led red\nwire U1.5V to U2.16\nwire U1.GND to U2.8\nwire U2.13 to U1.GND\nwire U1.D11 to U2.14\n"
           "wire U1.D13 to U2.11\nwire U1.D10 to U2.12\nwire U2.15 to R1.1\nwire R1.2 to D1.A\nwire D1.K to U1.GND\n"
           "pin U1.D10, U1.D11, U1.D13 output\n")

MULTIPLEXER = ("part U2 74HC4051\npart RV1 10k pot\npart RV2 10k pot\nwire U1.5V to U2.VCC to RV1.1 to RV2.1\n"
               "wire U1.GND to U2.GND to RV1.3 to RV2.3 to U2.B to U2.C\nwire U1.D2 to U2.A\nwire RV1.W to U2.X0\n"
               "wire RV2.W to U2.X1\nwire U2.X to U1.A0\npin U1.D2 output\npin U1.A0 analog\n")

# what it is, the list, verdict, rules, words of the headline
ROWS = [
    # ── loads that get too little ──
    ("a 12 V relay on 5 V: it pulls in from three quarters, 9 V",
     BOARD + "part K1 relay-12v\npart Q1 BC337\npart R1 1k\npart D1 1N4007\nwire U1.D7 to R1.1\nwire R1.2 to Q1.B\n"
     "wire Q1.E to U1.GND\n"
     "wire Q1.C to K1.A2\nwire K1.A1 to U1.5V\nwire D1.A to Q1.C\nwire D1.K to U1.5V\npin U1.D7 output\n",
     "will-not-work", ["weak-drive"], "K1 gets 4.9"),
    ("a 5 V relay of 70 ohm behind 220 ohm: 5 V * 70 / 290 = 1.2 V",
     "supply P 5V\npart S1 switch\npart R1 220\npart K1 relay-5v\npart D1 1N4001\nwire P.+ to S1.1\nwire S1.2 to R1.1\n"
     "wire R1.2 to K1.A1 to D1.K\nwire K1.A2 to D1.A to P.-\n", "will-not-work", ["weak-drive"], "K1 gets 1.2"),
    ("a 12 V motor on two cells",
     "supply P aa-pack-2\npart S1 switch\npart M1 motor 12V 200mA\npart D1 1N4001\nwire P.+ to S1.1\nwire S1.2 to M1.1 to D1.K\n"
     "wire M1.2 to D1.A to P.-\n", "will-not-work", ["weak-drive"], "M1 gets 2.9"),
    ("a 12 V buzzer on a 5 V pin",
     BOARD + "part BZ buzzer-12v\nwire U1.D8 to BZ.+\nwire BZ.- to U1.GND\npin U1.D8 output\n",
     "will-not-work", ["weak-drive"], "BZ gets 4.7"),
    ("a blue LED below a MOSFET as follower: 5 V - 2.1 V are left for LED and resistor",
     BOARD + "part Q1 2N7000\npart R1 220\npart D1 led blue\nwire U1.5V to Q1.D\nwire Q1.S to R1.1\nwire R1.2 to D1.A\n"
     "wire D1.K to U1.GND\nwire U1.D3 to Q1.G\npin U1.D3 output\n", "will-not-work", ["weak-drive"], "D1 gets only"),
    ("a coil shunted by its reversed diode, beside a second one that is right: 0.7 V are left",
     RELAY_STAGE.format("100k") + "wire D1.K to Q1.C\nwire D1.A to P.+\npart D2 1N4001\nwire D2.A to D1.K\nwire D2.K to D1.A\n",
     "will-not-work", ["diode-reversed"], "D1 is the wrong way round"),
    # ── inputs of chips that nobody thought of ──
    ("a shift register whose clear (pin 10) is in no wire: SN74HC595 data sheet, SCLS041, no pull-up inside",
     BOARD + "part U2 74HC595\n" + SHIFTED, "will-not-work", ["input-floating"], "U2.SRCLR is joined to nothing"),
    ("the same on the board: the strip of its clear is empty",
     "board full rails joined\n" + BOARD + "part U2 74HC595 across 10-17 notch row 10\npart R1 470 in j11 j4\n"
     "part D1 led red in h4 h2 long h4\nwire U1.5V to R+\nwire U1.GND to R-\nwire R- to L-\nwire R+10 to j10\nwire L-17 to a17\n"
     "wire R-13 to j13\nwire U1.D11 to j12\nwire U1.D10 to j14\nwire U1.D13 to j15\nwire R-2 to j2\n"
     "pin U1.D10, U1.D11, U1.D13 output\n", "will-not-work", ["input-floating"], "U2.SRCLR is joined to nothing"),
    ("a CMOS timer whose reset is open",
     "supply P 5V\npart U1 TLC555\npart RA 10k\npart RB 100k\npart C1 1uF\npart R1 330\npart D1 led red\n"
     "wire P.+ to U1.8 to RA.1\n"
     "wire P.- to U1.1 to C1.-\nwire RA.2 to U1.7 to RB.1\nwire RB.2 to U1.6 to U1.2 to C1.+\nwire U1.3 to R1.1\n"
     "wire R1.2 to D1.A\n"
     "wire D1.K to P.-\n", "will-not-work", ["input-floating"], "U1.RESET is joined to nothing"),
    ("a counter whose reset is open",
     "supply P 9V\npart U1 CD4017\npart S1 button-2\npart R1 10k\npart R2 1k\npart D1 led red\nwire P.+ to U1.16 to S1.1\n"
     "wire P.- to U1.8 to U1.13 to R1.2 to D1.K\nwire S1.2 to U1.14 to R1.1\nwire U1.3 to R2.1\nwire R2.2 to D1.A\n",
     "will-not-work", ["input-floating"], "U1.RST is joined to nothing"),
    # ── legs that need a wire of their own ──
    ("the emitter of an LM311's output is in no wire: the lamp's 9 mA would go into OUT and come out nowhere",
     "supply P 12V\npart U1 LM311\npart R1 10k\npart TH1 thermistor 10k\npart RV1 10k pot\npart R2 1k\npart D1 led green\n"
     "wire P.+ to U1.V+ to R1.1 to RV1.1 to R2.1\nwire P.- to U1.V- to TH1.2 to RV1.3\nwire R1.2 to TH1.1 to U1.IN+\n"
     "wire RV1.W to U1.IN-\nwire R2.2 to D1.A\nwire D1.K to U1.OUT\n",
     "will-not-work", ["supply-pin-open"], "leg EMIT of U1 reaches nothing"),
    ("a converter whose reference is in no wire",
     BOARD + "part U2 MCP3008\npart RV1 10k pot\nwire U1.5V to U2.VDD to RV1.1\nwire U1.GND to U2.AGND to U2.DGND to RV1.3\n"
     "wire RV1.W to U2.CH0\nwire U1.D13 to U2.CLK\nwire U1.D12 to U2.DOUT\nwire U1.D11 to U2.DIN\nwire U1.D10 to U2.CS\n"
     "pin U1.D10, U1.D11, U1.D13 output\npin U1.D12 input\n",
     "will-not-work", ["supply-pin-open"], "leg VREF of U2 reaches nothing"),
    ("an analogue switch whose negative supply is in no wire",
     BOARD + MULTIPLEXER + "wire U1.GND to U2.INH\n", "will-not-work", ["supply-pin-open"], "leg VEE of U2 reaches nothing"),
    ("the same with VEE on ground and nothing at INH",
     BOARD + MULTIPLEXER + "wire U1.GND to U2.VEE\n", "will-not-work", ["input-floating"], "U2.INH is joined to nothing"),
    ("a buffer of a 74AHCT125 whose own enable is in no wire",
     BOARD + "part U2 74AHCT125\npart R1 470\npart D1 led red\nwire U1.5V to U2.VCC\nwire U1.GND to U2.GND to D1.K\n"
     "wire U1.D6 to U2.1A\nwire U2.1Y to R1.1\nwire R1.2 to D1.A\npin U1.D6 output\n",
     "will-not-work", ["input-floating"], "U2.1OE is joined to nothing"),
    ("a decoder that is switched off for good: G1 on ground",
     BOARD + "part U2 74HC138\npart R1 470\npart D1 led red\nwire U1.5V to U2.VCC to R1.1\n"
     "wire U1.GND to U2.GND to U2.G1 to U2.G2A to U2.G2B to U2.B to U2.C\nwire U1.D2 to U2.A\nwire R1.2 to D1.A\n"
     "wire D1.K to U2.Y1\npin U1.D2 output\n", "will-not-work", ["chip-stopped"], "U2.G1 is always low"),
    ("a polymer fuse of 0.5 A before a lamp of 1.2 A: it trips from 1 A",
     "supply P 6V limit 3A\npart F1 polyfuse 500mA\npart H1 heater 6V 1.2A\nwire P.+ to F1.1\nwire F1.2 to H1.1\n"
     "wire H1.2 to P.-\n", "will-not-work", ["too-much-current"], "the fuse F1 trips"),
    # ── inputs and lines that never change ──
    ("a button and a resistor that both go to ground",
     BOARD + "part S1 button-2\npart R1 10k\nwire U1.D2 to S1.1 to R1.1\nwire R1.2 to U1.GND\nwire S1.2 to U1.GND\n"
     "pin U1.D2 input\n",
     "will-not-work", ["level-mismatch"], "U1.D2 reads low whatever S1 does"),
    ("an internal pull-up and a button to 5 V: high in both positions",
     BOARD + "part S1 button-2\npart R1 1k\npart D1 led red\nwire U1.D2 to S1.1\nwire S1.2 to U1.5V\nwire R1.1 to U1.5V\n"
     "wire R1.2 to D1.A\nwire D1.K to U1.GND\npin U1.D2 pullup\n",
     "will-not-work", ["level-mismatch"], "U1.D2 reads high whatever S1 does"),
    ("the one resistor of a one-wire line goes to GND: it rests at 0 V, and high starts at 0.6 of the supply",
     BOARD + "part T1 DS18B20\npart R1 4k7\nwire T1.VDD to U1.5V\nwire T1.GND to U1.GND\nwire T1.DQ to U1.D4 to R1.1\n"
     "wire R1.2 to U1.GND\npin U1.D4 bus\n", "will-not-work", ["no-pull-up"], "the bus line U1.D4 is never high"),
    # ── switches inside a chip ──
    ("an array's COM at minus: 12 V - 1.3 V over 400 ohm keep the relay pulled in through the clamp diode",
     "supply P wall-adapter-12v\n" + BOARD + "part U2 ULN2803A\npart K1 relay-12v\nwire U1.D2 to U2.1\nwire U2.18 to K1.A2\n"
     "wire K1.A1 to P.+\nwire U2.10 to P.-\nwire U2.9 to P.- to U1.GND\npin U1.D2 output\n",
     "will-not-work", ["never-switches"], "K1 runs whatever U1.D2 says"),
    # ── grounds and levels ──
    ("a display whose ground leg is on a bus line",
     BOARD + "part O1 oled-display\npart R1 4k7\npart R2 4k7\nwire U1.5V to O1.VCC to R1.1 to R2.1\n"
     "wire U1.A4 to O1.SDA to R1.2\n"
     "wire U1.A5 to O1.GND to R2.2\npin U1.A4 bus\npin U1.A5 bus\n", "will-not-work", ["supply-pin-open"],
     "O1.GND is on U1.A5, which is no ground"),
    ("pull-ups of a 3.3 V board to 5 V: the clamps hold the pins at 3.9 V, and 3.6 V is the limit",
     "part U1 controller-3v3\npart O1 oled-display\npart R1 4k7\npart R2 4k7\nwire U1.3V3 to O1.VCC\nwire U1.GND to O1.GND\n"
     "wire U1.A4 to O1.SDA to R1.1\nwire U1.A5 to O1.SCL to R2.1\nwire R1.2 to R2.2 to U1.5V\npin U1.A4 bus\npin U1.A5 bus\n",
     "do-not-power", ["too-much-voltage"], "U1.A4"),
    # ── one cause, one finding ──
    ("three white LEDs in a row at 5 V, about 3 V each",
     BOARD + "part R1 100\npart D1 led white\npart D2 led white\npart D3 led white\nwire U1.D5 to R1.1\nwire R1.2 to D1.A\n"
     "wire D1.K to D2.A\nwire D2.K to D3.A\nwire D3.K to U1.GND\npin U1.D5 output\n",
     "will-not-work", ["never-conducts"], "D1, D2 and D3 in a row need about"),
    ("a lamp between the two contacts of a relay whose COM is open",
     "supply P wall-adapter-12v\n" + BOARD + "part Q1 2N3904\npart R1 2k2\npart K1 relay-5v\npart D1 1N4148\n"
     "part LA led-strip-12v\n"
     "wire U1.5V to K1.A1 to D1.K\nwire K1.A2 to Q1.C to D1.A\nwire Q1.E to U1.GND\nwire U1.D4 to R1.1\nwire R1.2 to Q1.B\n"
     "wire P.+ to K1.NO\nwire K1.NC to LA.+\nwire LA.- to P.-\npin U1.D4 output\n",
     "will-not-work", ["no-return-path"], "current through LA has no way back"),
    ("a display whose common pin is in no wire: no supply is missing, two pins feed it",
     BOARD + "part DS 7-segment common-cathode\npart R1 330\npart R2 330\nwire U1.D2 to R1.1\nwire R1.2 to DS.A\n"
     "wire U1.D3 to R2.1\nwire R2.2 to DS.B\npin U1.D2, U1.D3 output\n"
     "", "will-not-work", ["never-conducts"], "DS never gets any current"),
    ("a transistor whose legs are E C B, wired as E B C: the pin feeds its collector",
     "board half\nsupply P 9V on L+ L-\n" + BOARD + "part Q1 C1815 in c10 c11 c12 flat faces a\npart R1 1k in b11 b16\n"
     "part R2 470 in d12 d20\npart D1 led red in c20 c23 long c23\nwire U1.D9 to a16\nwire U1.GND to L-\nwire L-10 to a10\n"
     "wire L+23 to a23\npin U1.D9 output\n", "will-not-work", ["transistor-legs-swapped"], "the legs of Q1 are exchanged"),
    # (5 V - 0.7 V) / 10 kohm = 0.43 mA at the base; backwards the gain is about 1, so 0.9 mA instead of 13 mA reach the LED
    ("an LED below a transistor that is turned round: its reverse gain leaves a fifteenth of the current",
     "board half\nsupply P 5V on L+ L-\npart Q1 2N3904 in c10 c11 c12 flat faces j\npart R2 10k in b11 L+11\n"
     "part R1 220 in a12 a16\npart LED1 led red in b16 L+16 long L+16\nwire L-10 to a10\n",
     "will-not-work", ["transistor-legs-swapped"], "the legs of Q1 are exchanged"),
    # 12 V less 0.7 V less 5 V leave 5 V and more across a coil that lets go below 1.2 V: once pulled in, it stays
    ("the clamp pin of a driver array on 5 V, its relays on 12 V",
     BOARD + "supply P 12V limit 2A\npart U2 ULN2803A\npart K1 relay-12v\nwire U1.D2 to U2.1\nwire U2.9 to U1.GND to P.-\n"
     "wire U2.10 to U1.5V\nwire P.+ to K1.A1\nwire U2.18 to K1.A2\npin U1.D2 output\n",
     "will-not-work", ["never-switches"], "K1 runs whatever U1.D2 says"),
    # ── what does not stay as it is ──
    # 12 V / (1.2 + 2 * 0.05) ohm = 9.2 A leave 0.9 V for the coil, which lets go below 1.2 V: no position agrees with itself
    ("a switch beside the lamp instead of in its way, behind the contact of a relay on the same cells",
     "supply PACK aa-pack-8\npart S1 switch\npart S2 switch\npart K1 relay-12v\npart D1 1N4148\npart LA1 lamp 12V 100mA\n"
     "wire PACK.+ to S1.1 to K1.COM\nwire S1.2 to K1.A1 to D1.K\nwire PACK.- to K1.A2 to D1.A\n"
     "wire K1.NO to LA1.1 to S2.1\nwire S2.2 to LA1.2 to PACK.-\n",
     "do-not-power", ["supply-shorted"], "K1 and S2 join plus and minus of PACK"),
    ("an inverter whose output is its own input, with no capacitor that would set a pace",
     "supply P 5V\npart U1 74HC04\npart C2 100nF\npart R1 470\npart D1 led red\nwire P.+ to U1.14 to C2.1\n"
     "wire P.- to U1.7 to C2.2 to U1.5 to U1.9 to U1.11 to U1.13 to D1.K\nwire U1.1 to U1.2 to U1.3\nwire U1.4 to R1.1\n"
     "wire R1.2 to D1.A\n", "look-first", ["never-settles"], "U1.1Y and U1.2Y never come to rest"),
    # ── an input that rules over its chip ──
    ("a 555 whose RESET lies at 0 V: OUT stays low",
     "supply P 5V\npart U1 NE555\npart RA 10k\npart RB 33k\npart C1 10uF\npart R1 220\npart D1 led red\n"
     "wire P.+ to U1.8 to RA.1\nwire P.- to U1.1 to C1.- to D1.K to U1.4\nwire RA.2 to U1.7 to RB.1\n"
     "wire RB.2 to U1.6 to U1.2 to C1.+\nwire U1.3 to R1.1\nwire R1.2 to D1.A\n",
     "will-not-work", ["chip-stopped"], "U1.RESET is always low"),
    ("a counter whose INH lies at plus takes no clock",
     "supply P 9V\npart U1 CD4017\npart S1 button-2\npart R1 10k\npart R2 1k\npart D1 led red\nwire P.+ to U1.16 to S1.1\n"
     "wire P.+ to U1.13\nwire P.- to U1.8 to U1.15 to R1.2 to D1.K\nwire S1.2 to U1.14 to R1.1\nwire U1.3 to R2.1\n"
     "wire R2.2 to D1.A\n", "will-not-work", ["chip-stopped"], "U1.INH is always high"),
    ("a flip-flop whose clear is pulled to 0 V by 10 k: its input takes nothing",
     BOARD + "part U2 74HC74\npart R1 10k\npart R2 1k\npart D1 led red\nwire U1.5V to U2.14 to U2.1PRE\n"
     "wire U1.GND to U2.7 to R1.1 to D1.K\nwire R1.2 to U2.1CLR\nwire U1.D2 to U2.1D\nwire U1.D3 to U2.1CLK\n"
     "wire U2.1Q to R2.1\nwire R2.2 to D1.A\npin U1.D2, U1.D3 output\n",
     "will-not-work", ["chip-stopped"], "U2.1CLR is always low"),
    ("an analogue switch that its INH keeps open",
     BOARD + "part U2 74HC4051\npart RV1 pot 10k\nwire U1.5V to U2.16 to U2.INH to RV1.1\n"
     "wire U1.GND to U2.8 to U2.7 to U2.A to U2.B to U2.C to RV1.3\nwire RV1.W to U2.X0\nwire U2.X to U1.A0\n"
     "pin U1.A0 analog\n", "will-not-work", ["chip-stopped"], "U2.INH is always high"),
    ("a 7490 whose two reset inputs are open: TTL reads that as high, and QA stays low",
     "supply P 5V\npart U1 74LS90\npart S1 button-2\npart R1 330\npart R2 220\npart D1 led red\nwire P.+ to U1.5 to S1.1\n"
     "wire P.- to U1.10 to U1.6 to U1.7 to R1.2 to D1.K\nwire S1.2 to R1.1 to U1.14\nwire U1.12 to R2.1\nwire R2.2 to D1.A\n",
     "will-not-work", ["chip-stopped"], "U1.R01 and U1.R02 are always high"),
    ("a board whose RESET lies at GND", BOARD + "part R1 330\npart D1 led red\nwire U1.D5 to R1.1\nwire R1.2 to D1.A\n"
     "wire D1.K to U1.GND\nwire U1.RESET to U1.GND\npin U1.D5 output\n",
     "will-not-work", ["chip-stopped"], "U1.RESET is always low"),
    # ── inputs without a way for a direct current ──
    ("a 555 oscillator whose pins 2 and 6 are not joined: TRIG has its capacitor only",
     "supply P 9V\npart U1 NE555\npart RA 10k\npart RB 47k\npart C1 10uF\npart R1 470\npart D1 led red\n"
     "wire P.+ to U1.8 to U1.4 to RA.1\nwire P.- to U1.1 to C1.- to D1.K\nwire RA.2 to U1.7 to RB.1\nwire RB.2 to U1.6\n"
     "wire U1.2 to C1.+\nwire U1.3 to R1.1\nwire R1.2 to D1.A\n", "will-not-work", ["input-floating"], "U1.TRIG is held by"),
    ("an amplifier whose IN+ is coupled by a capacitor and has no voltage of its own",
     "supply P 9V\npart U1 LM358\npart S1 switch\npart R1 10k\npart C1 1uF ceramic\npart R2 1k\npart D1 led red\n"
     "wire P.+ to U1.8 to S1.1\nwire P.- to U1.4 to R1.2 to D1.K\nwire S1.2 to R1.1 to C1.1\nwire C1.2 to U1.IN1+\n"
     "wire U1.OUT1 to U1.IN1- to R2.1\nwire R2.2 to D1.A\n", "will-not-work", ["input-floating"], "U1.IN1+ is held by"),
    ("a coupler whose collector nothing pulls up",
     "supply B 12V\n" + BOARD + "part S1 switch\npart R1 1k5\npart O1 PC817\nwire B.+ to S1.1\nwire S1.2 to R1.1\n"
     "wire R1.2 to O1.A\nwire O1.K to B.-\nwire O1.C to U1.D2\nwire O1.E to U1.GND\npin U1.D2 input\n",
     "will-not-work", ["input-floating"], "U1.D2 is read while nothing holds it"),
    ("a phototransistor whose collector nothing pulls up",
     BOARD + "part Q1 phototransistor\nwire Q1.C to U1.D2\nwire Q1.E to U1.GND\npin U1.D2 input\n",
     "will-not-work", ["input-floating"], "U1.D2 is read while nothing holds it"),
    # ── outputs and supplies where they do not belong ──
    ("an amplifier's output on ground: 20 mA against it, its short-circuit current",
     "supply P 9V\npart U1 LM358\npart R1 10k\npart R2 10k\nwire P.+ to U1.8 to R1.1\nwire P.- to U1.4 to R2.2 to U1.OUT1\n"
     "wire R1.2 to R2.1 to U1.IN1+\nwire U1.IN1- to P.-\n", "will-not-work", ["pin-overload"], "U1.OUT1 is an output"),
    ("AVCC of a bare controller chip at minus: it has to be at VCC",
     "supply P 5V\npart U1 ATmega328P\npart R1 330\npart D1 led red\nwire P.+ to U1.7\nwire P.- to U1.8 to U1.20 to D1.K\n"
     "wire U1.19 to R1.1\nwire R1.2 to D1.A\n", "will-not-work", ["supply-sags"], "U1.AVCC gets 0 V"),
    ("SDA and SCL of one of three exchanged",
     BOARD + "part O1 oled-display\npart K1 real-time-clock\npart R1 4k7\npart R2 4k7\n"
     "wire U1.5V to O1.VCC to K1.VCC to R1.1 to R2.1\nwire U1.GND to O1.GND to K1.GND\n"
     "wire U1.A4 to O1.SCL to K1.SDA to R1.2\nwire U1.A5 to O1.SDA to K1.SCL to R2.2\npin U1.A4, U1.A5 bus\n",
     "will-not-work", ["bus-lines-crossed"], "SCL of O1 is on the SDA line"),
    ("a level shifter with 5 V at its low side and 3.3 V at its high one",
     BOARD + "part LS level-shifter\npart PS pressure-sensor\nwire U1.5V to LS.LV\nwire U1.3V3 to LS.HV to PS.VCC\n"
     "wire U1.GND to LS.GND to PS.GND\nwire U1.A4 to LS.HV1\nwire U1.A5 to LS.HV2\nwire LS.LV1 to PS.SDA\n"
     "wire LS.LV2 to PS.SCL\npin U1.A4, U1.A5 bus\n", "will-not-work", ["level-mismatch"],
     "LS.LV gets 4.99 V and LS.HV only 3.3 V"),
    ("a TL431 with K and REF exchanged: REF at 12 V - 2.3 V, and K draws under 1 mA",
     "board half\nsupply P 12V on L+ L-\npart R1 470 in L+ a10\npart Z1 TL431 in c8 c9 c10 flat faces j\nwire a9 to L-\n"
     "part R2 10k in b8 b10\npart R3 10k in a8 L-\npart RL 2k2 in d10 d16\nwire b16 to L-\n",
     "will-not-work", ["chip-reversed"], "Z1 is the wrong way round"),
    # ── loads that get too little, told once ──
    ("a stepper whose common lead is at minus: 0 V at every winding",
     "supply P wall-adapter-5v\n" + BOARD + "part U2 ULN2003A\npart M1 stepper\nwire U1.D8 to U2.1\nwire U1.D9 to U2.2\n"
     "wire U1.D10 to U2.3\nwire U1.D11 to U2.4\nwire P.- to U2.8 to U1.GND to M1.COM\nwire P.+ to U2.9\nwire M1.A to U2.16\n"
     "wire M1.B to U2.15\nwire M1.C to U2.14\nwire M1.D to U2.13\npin U1.D8, U1.D9, U1.D10, U1.D11 output\n",
     "will-not-work", ["weak-drive"], "M1 gets"),
    ("a 5 V stepper on two cells: (3 V - 0.9 V) of 5 V",
     "supply P aa-pack-2\n" + BOARD + "part U2 ULN2003A\npart M1 stepper\nwire U1.D8 to U2.1\nwire U1.D9 to U2.2\n"
     "wire U1.D10 to U2.3\nwire U1.D11 to U2.4\nwire P.- to U2.8 to U1.GND\nwire P.+ to U2.9 to M1.COM\nwire M1.A to U2.16\n"
     "wire M1.B to U2.15\nwire M1.C to U2.14\nwire M1.D to U2.13\npin U1.D8, U1.D9, U1.D10, U1.D11 output\n",
     "will-not-work", ["weak-drive"], "M1 gets"),
    ("two white LEDs in a row at 5 V, 3.2 V each: a quarter of a milliamp",
     "supply P 5V\npart R1 100\npart D1 led white\npart D2 led white\nwire P.+ to R1.1\nwire R1.2 to D1.A\nwire D1.K to D2.A\n"
     "wire D2.K to P.-\n", "will-not-work", ["never-conducts"], "D1 and D2 in a row need about 6.4 V"),
    ("a 6 V motor turned down by a bridge chip that sits the wrong way round: 2.9 V of 6 V, VCC1 at 7.2 V of 7 V",
     "board half\n" + BOARD + "supply B 7.2V limit 3A on R+ R-\nwire U1.5V to L+\nwire U1.GND to L-\nwire L- to R-\n"
     "part U2 L293D across 10-17 notch row 17\nwire L+ to j10\nwire R+ to a17\nwire L- to a13\nwire L- to a14\nwire R- to j14\n"
     "wire R- to j13\nwire U1.D9 to a10\nwire U1.D7 to a11\nwire U1.D8 to a16\npart M1 motor 6V 150mA stall 500mA\n"
     "wire M1.1 to a12\nwire M1.2 to a15\npin U1.D9 pwm\npin U1.D7, U1.D8 output\n",
     "will-not-work", ["chip-reversed"], "U2 is the wrong way round"),
    ("a lamp of 500 mA on a transistor of 200 mA: one cause",
     "supply P bench-supply 12V limit 2A\n" + BOARD + "part L1 lamp 12V 500mA\npart Q1 2N3904\npart R1 1k\nwire P.+ to L1.1\n"
     "wire L1.2 to Q1.C\nwire Q1.E to P.- to U1.GND\nwire U1.D3 to R1.1\nwire R1.2 to Q1.B\npin U1.D3 output\n",
     "do-not-power", ["too-much-current"], "Q1.C carries"),
    ("a lamp on the wrong contact of a relay misses two expectations, and that is one cause",
     "supply P aa-pack-4\n" + BOARD + "part K1 relay-5v\npart L1 lamp 6V 100mA\npart Q1 BC337\npart R1 1k\npart D1 1N4148\n"
     "wire U1.D7 to R1.1\nwire R1.2 to Q1.B\nwire Q1.E to U1.GND\nwire U1.5V to K1.A1 to D1.K\nwire Q1.C to K1.A2 to D1.A\n"
     "wire P.+ to K1.COM\nwire K1.NC to L1.1\nwire L1.2 to P.-\npin U1.D7 output\nexpect L1 lit when U1.D7 high\n"
     "expect L1 dark when U1.D7 low\n", "will-not-work", ["expectation-missed"], "L1 does not light when U1.D7 is high"),
    # ── a type of its own behind a number that looks like another's ──
    ("a 4N29 guarantees 100 % of its LED's 6.8 mA where a 4N33 gives 500 %: a relay coil of 30 mA stays below its 9 V",
     "supply A 5V\nsupply B 12V\npart O1 4N29\npart R1 560\npart S1 switch\npart K1 relay-12v\npart D1 1N4148\n"
     "wire A.+ to S1.1\nwire S1.2 to R1.1\nwire R1.2 to O1.A\nwire O1.K to A.-\nwire B.+ to K1.A1 to D1.K\n"
     "wire K1.A2 to D1.A to O1.C\nwire O1.E to B.-\n", "will-not-work", ["weak-drive"], "K1 gets 8.0"),
    ("an L293NE has no clamp diodes, which only the L293D has: TI SLRS008, output 3 V past the rails at most",
     "supply P aa-pack-6\n" + BOARD + "part U2 L293NE\npart M1 motor 6V 200mA stall 500mA\nwire U1.5V to U2.VCC1\n"
     "wire U1.GND to U2.GND to U2.GND2 to U2.GND3 to U2.GND4 to P.-\nwire P.+ to U2.VCC2\nwire U1.D3 to U2.EN1\n"
     "wire U1.D4 to U2.IN1\nwire U1.D5 to U2.IN2\nwire U1.GND to U2.EN2 to U2.IN3 to U2.IN4\nwire U2.OUT1 to M1.1\n"
     "wire U2.OUT2 to M1.2\npin U1.D3 pwm\npin U1.D4, U1.D5 output\n",
     "do-not-power", ["no-clamp"], "nothing takes the current of M1"),
    ("an H11L2 wants 10 mA in its LED where an H11L1 is content with 1.6 mA: (5 - 1.2) V / 1k is 3.8 mA",
     BOARD + "part O1 H11L2\npart S1 button-2\npart R1 1k\npart R2 4k7\nwire U1.5V to S1.1 to O1.VCC to R2.1\n"
     "wire S1.2 to R1.1\nwire R1.2 to O1.A\nwire U1.GND to O1.K to O1.GND\nwire R2.2 to O1.VO to U1.D2\npin U1.D2 input\n",
     "will-not-work", ["weak-drive"], "LED in O1 gets 3.8"),
    ("a 6N135 gives 7 % of its LED current at least, a third of a 6N136: some 0.8 of 7.5 mA, into 3k3, leave 2.5 V",
     "supply A 9V\n" + BOARD + "part O1 6N135\npart S1 switch\npart R1 1k\npart R2 3k3\nwire A.+ to S1.1\nwire S1.2 to R1.1\n"
     "wire R1.2 to O1.A\nwire O1.K to A.-\nwire U1.5V to O1.VCC to R2.1\nwire U1.GND to O1.GND\nwire R2.2 to O1.VO to U1.D2\n"
     "pin U1.D2 input\n", "will-not-work", ["level-mismatch"], "neither surely high nor low"),
    ("a PIC16F84A works from 4 V; only the PIC16LF84A goes down to 2 V (memory)",
     "supply BAT aa-pack-2\npart U1 PIC16F84A\npart R1 10k\npart R2 68\npart D1 led red\npart X1 resonator\n"
     "wire BAT.+ to U1.VDD to R1.1\nwire R1.2 to U1.MCLR\nwire BAT.- to U1.VSS to D1.K\nwire U1.RB0 to R2.1\nwire R2.2 to D1.A\n"
     "wire X1.1 to U1.OSC1\nwire X1.2 to U1.OSC2\npin U1.RB0 output\n", "will-not-work", ["supply-sags"], "needs 4 V"),
    ("an ATmega8 works from 4.5 V; only the ATmega8L and 8A go down to 2.7 V (memory)",
     "supply P 3.3V\npart U1 ATmega8\npart R1 100\npart D1 led red\nwire P.+ to U1.VCC to U1.AVCC\n"
     "wire P.- to U1.GND to U1.GND2 to D1.K\nwire U1.PB0 to R1.1\nwire R1.2 to D1.A\npin U1.PB0 output\n",
     "will-not-work", ["supply-sags"], "needs 4.5 V"),
    ("a bar driver whose lamps get ten times the 10.4 mA out of REFOUT: 104 mA",
     "supply P 5V limit 2A\npart U1 LM3914\npart D1 led red\npart R1 120\nwire P.+ to U1.V+ to U1.MODE to D1.A\n"
     "wire P.- to U1.V- to U1.RLO to U1.REFADJ to U1.SIG\nwire U1.REFOUT to U1.RHI to R1.1\nwire R1.2 to P.-\n"
     "wire U1.LED1 to D1.K\n", "do-not-power", ["no-current-limit"], "D1"),
    ("a BC182L has its base at an end where a BC182 has it in the middle: E C B (memory)",
     "board half\nsupply P 5V on L+ L-\npart U1 controller-5v\npart Q1 BC182L in c10 c11 c12 flat faces j\n"
     "part R1 1k in a11 a16\npart R2 470 in d12 d18\npart D1 led red in a18 L+18 long L+18\n"
     "wire U1.D9 to b16\nwire U1.GND to L-5\nwire L-10 to a10\npin U1.D9 output\n",
     "will-not-work", ["transistor-legs-swapped"], "legs of Q1 are exchanged"),
]


def test_a_spark_is_told_of_the_contact_that_opens_not_of_the_pin_that_makes_it_open() -> None:
    report = check(RELAY_STAGE.format("1k") + "wire D1.A to Q1.C\nwire D1.K to P.+\npart M1 motor 12V 150mA\n"
                   "wire P.+ to K1.COM\nwire K1.NO to M1.1\nwire M1.2 to P.-\n")

    assert ["the contact of K1 sparks when it opens M1"] == [f.message for f in report.findings if f.rule == "no-clamp"]


def test_a_shorted_supply_is_not_mended_by_another_one() -> None:
    report = check(next(text for what, text, *_ in ROWS if what.startswith("a switch beside the lamp")))

    assert [] == [fix.say for finding in report.findings for fix in finding.fixes if "instead of aa-pack-8" in fix.say]


def test_the_pin_of_a_scanned_digit_carries_all_its_segments() -> None:
    """Eight times (5 V - 2 V) / (330 ohm + 25 ohm), less what the digit pin's own 25 ohm cost: 50 mA of the 40 mA it stands."""
    pins = [f"D{number}" for number in range(2, 13)] + ["A0"]
    segments = "".join(f"part R{n} 330\nwire U1.{pin} to R{n}.1\nwire R{n}.2 to DS.{name}\n"
                       for n, (pin, name) in enumerate(zip(pins, ("A", "B", "C", "D", "E", "F", "G", "DP")), 1))
    digits = "".join(f"wire DS.DIG{n} to U1.{pin}\n" for n, pin in enumerate(pins[8:], 1))
    report = check("part U1 controller-5v\npart DS four-digit-display common-cathode\n" + segments + digits
                   + f"pin {', '.join(f'U1.{pin}' for pin in pins)} output\n")

    assert [finding.rule for finding in report.findings if finding.severity == "damage"] == ["pin-overload"]
    assert 0.045 < report.findings[0].evidence[0].value < 0.055


@pytest.mark.parametrize(("what", "text", "verdict", "rules", "words"), ROWS, ids=[row[0] for row in ROWS])
def test_what_was_overlooked_is_found(what: str, text: str, verdict: str, rules: list[str], words: str) -> None:
    report = check(text)
    grave = [finding for finding in report.findings if finding.severity != "note"]

    assert (report.verdict, [finding.rule for finding in grave]) == (verdict, rules)
    assert words in grave[0].message


def test_a_supply_above_the_range_of_a_chip_and_below_its_end_is_noted() -> None:
    """L293D: 4.5 to 7 V at VCC1, 36 V at most (Texas Instruments SLRS008); the pack has 7.2 V, and 5 % more when it is fresh."""
    report = check("supply B 7.2V limit 3A\npart U1 controller-5v\npart U2 L293D\npart M1 motor 6V 150mA\n"
                   "wire B.+ to U2.VCC1 to U2.VCC2\nwire B.- to U1.GND to U2.GND to U2.GND2\nwire U1.D9 to U2.EN12\n"
                   "wire U1.D7 to U2.IN1\nwire U1.D8 to U2.IN2\nwire U2.OUT1 to M1.1\nwire U2.OUT2 to M1.2\n"
                   "pin U1.D7, U1.D8, U1.D9 output\n")

    assert "U2 VCC1-GND gets 7.56 V, and it is made for 7 V at most" in [finding.message for finding in report.findings]
    assert report.verdict == "clear"


def test_a_peak_without_margin_on_an_assumed_inductance_is_noted() -> None:
    """0.305 A * sqrt(1 mH / 100 nF) = 30.5 V, which with 9.45 V comes to the 40 V of the transistor."""
    report = check("board half\nsupply PACK 9V limit 2A on L+ L-\npart U1 controller-5v\n"
                   "part Q1 PN2222A in c10 c11 c12 flat faces a\npart R1 1k in b11 b16\npart M1 motor 9V 100mA stall 300mA\n"
                   "part C1 100n in d12 d18\nwire U1.D9 to a16\nwire U1.GND to L-5\nwire L-10 to a10\nwire M1.1 to b12\n"
                   "wire M1.2 to b18\nwire e18 to L+18\npin U1.D9 pwm\n")

    assert ("note", "no-clamp") in [(finding.severity, finding.rule) for finding in report.findings]
    assert report.verdict == "clear"


def test_a_transistor_above_its_load_is_told_where_the_load_belongs() -> None:
    """5 V - 0.6 V at the base's resistor, 0.7 V below at the emitter: 3.7 V of the 12 V."""
    report = check("supply P 12V\n" + BOARD + "part M1 fan\npart Q1 BC337\npart R1 470\npart D1 1N4001\nwire P.+ to Q1.C\n"
                   "wire Q1.E to M1.+ to D1.K\nwire M1.- to D1.A to P.- to U1.GND\nwire U1.D3 to R1.1\nwire R1.2 to Q1.B\n"
                   "pin U1.D3 output\n")

    assert "Its emitter can only follow its base" in report.findings[0].why
    assert "M1 belongs between plus and the collector" in report.findings[0].why


def test_a_gate_that_is_held_at_plus_is_not_pulled_down() -> None:
    report = check("supply P 12V\n" + BOARD + "part Q1 IRF9540\npart Q2 BC547\npart R1 4k7\npart L1 lamp 12V 500mA\n"
                   "wire P.+ to Q1.S\nwire Q1.D to L1.1\nwire L1.2 to P.- to U1.GND to Q2.E\nwire Q2.C to Q1.G\n"
                   "wire U1.D9 to R1.1\nwire R1.2 to Q2.B\npin U1.D9 output\n")

    assert "from Q1.G to P.+: it holds the gate at the source, so that Q1 stays off" in report.findings[0].fixes[0].say
