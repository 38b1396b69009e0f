"""What a part can take and what to expect of it, each number with its unit and in words.

Input: an entry. Output: ``Rating`` rows, limits and figures, in the order of the tables. A limit is never to be passed;
a figure is what the part does. A field that an entry leaves open gives no row.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import chain

from checker.cards.rating import Rating, rating
from checker.cards.records import records_of
from parts_library import schema
from parts_library.schema import AnyEntry, Entry, UnitFloat

LIMIT, FIGURE = True, False
SUPPLY = "supply voltage"

Row = tuple[str, str, str, bool]
"""Field of the entry, what it is in words, which end it is (least, usual, most), limit or figure. Rows of the same
words are put together."""

EVERY: tuple[Row, ...] = (
    ("max_power", "power it may shed at 25 °C around it", "most", LIMIT),
    ("max_junction", "temperature inside", "most", LIMIT),
    ("thermal_resistance", "warming for each watt, without a heat sink", "usual", FIGURE),
)
FIELDS: dict[type[Entry], tuple[Row, ...]] = {
    schema.Bipolar: (
        ("vceo", "collector to emitter, base open", "most", LIMIT),
        ("vcbo", "collector to base", "most", LIMIT),
        ("vebo", "emitter to base, backwards", "most", LIMIT),
        ("ic", "collector current", "most", LIMIT),
        ("ib", "base current", "most", LIMIT),
    ),
    schema.Mosfet: (
        ("vds", "drain to source", "most", LIMIT),
        ("vgs", "gate to source, either way", "most", LIMIT),
        ("id", "drain current", "most", LIMIT),
        ("avalanche_energy", "energy of one pulse above its voltage", "most", LIMIT),
    ),
    schema.Jfet: (
        ("gate_voltage", "gate to source or drain, backwards", "most", LIMIT),
        ("gate_current", "gate current, forwards", "most", LIMIT),
    ),
    schema.Thyristor: (
        ("voltage", "voltage it blocks", "most", LIMIT),
        ("current", "current while it conducts", "most", LIMIT),
        ("gate_current", "gate current", "most", LIMIT),
        ("gate_reverse", "gate voltage, backwards", "most", LIMIT),
        ("holding", "current that keeps it conducting", "most", FIGURE),
        ("trigger_voltage", "gate voltage that fires it", "usual", FIGURE),
    ),
    schema.Diode: (
        ("vrrm", "reverse voltage", "most", LIMIT),
        ("current", "forward current, average", "most", LIMIT),
        ("surge", "forward current, one half wave", "most", LIMIT),
        ("recovery", "time until it blocks", "usual", FIGURE),
    ),
    schema.Zener: (
        ("voltage", "zener voltage", "usual", FIGURE),
        ("test_current", "current at which that holds", "usual", FIGURE),
        ("tolerance", "spread of the voltage, either way", "most", FIGURE),
        ("impedance", "slope there", "usual", FIGURE),
    ),
    schema.Led: (
        ("current", "current, continuous", "most", LIMIT),
        ("reverse_voltage", "reverse voltage", "most", LIMIT),
        ("usual_current", "current it is made for", "usual", FIGURE),
    ),
    schema.LedGroup: (),
    schema.Resistor: (
        ("power", "power", "most", LIMIT),
        ("ohms", "resistance", "usual", FIGURE),
        ("tolerance", "spread of the resistance, either way", "most", FIGURE),
    ),
    schema.Capacitor: (
        ("voltage", "voltage", "most", LIMIT),
        ("reverse_voltage", "voltage the wrong way round", "most", LIMIT),
        ("farads", "capacitance", "usual", FIGURE),
    ),
    schema.Inductor: (
        ("current", "current", "most", LIMIT),
        ("henries", "inductance", "usual", FIGURE),
        ("ohms", "resistance of the winding", "usual", FIGURE),
    ),
    schema.Potentiometer: (
        ("power", "power of the whole track", "most", LIMIT),
        ("wiper_current", "current through the wiper", "most", LIMIT),
        ("ohms", "resistance from end to end", "usual", FIGURE),
        ("tolerance", "spread of the resistance, either way", "most", FIGURE),
    ),
    schema.SensorResistor: (
        ("power", "power", "most", LIMIT),
        ("voltage", "voltage", "most", LIMIT),
        ("ohms", "resistance it is named by", "usual", FIGURE),
        ("low", "range of its resistance", "least", FIGURE),
        ("high", "range of its resistance", "most", FIGURE),
    ),
    schema.Switch: (
        ("voltage", "voltage across open contacts", "most", LIMIT),
        ("current", "current through closed contacts", "most", LIMIT),
    ),
    schema.Fuse: (
        ("current", "current it carries without opening", "most", LIMIT),
        ("ohms", "resistance", "usual", FIGURE),
    ),
    schema.Load: (
        ("voltage_max", "voltage for long", "most", LIMIT),
        ("voltage", "rated voltage", "usual", FIGURE),
        ("voltage_min", "voltage from which it works", "least", FIGURE),
        ("current", "rated current", "usual", FIGURE),
        ("stall_current", "current held still", "usual", FIGURE),
        ("inrush_current", "current when cold", "usual", FIGURE),
        ("ohms", "resistance of the winding", "usual", FIGURE),
        ("inductance", "inductance", "usual", FIGURE),
    ),
    schema.Relay: (
        ("contact_voltage", "voltage across the contacts", "most", LIMIT),
        ("contact_current", "current through the contacts", "most", LIMIT),
        ("voltage", "coil voltage", "usual", FIGURE),
        ("current", "coil current", "usual", FIGURE),
        ("ohms", "coil resistance", "usual", FIGURE),
        ("must_operate", "pulls in, at the latest, at this share of its voltage", "usual", FIGURE),
        ("must_release", "lets go, at the latest, at this share of its voltage", "usual", FIGURE),
        ("inductance", "coil inductance", "usual", FIGURE),
    ),
    schema.Stepper: (
        ("voltage", "rated voltage", "usual", FIGURE),
        ("ohms", "resistance of each coil", "usual", FIGURE),
        ("inductance", "inductance of each coil", "usual", FIGURE),
    ),
    schema.SupplyKind: (
        ("rated", "current it is made to give", "most", LIMIT),
        ("limit", "current it gives into a short", "usual", FIGURE),
        ("voltage", "voltage it is sold by", "usual", FIGURE),
        ("fresh", "voltage when fresh", "usual", FIGURE),
        ("spent", "voltage when three-quarters used", "usual", FIGURE),
        ("resistance", "resistance inside", "usual", FIGURE),
        ("spent_resistance", "resistance inside when three-quarters used", "usual", FIGURE),
    ),
    schema.Regulator: (
        ("vin_max", "voltage at its input", "most", LIMIT),
        ("vin_operating", "voltage at its input in use", "most", FIGURE),
        ("current", "current it is made to give", "most", LIMIT),
        ("output", "output voltage", "usual", FIGURE),
        ("tolerance", "spread of the output, either way", "most", FIGURE),
        ("dropout", "input must be above the output by", "least", FIGURE),
        ("limit", "current at which it limits itself", "usual", FIGURE),
        ("quiescent", "current it uses itself", "usual", FIGURE),
        ("min_load", "current that must be drawn", "least", FIGURE),
    ),
    schema.Chip: (
        ("supply_absolute", SUPPLY, "most", LIMIT),
        ("total_current", "current through its supply or ground pin", "most", LIMIT),
        ("supply_min", "supply voltage in which it works", "least", FIGURE),
        ("supply_max", "supply voltage in which it works", "most", FIGURE),
        ("supply_current", "current it uses itself", "usual", FIGURE),
        ("supply_peak", "current it uses at worst", "most", FIGURE),
        ("led_needs", "current that its LED needs", "least", FIGURE),
    ),
    schema.Controller: (
        ("pin_absolute", "current of a pin", "most", LIMIT),
        ("total_current", "current of all pins together", "most", LIMIT),
        ("vin_absolute", "voltage at VIN", "most", LIMIT),
        ("above_supply", "a pin above the supply of the pins by", "most", LIMIT),
        ("below_ground", "a pin below ground by", "most", LIMIT),
        ("clamp_current", "current into a pin that is driven past the supply", "most", LIMIT),
        ("usb_current", "current from the 5V pin on USB", "most", LIMIT),
        ("vin_current", "current from the 5V pin on VIN", "most", LIMIT),
        ("aux_current", "current from the 3V3 pin", "most", LIMIT),
        ("pin_usual", "current of a pin, recommended", "most", FIGURE),
        ("vin_min", "voltage that VIN takes", "least", FIGURE),
        ("vin_max", "voltage that VIN takes", "most", FIGURE),
        ("logic", "supply of the pins", "usual", FIGURE),
        ("aux_voltage", "voltage of the 3V3 pin", "usual", FIGURE),
        ("low_max", "read as low up to", "usual", FIGURE),
        ("high_min", "read as high from", "usual", FIGURE),
        ("pin_ohms", "resistance of an output", "usual", FIGURE),
        ("pull_up", "built-in pull-up", "usual", FIGURE),
        ("own_current", "current it uses itself", "usual", FIGURE),
    ),
}


def ratings_of(entry: AnyEntry) -> tuple[Rating, ...]:
    """Every rating of an entry, limits first."""
    rows = [*chain(_plain(entry, (*FIELDS[type(entry)], *EVERY)), records_of(entry))]
    return tuple(sorted(rows, key=lambda row: not row.limit))


def _with_pin(entry: AnyEntry, what: str) -> str:
    """A supply voltage with the pin that it is at, where the chip has several supplies."""
    if isinstance(entry, schema.Chip) and entry.more_supplies and what.startswith(SUPPLY):
        return what.replace(SUPPLY, f"{SUPPLY} at {entry.supply}", 1)
    return what


def _plain(entry: AnyEntry, rows: tuple[Row, ...]) -> Iterator[Rating]:
    for what, limit in dict.fromkeys((what, limit) for _, what, _, limit in rows):
        ends: dict[str, UnitFloat | schema.Level] = {}
        for field, said, end, is_limit in rows:
            value = getattr(entry, field)
            if (said, is_limit) == (what, limit) and value is not None:
                ends[end] = value
        if ends:
            yield rating(_with_pin(entry, what), limit=limit, **ends)
