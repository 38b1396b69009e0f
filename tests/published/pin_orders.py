"""Pin orders, ratings and zener data copied by hand from published sheets, apart from the parts library.

Each row names the sheet it was read in, or says ``memory``. Orders are those seen from the flat of a TO-92, or from the
printed side of a TO-126 or TO-220, legs down, from the left. ``test_pin_orders`` holds the library against these rows.
"""

from __future__ import annotations

MEMORY = "memory"

# Type, order of the legs, where it was read.
PIN_ORDERS: tuple[tuple[str, str, str], ...] = (
    ("PN2222A", "E B C", "Fairchild PN2222A/MMBT2222A/PZT2222A, Rev. 1.0.0: drawing 'TO-92 EBC'"),
    ("P2N2222A", "C B E", "ON Semiconductor P2N2222A/D Rev. 7: case 29 style 17, collector 1, base 2, emitter 3"),
    ("2N2222A", "E B C", MEMORY),
    ("2N2222", "E B C", MEMORY),
    ("PN2222", "E B C", MEMORY),
    ("PN2907A", "E B C", "Fairchild PN2907A/MMBT2907A/PZT2907A, Rev. 1.1.2: drawing 'EBC TO-92'"),
    ("P2N2907A", "C B E", MEMORY),
    ("2N2907A", "E B C", MEMORY),
    ("2N3904", "E B C", "Fairchild 2N3904/MMBT3904/PZT3904, Rev. 1.1.0: drawing 'TO-92 EBC'"),
    ("2N3906", "E B C", "2N3906 (PNP) TO-92 sheet, maker not named: 1 emitter, 2 base, 3 collector"),
    ("2N4401", "E B C", "ON Semiconductor 2N4401/D Rev. 1: case 29 style 1, emitter 1, base 2, collector 3"),
    ("2N4403", "E B C", "Multicomp 2N4401 & 2N4403 V1.0: 1 = emitter, 2 = base, 3 = collector"),
    ("2N5087", "E B C", MEMORY),
    ("2N5088", "E B C", MEMORY),
    ("2N5401", "E B C", MEMORY),
    ("2N5551", "E B C", "Fairchild 2N5551/MMBT5551, drawing 'E B C'"),
    ("2N5551C", "E C B", "Fairchild 2N5551/MMBT5551 Rev. 1.1.0, note 1: suffix -C means 1 emitter, 2 collector, 3 base"),
    ("MPSA06", "E B C", MEMORY),
    ("MPSA56", "E B C", MEMORY),
    ("MPSA13", "E B C", MEMORY),
    ("MPSA18", "E B C", MEMORY),
    ("MPSA42", "E B C", "Siemens MPSA 42, MPSA 43, May 1991: pin configuration E B C"),
    ("MPSA92", "E B C", MEMORY),
    ("BC546", "C B E", "onsemi BC546/D Rev. 8: case 29 style 17, collector 1, base 2, emitter 3"),
    ("BC547", "C B E", "Micro Commercial Components BC547 Rev. 8: 1-collector, 2-base, 3-emitter"),
    ("BC548", "C B E", "Tiger Electronic BC546/BC547/BC548: 1. collector, 2. base, 3. emitter"),
    ("BC549", "C B E", MEMORY),
    ("BC550", "C B E", MEMORY),
    ("BC556", "C B E", "Diotec BC 556 ... BC 559: standard pinning 1=C 2=B 3=E"),
    ("BC557", "C B E", "Micro Commercial Components BC556, BC557, BC558 Rev. A: 1-collector, 2-base, 3-emitter"),
    ("BC558", "C B E", "Diotec BC 556 ... BC 559: standard pinning 1=C 2=B 3=E"),
    ("BC559", "C B E", "Diotec BC 556 ... BC 559: standard pinning 1=C 2=B 3=E"),
    ("BC560", "C B E", MEMORY),
    ("BC327", "C B E", "Siemens BC 327, BC 328, May 1991: pin configuration C B E"),
    ("BC328", "C B E", "Unisonic QW-R201-038: 1 collector, 2 base, 3 emitter"),
    ("BC337", "C B E", "Fairchild BC337/BC338 Rev. 1.5: 1. collector, 2. base, 3. emitter"),
    ("BC338", "C B E", "ON Semiconductor BC337/D Rev. 5: collector 1, base 2, emitter 3"),
    ("BC516", "C B E", MEMORY),
    ("BC517", "C B E", MEMORY),
    ("BC635", "E C B", "Siemens BC 635 ... BC 639, May 1991: pin configuration E C B"),
    ("BC639", "E C B", "BC635/637/639 TO-92 sheet, maker not named: 1. emitter, 2. collector, 3. base"),
    ("BC636", "E C B", "Siemens BC 636 ... BC 640, May 1991: pin configuration E C B"),
    ("BC640", "E C B", "Fairchild BC640: 1. emitter, 2. collector, 3. base"),
    ("S8050", "E B C", "Unisonic QW-R201-013: pin assignment E B C"),
    ("S8550", "E B C", "Wing Shing S8550: 1. emitter, 2. base, 3. collector"),
    ("SS8050", "E B C", "Fairchild SS8050 Rev. A2: 1. emitter, 2. base, 3. collector"),
    ("SS8550", "E B C", "DC Components SS8550: 1 = emitter, 2 = base, 3 = collector"),
    ("S9012", "E B C", MEMORY),
    ("S9013", "E B C", MEMORY),
    ("S9014", "E B C", MEMORY),
    ("2SC945", "E C B", MEMORY),
    ("2SC1815", "E C B", MEMORY),
    ("2SA1015", "E C B", MEMORY),
    ("2SA733", "E C B", MEMORY),
    ("BD135", "E C B", "Fairchild BD135/137/139 Rev. A: 1. emitter, 2. collector, 3. base"),
    ("BD137", "E C B", "Central Semiconductor BD135, BD137, BD139 R3: 1) emitter 2) collector 3) base"),
    ("BD139", "E C B", "ON Semiconductor BD135/D: emitter 1, collector 2, base 3"),
    ("BD140", "E C B", "ON Semiconductor BD136/D Rev. 1: 1 emitter, 2 collector, 3 base"),
    ("2SD882", "E C B", "Unisonic QW-R209-003: TO-126, pin assignment E C B"),
    ("2SB772", "E C B", "Micro Commercial Components 2SB772 Rev. 2: pin 1 emitter, pin 2 collector, pin 3 base"),
    ("TIP120", "B C E", "Multicomp TIP120 ... TIP127 V1.0: pin 1. base, 2. collector, 3. emitter"),
    ("TIP127", "B C E", "Multicomp TIP120 ... TIP127 V1.0: pin 1. base, 2. collector, 3. emitter"),
    ("TIP31C", "B C E", MEMORY),
    ("TIP41C", "B C E", "ON Semiconductor TIP41A/D Rev. 4: style 1, pin 1. base, 2. collector, 3. emitter"),
    ("TIP42A", "B C E", "Boca Semiconductor TIP41, TIP42 series: 1. base, 2. collector, 3. emitter"),
    ("MCR100-6", "K G A", "ON Semiconductor MCR100/D Rev. 10: case 29 style 10, cathode 1, gate 2, anode 3"),
    ("BT169D", "A G K", "NXP BT169 series Rev. 5, table 1: 1 anode, 2 gate, 3 cathode"),
    ("MAC97A8", "MT1 G MT2", "ON Semiconductor MAC97/D Rev. 9: case 29 style 12, main terminal 1, gate, main terminal 2"),
    ("2N5457", "D S G", "ON Semiconductor 2N5457/D Rev. 3: case 29 style 5, 1 drain, 2 source, 3 gate"),
    ("2N5460", "D S G", "InterFET 2N5460, 2N5461, 2N5462, January 1999: 1 drain, 2 source, 3 gate"),
    ("J113", "D S G", "Vishay Siliconix 70232 Rev. E: TO-226AA, D 1, S 2, G 3"),
    ("2N7000", "S G D", "Calogic 2N7000 / BS170L: 1 source, 2 gate, 3 drain"),
    ("BS170", "D G S", "Vishay Siliconix 70226 Rev. F: TO-92-18RM, 1 drain, 2 gate, 3 source"),
    ("BS250", "D G S", "Zetex BS250P issue 2: drawing D G S"),
    ("IRF520", "G D S", "GE Solid State IRF520, IRF521: term. 1 gate, term. 2 drain, term. 3 source"),
    ("IRFZ44N", "G D S", "International Rectifier IRFB4321PbF, same case: gate, drain, source"),
    ("IRLZ44N", "G D S", "International Rectifier IRFB4321PbF, same case: gate, drain, source"),
    ("FQP30N06L", "G D S", "Fairchild FQP30N06, same case: drawing G D S"),
)

# Types that are sold in a second order as well: type, the other order, where it was read.
OTHER_ORDERS: tuple[tuple[str, str, str], ...] = (
    ("2N2222A", "C B E", "ON Semiconductor P2N2222A/D Rev. 7: the same number as P2N2222A"),
    ("2N2907A", "C B E", MEMORY),
    ("8050", "E C B", "Jiangsu Changjiang 8050S: 1. emitter, 2. collector, 3. base"),
    ("9013", "E C B", "9013S TO-92 sheet, maker not named: 1. emitter, 2. collector"),
    ("2SC945", "E B C", "KEC KTC945B Rev. 2: 1. emitter, 2. base, 3. collector"),
)

# Absolute maxima: type, field of the library, value with unit, where it was read.
RATINGS: tuple[tuple[str, str, str, str], ...] = (
    ("PN2222A", "vceo", "40V", "Fairchild PN2222A, Rev. 1.0.0"),
    ("PN2222A", "vebo", "6V", "Fairchild PN2222A, Rev. 1.0.0"),
    ("PN2222A", "max_power", "625mW", "Fairchild PN2222A, Rev. 1.0.0"),
    ("P2N2222A", "ic", "600mA", "ON Semiconductor P2N2222A/D Rev. 7"),
    ("P2N2222A", "thermal_resistance", "200K/W", "ON Semiconductor P2N2222A/D Rev. 7"),
    ("2N3904", "ic", "200mA", "Fairchild 2N3904 Rev. 1.1.0"),
    ("2N3906", "vebo", "5V", "2N3906 (PNP) TO-92 sheet, maker not named"),
    ("BC547", "vceo", "45V", "onsemi BC546/D Rev. 8"),
    ("BC547", "ic", "100mA", "onsemi BC546/D Rev. 8"),
    ("BC337", "ic", "800mA", "Fairchild BC337/BC338 Rev. 1.5"),
    ("SS8050", "ic", "1.5A", "Fairchild SS8050 Rev. A2"),
    ("BD139", "ic", "1.5A", "ON Semiconductor BD135/D"),
    ("BD139", "max_power", "1.25W", "ON Semiconductor BD135/D"),
    ("TIP120", "ib", "120mA", "Multicomp TIP120 ... TIP127 V1.0"),
    ("TIP41C", "thermal_resistance", "62.5K/W", "ON Semiconductor TIP41A/D Rev. 4"),
    ("2SC1815", "max_junction", "125degC", "Toshiba 2SC1815, March 2003"),
    ("2N7000", "id", "200mA", "Vishay Siliconix 70226 Rev. F"),
    ("2N7000", "thermal_resistance", "312.5K/W", "Vishay Siliconix 70226 Rev. F"),
    ("BS170", "id", "500mA", "Vishay Siliconix 70226 Rev. F"),
    ("IRF520", "vgs", "20V", "Fairchild IRF520 Rev. B"),
    ("IRF4905", "id", "74A", "International Rectifier PD-91280D"),
    ("1N4001", "surge", "30A", "Diodes DS28002 Rev. E-2"),
    ("1N4007", "vrrm", "1000V", "Diodes DS28002 Rev. E-2"),
    ("1N4148", "recovery", "4ns", "Diotech 1N4148 / 1N4448"),
    ("1N5819", "vrrm", "40V", "Diodes DS23001"),
    ("1N5822", "surge", "80A", "Diodes DS23003 Rev. 7-2"),
    ("BAT42", "current", "200mA", "STMicroelectronics BAT42, BAT43 Ed. 1C"),
)

# 1 W zener diodes from 1N4728A: nominal volts, test milliamps, largest ohms. DC Components 1N4728A thru 1N4754A; the
# first twenty-four also in Digitron 1N4728-1N4764.
ZENER_FIRST = 4728
ZENER_VOLTS = (3.3, 3.6, 3.9, 4.3, 4.7, 5.1, 5.6, 6.2, 6.8, 7.5, 8.2, 9.1, 10, 11, 12, 13, 15, 16, 18, 20, 22, 24, 27, 30, 33,
               36, 39)
ZENER_MILLIAMPS = (76, 69, 64, 58, 53, 49, 45, 41, 37, 34, 31, 28, 25, 23, 21, 19, 17, 15.5, 14, 12.5, 11.5, 10.5, 9.5, 8.5,
                   7.5, 7.0, 6.5)
ZENER_OHMS = (10, 10, 9.0, 9.0, 8.0, 7.0, 5.0, 2.0, 3.5, 4.0, 4.5, 5.0, 7.0, 8.0, 9.0, 10, 14, 16, 20, 22, 23, 25, 35, 40, 45,
              50, 60)

# 0.5 W zener diodes: type, nominal volts, test milliamps, largest ohms, where it was read.
HALF_WATT_ZENERS: tuple[tuple[str, float, float, float, str], ...] = (
    ("BZX79C3V3", 3.3, 5, 95, "Fairchild BZX79C 3V3 - BZX79C 33"),
    ("BZX79C5V1", 5.1, 5, 60, "Fairchild BZX79C 3V3 - BZX79C 33"),
    ("BZX79C12", 12, 5, 25, "Fairchild BZX79C 3V3 - BZX79C 33"),
    ("BZX79C33", 33, 2, 80, "Fairchild BZX79C 3V3 - BZX79C 33"),
    ("BZX55C4V7", 4.7, 5, 60, "Good-Ark BZX55"),
    ("BZX55C5V1", 5.1, 5, 35, "Good-Ark BZX55"),
    ("1N5221B", 2.4, 20, 30, "Excel Semiconductor 1N5221B~1N5281B Rev. 3e"),
    ("1N5231B", 5.1, 20, 17, "Excel Semiconductor 1N5221B~1N5281B Rev. 3e"),
    ("1N5242B", 12, 20, 30, "Excel Semiconductor 1N5221B~1N5281B Rev. 3e"),
    ("1N5246B", 16, 7.8, 17, "Excel Semiconductor 1N5221B~1N5281B Rev. 3e"),
    ("1N5257B", 33, 3.8, 58, "Excel Semiconductor 1N5221B~1N5281B Rev. 3e"),
)
