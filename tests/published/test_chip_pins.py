"""Pin orders of regulators, chips and three-legged sensors, copied from datasheets, against the parts library.

Input: the TOML files, read with tomllib alone. A row gives every pin in numeric order under the name that its source
prints; the library may call a pin otherwise, but then has to list that name among the pin's other names. Rows whose
source is "memory" are recalled, not copied from a document.
"""

from __future__ import annotations

import tomllib
from functools import cache
from pathlib import Path
from typing import Any

import pytest

import parts_library

DATA = Path(parts_library.__path__[0]) / "data"
FILES = ("regulator", "logic", "analog", "driver", "chip")
MEMORY = "memory"

FAIRCHILD_78 = "Fairchild LM78XX Rev. 1.3.1, figure 1: input 1, GND 2, output 3"
FAIRCHILD_78L = "Fairchild MC78LXXA/LM78LXXA Rev. 1.0.7: TO-92 1. Output 2. GND 3. Input"
FAIRCHILD_79 = "Fairchild KA79XX/LM79XX Rev. 1.1.1: TO-220 1. GND 2. Input 3. Output"
ON_317 = "ON Semiconductor LM317, NCV317: pin 1. Adjust 2. Vout 3. Vin"
NATIONAL_1117 = "National LM1117 DS100919, April 2006: same pin-out as the LM317, with ground in place of adjust"
PHILIPS_8574 = "Philips PCF8574, 1997 Apr 02, section 5"
ON_595 = "ON Semiconductor MC74HC595A Rev. 8, pin assignment"
SLRS007 = "Texas Instruments SN754410 SLRS007B, NE package"

ROWS: tuple[tuple[str, str, str], ...] = (
    # regulators: marked or flat side toward the viewer, legs down, left to right
    ("7805", "IN GND OUT", FAIRCHILD_78),
    ("7809", "IN GND OUT", FAIRCHILD_78),
    ("7812", "IN GND OUT", FAIRCHILD_78),
    ("78L05", "OUT GND IN", FAIRCHILD_78L),
    ("78L12", "OUT GND IN", FAIRCHILD_78L),
    ("7905", "GND IN OUT", FAIRCHILD_79),
    ("7912", "GND IN OUT", FAIRCHILD_79),
    ("LM317", "ADJ VOUT VIN", ON_317),
    ("LM1117T-ADJ", "ADJ OUT IN", NATIONAL_1117),
    ("LM1117T-3.3", "GND OUT IN", NATIONAL_1117),
    ("LD1117V33", "GND OUT IN", MEMORY),
    ("LM317L", "ADJ OUT IN", MEMORY),
    ("LM337", "ADJ IN OUT", MEMORY),
    ("LM2940-5", "IN GND OUT", MEMORY),
    ("LF33", "IN GND OUT", MEMORY),
    ("MCP1700-3.3", "GND VIN VOUT", MEMORY),
    ("LM4040-4.1", "NC CATHODE ANODE", "TI SLCS146G, TO-92: 1 anode, 2 cathode, 3 NC, counted from the right of the flat"),
    ("L293NE", "1,2EN 1A 1Y GND GND2 2Y 2A VCC2 3,4EN 3A 3Y GND3 GND4 4Y 4A VCC1", "Texas Instruments L293x, pin functions"),
    ("MCP1702-5.0", "GND VIN VOUT", "Microchip MCP1702, 3-pin TO-92 bottom view"),
    ("HT7333", "GND VIN VOUT", MEMORY),
    ("LP2950-5", "OUTPUT GND INPUT", MEMORY),
    ("TL431", "REF ANODE CATHODE", MEMORY),
    # gates
    ("74HC00", "1A 1B 1Y 2A 2B 2Y GND 3Y 3A 3B 4Y 4A 4B VCC", "Nexperia 74HC00 Rev. 7, table 2"),
    ("74HC04", "1A 1Y 2A 2Y 3A 3Y GND 4Y 4A 5Y 5A 6Y 6A VCC", "NXP 74HC04 Rev. 4, table 2"),
    ("74HCT04", "1A 1Y 2A 2Y 3A 3Y GND 4Y 4A 5Y 5A 6Y 6A VCC", "NXP 74HCT04 Rev. 4, table 2"),
    ("74HC02", "1Y 1A 1B 2Y 2A 2B GND 3A 3B 3Y 4A 4B 4Y VCC", MEMORY),
    ("74HC08", "1A 1B 1Y 2A 2B 2Y GND 3Y 3A 3B 4Y 4A 4B VCC", MEMORY),
    ("74HC14", "1A 1Y 2A 2Y 3A 3Y GND 4Y 4A 5Y 5A 6Y 6A VCC", "NXP 74HC14 Rev. 6, figure 1"),
    ("74HC32", "1A 1B 1Y 2A 2B 2Y GND 3Y 3A 3B 4Y 4A 4B VCC", MEMORY),
    ("74HC86", "1A 1B 1Y 2A 2B 2Y GND 3Y 3A 3B 4Y 4A 4B VCC", MEMORY),
    ("74HC125", "1OE 1A 1Y 2OE 2A 2Y GND 3Y 3A 3OE 4Y 4A 4OE VCC", "NXP 74HC125 Rev. 5, table 2"),
    ("CD4011", "1A 1B 1Y 2Y 2A 2B VSS 3A 3B 3Y 4Y 4A 4B VDD", MEMORY),
    ("CD4093", "1A 1B 1Y 2Y 2A 2B VSS 3A 3B 3Y 4Y 4A 4B VDD", "NXP HEF4093B Rev. 8, table 2"),
    ("CD4069", "1A 1Y 2A 2Y 3A 3Y VSS 4Y 4A 5Y 5A 6Y 6A VDD", MEMORY),
    # registers, counters, decoders
    ("74HC595", "QB QC QD QE QF QG QH GND QHS RESET CLK LATCH OE DS QA VCC", ON_595),
    ("74HC165", "PL CP D4 D5 D6 D7 Q7N GND Q7 DS D0 D1 D2 D3 CE VCC", "Nexperia 74HC165 Rev. 5, functional diagram"),
    ("74HC164", "A B QA QB QC QD GND CLK CLR QE QF QG QH VCC", MEMORY),
    ("74HC74", "1CLR 1D 1CLK 1PRE 1Q 1QN GND 2QN 2Q 2PRE 2CLK 2D 2CLR VCC", MEMORY),
    ("74HC138", "A0 A1 A2 E1 E2 E3 Y7 GND Y6 Y5 Y4 Y3 Y2 Y1 Y0 VCC", MEMORY),
    ("74HC245", "DIR A1 A2 A3 A4 A5 A6 A7 A8 GND B8 B7 B6 B5 B4 B3 B2 B1 OE VCC", MEMORY),
    ("CD4017", "Q5 Q1 Q0 Q2 Q6 Q7 Q3 VSS Q8 Q4 Q9 CO CE CP MR VDD", "NXP HEF4017B Rev. 8, functional diagram"),
    ("CD4013", "1Q 1QN 1CLK 1RST 1D 1SET VSS 2SET 2D 2RST 2CLK 2QN 2Q VDD", MEMORY),
    ("CD4040", "Q12 Q6 Q5 Q7 Q4 Q3 Q2 VSS Q1 CLK RST Q9 Q8 Q10 Q11 VDD", MEMORY),
    ("CD4060", "Q12 Q13 Q14 Q6 Q5 Q7 Q4 VSS CTC RTC CLK RST Q9 Q8 Q10 VDD", MEMORY),
    ("CD4051", "Y4 Y6 Z Y7 Y5 E VEE VSS S2 S1 S0 Y3 Y0 Y1 Y2 VDD", MEMORY),
    ("CD4066", "1A 1B 2B 2A 2C 3C VSS 3A 3B 4B 4A 4C 1C VDD", MEMORY),
    ("CD4511", "B C LT BL LE D A VSS SE SD SC SB SA SG SF VDD", MEMORY),
    ("74HC4075", "2A 2B 1A 1B 1C 1Y GND 2C 2Y 3Y 3A 3B 3C VCC", "Philips 74HC/HCT4075, December 1990, pin description"),
    ("CD4098", "1CX 1RCX 1CD 1+TR 1-TR 1Q 1QN VSS 2QN 2Q 2-TR 2+TR 2CD 2RCX 2CX VDD", "NXP HEF4528B Rev. 7, figure 1"),
    ("CD4094", "STROBE DATA CLK Q1 Q2 Q3 Q4 VSS QS QS2 Q8 Q7 Q6 Q5 OE VDD", "Motorola MC14094B, pin assignment"),
    # op amps, comparators, timers
    ("LM358", "OUT1 IN1- IN1+ GND IN2+ IN2- OUT2 VCC", "ON Semiconductor LM358/D Rev. 11, pin connections"),
    ("LM324", "OUT1 IN1- IN1+ V+ IN2+ IN2- OUT2 OUT3 IN3- IN3+ V- IN4+ IN4- OUT4", "CADEKA LM324 data sheet, 2011"),
    ("LM339", "OUT2 OUT1 VCC IN1- IN1+ IN2- IN2+ IN3- IN3+ IN4- IN4+ GND OUT4 OUT3", "Fairchild LM339 Rev. B, 1999"),
    ("LM741", "NULL1 IN- IN+ V- NULL2 OUT V+ NC", "Intersil 741, 8-pin minidip"),
    ("MCP6002", "OUT1 IN1- IN1+ VSS IN2+ IN2- OUT2 VDD", "Microchip DS21733J, package types"),
    ("LM393", "OUT1 IN1- IN1+ GND IN2+ IN2- OUT2 VCC", MEMORY),
    ("LM311", "EMIT IN+ IN- VCC- BAL STRB COL VCC+", MEMORY),
    ("LM319", "NC NC2 GND1 IN1+ IN1- VEE OUT2 GND2 IN2+ IN2- VCC OUT1 NC3 NC4", "Fairchild LM319 Rev. 1.0.3, block diagram"),
    ("NE555", "GND TRIG OUT RESET CONT THRES DISCH VCC", "Diodes Incorporated NE555, pin descriptions"),
    ("TLC555", "GND TRIG OUT RESET CONT THRES DISCH VDD", MEMORY),
    ("NE556", "DISCH1 THRES1 CONT1 RESET1 OUT1 TRIG1 GND TRIG2 OUT2 RESET2 CONT2 THRES2 DISCH2 VCC", MEMORY),
    # drivers and optocouplers
    ("ULN2003A", "1B 2B 3B 4B 5B 6B 7B E COM 7C 6C 5C 4C 3C 2C 1C", MEMORY),
    ("ULN2803A", "1B 2B 3B 4B 5B 6B 7B 8B GND COM 8C 7C 6C 5C 4C 3C 2C 1C", MEMORY),
    ("L293D", "1,2EN 1A 1Y GND GND2 2Y 2A VCC2 3,4EN 3A 3Y GND3 GND4 4Y 4A VCC1", "Texas Instruments L293x, pin functions"),
    ("SN754410", "1,2EN 1A 1Y GND GND2 2Y 2A VCC2 3,4EN 3A 3Y GND3 GND4 4Y 4A VCC1", SLRS007),
    ("4N35", "ANODE CATHODE NC EMITTER COLLECTOR BASE", "Avago 4N35, internal connection diagram"),
    ("PC817", "ANODE CATHODE EMITTER COLLECTOR", "Sharp PC817 series, internal connection diagram"),
    ("6N137", "NC A K NC2 GND VO VE VCC", "Vishay 6N137, single channel"),
    ("6N138", "NC ANODE CATHODE NC2 GND VO VB VCC", "Agilent 6N138/6N139, functional diagram"),
    ("H11L1", "ANODE CATHODE NC VO GND VCC", "Fairchild H11L1M Rev. 1.0.4, schematic"),
    ("TPIC6B595", ("NC VCC SERIN DRAIN0 DRAIN1 DRAIN2 DRAIN3 SRCLR G GND GND2 RCK SRCK DRAIN4 DRAIN5 DRAIN6 DRAIN7 "
                   "SEROUT GND3 NC2"), "Texas Instruments SLIS032, N package"),
    # converters, memories, microcontrollers
    ("MCP3008", "CH0 CH1 CH2 CH3 CH4 CH5 CH6 CH7 DGND CS/SHDN DIN DOUT CLK AGND VREF VDD", "Microchip DS21295, package types"),
    ("PCF8574", "A0 A1 A2 P0 P1 P2 P3 VSS P4 P5 P6 P7 INT SCL SDA VDD", PHILIPS_8574),
    ("24LC256", "A0 A1 A2 VSS SDA SCL WP VCC", "Microchip DS20001203, table 2-1"),
    ("ATtiny85", "RESET PB3 PB4 GND PB0 PB1 PB2 VCC", MEMORY),
    ("ATmega328P", ("RESET PD0 PD1 PD2 PD3 PD4 VCC GND PB6 PB7 PD5 PD6 PD7 PB0 PB1 PB2 PB3 PB4 PB5 AVCC AREF GND2 "
                    "PC0 PC1 PC2 PC3 PC4 PC5"), MEMORY),
    ("MCP23017", ("GPB0 GPB1 GPB2 GPB3 GPB4 GPB5 GPB6 GPB7 VDD VSS NC SCL SDA NC2 A0 A1 A2 RESET INTB INTA "
                  "GPA0 GPA1 GPA2 GPA3 GPA4 GPA5 GPA6 GPA7"), MEMORY),
    # sensors: flat or printed side toward the viewer
    ("TMP36", "+VS VOUT GND", "Analog Devices TMP36 Rev. F, figure 4"),
    ("LM35", "+VS VOUT GND", MEMORY),
    ("DS18B20", "GND DQ VDD", MEMORY),
    ("A3144", "VCC GND VOUT", "Allegro 27621.6A, pinning viewed from branded side: supply, ground, output"),
    ("ir-receiver", "OUT GND VS", "Vishay TSOP382.. 81733 Rev. 1.3, pinning"),
    ("TSOP4838", "OUT GND VS", "Vishay 82459 Rev. 1.6, pinning for TSOP44.., TSOP48.."),
    ("TSOP2238", "OUT VS GND", "Vishay 82459 Rev. 1.6, pinning for TSOP22.., TSOP24.."),
)


@cache
def shipped() -> dict[str, dict[str, Any]]:
    """The entries as written, by name: a reader so small that it cannot hide a mistake of the loader."""
    entries = [entry for name in FILES for entry in tomllib.loads((DATA / f"{name}.toml").read_text("utf-8"))["part"]]
    return {entry["name"]: entry for entry in entries}


def names_of(entry: dict[str, Any], pin: str) -> set[str]:
    return {name.casefold() for name in (pin, *entry.get("pin_aliases", {}).get(pin, ()))}


@pytest.mark.parametrize(("name", "order", "source"), ROWS, ids=[row[0] for row in ROWS])
def test_the_pins_are_in_the_published_order(name: str, order: str, source: str) -> None:
    entry = shipped()[name]
    printed = order.split()
    assert len(printed) == len(entry["pins"]), source
    wrong = [(place, pin, said) for place, (pin, said) in enumerate(zip(entry["pins"], printed, strict=True), start=1)
             if said.casefold() not in names_of(entry, pin)]
    assert wrong == [], source


def test_the_table_names_each_part_once_and_most_rows_have_a_document() -> None:
    assert len({row[0] for row in ROWS}) == len(ROWS) >= 40
    assert sum(row[2] != MEMORY for row in ROWS) >= 30


@pytest.mark.parametrize(("one", "other"), [("7805", "78L05"), ("7805", "7905"), ("LM317", "LM337"), ("LD1117V33", "LF33"),
                                            ("78L05", "MCP1702-5.0"), ("MCP3008", "PCF8574")])
def test_look_alikes_do_not_share_a_pin_order(one: str, other: str) -> None:
    """The exchanges that burn regulators; each order has its own row above."""
    assert shipped()[one]["package"] == shipped()[other]["package"] or {one, other} == {"7805", "78L05"}
    assert shipped()[one]["pins"] != shipped()[other]["pins"]


# The supply is on the last pin and the ground on the last of the first row in the whole 74HC and CD4000 series; the six
# buffers of the 4049 and 4050 alone are supplied at pin 1. Common practice, no source.
@pytest.mark.parametrize("name", [entry["name"] for entry in tomllib.loads((DATA / "logic.toml").read_text("utf-8"))["part"]])
def test_logic_is_supplied_at_the_corners(name: str) -> None:
    entry = shipped()[name]
    pins = entry["pins"]
    assert entry["package"].removesuffix("-wide") == f"DIP-{len(pins)}"
    assert pins.index(entry["ground"]) + 1 == len(pins) // 2
    assert pins.index(entry["supply"]) + 1 == (1 if name.endswith(("4049", "4050")) else len(pins))


@pytest.mark.parametrize(("name", "reference"), [("LM317", 1.25), ("LM317L", 1.25), ("LM337", 1.25), ("LM1117T-ADJ", 1.25)])
def test_adjustable_regulators_have_the_reference_of_their_datasheets(name: str, reference: float) -> None:
    """1.25 V between OUT and ADJ: ON Semiconductor LM317, formula on page 1; National LM1117, page 1."""
    entry = shipped()[name]
    assert entry["adjustable"] is True
    assert float(entry["output"].removesuffix("V")) == reference
