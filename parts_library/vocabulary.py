"""The words that people write on a part's line besides part numbers and values, and what each of them does.

Input and output: none, these are tables. They hold common practice, no source; the kinds themselves are in the library.
"""

from __future__ import annotations

# Words that are said beside a kind and change nothing.
NOISE = frozenset({"a", "an", "the", "small", "little", "big", "mini", "micro", "toy", "generic", "standard", "normal", "plain",
                   "dc", "ordinary", "type", "with", "clear", "diffused", "round", "part", "through-hole", "tht", "hobby",
                   "fixed", "single", "value", "rated", "brushed", "bright", "high-brightness",
                   "superbright", "super-bright", "ultra-bright", "ultrabright", "high-intensity", "water-clear", "frosted"})

# What people call a kind, where the library has another name for it.
OTHER_WORDS = {"res": "resistor", "cap": "capacitor", "condenser": "capacitor", "coil": "inductor", "choke": "inductor",
               "potentiometer": "pot", "trimmer": "pot", "trimpot": "pot", "trim-pot": "pot", "photoresistor": "ldr",
               "photocell": "ldr", "light-dependent-resistor": "ldr", "ntc": "thermistor", "pushbutton": "button",
               "push-button": "button", "bulb": "lamp", "light": "lamp", "loudspeaker": "speaker", "beeper": "buzzer",
               "rectifier": "diode", "zener-diode": "zener", "elko": "electrolytic", "polarised": "electrolytic",
               "polarized": "electrolytic", "microcontroller": "controller-5v"}

# Words for a whole family: beside a more particular word of the family they say nothing new.
PLAIN_WORDS = frozenset({"capacitor", "cap", "condenser", "resistor", "switch", "led", "motor", "pot", "potentiometer", "diode",
                         "mosfet", "transistor", "npn", "pnp", "nmos", "inductor", "coil", "fuse", "relay", "thermistor",
                         "speaker", "buzzer", "button", "lamp", "zener", "sensor", "module", "chip", "display", "driver",
                         "battery", "adapter"})

# What to write where a value is given and no kind, by the letters of the name.
LIKELY_KINDS = {"RV": "pot", "VR": "pot", "POT": "pot", "LDR": "ldr", "NTC": "thermistor", "TH": "thermistor",
               "D": "zener", "ZD": "zener", "DZ": "zener", "F": "fuse", "K": "relay", "RLY": "relay", "M": "motor"}

# A label beside a value says which field it is for; an empty one only accompanies it.
LABELS = {"stall": "stall_current", "stalled": "stall_current", "stalls": "stall_current", "inrush": "inrush_current",
          "max": "voltage_max", "maximum": "voltage_max", "winding": "inductance", "min": "voltage_min", "coil": "",
          "running": "current", "running-current": "current", "rated": "", "inductance": "inductance", "inside": "resistance",
          "internal": "resistance", "contacts": "contact", "contact": "contact", "at": "", "forward": "", "and": "", "load": "",
          "free": "current", "no-load": "current", "amps": "", "current": ""}

# Words that say the polarity of a transistor, in the terms of ``schema``.
POLARITIES = {"npn": "npn", "pnp": "pnp", "n-channel": "n", "p-channel": "p", "nmos": "n", "pmos": "p"}

# Words after the kind that repeat what it is, and are passed over.
SAYS_NOTHING_NEW = frozenset({
    "momentary", "tactile", "4-pin", "4-leg", "four-legged", "rechargeable", "ac", "vac", "watt", "volt", "ohm", "log",
    "lin", "linear", "carbon", "metal", "metal-film", "carbon-film", "bipolar", "x7r", "smd", "led", "resistor",
    "capacitor", "diode", "transistor", "chip", "ic", "sensor", "module", "board", "motor", "switch", "relay", "npn",
    "pnp", "regulator", "timer", "driver", "array", "n-channel", "p-channel", "mosfet", "bjt", "supply", "battery",
})  # fmt: skip
