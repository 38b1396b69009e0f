"""The laws that every entry of the parts library obeys, whoever wrote it.

Input: one decoded entry and the packages known. Output: the broken laws, each with the field, what is allowed and what
was found. A law is a function in ``LAWS``; the loader turns a broken one into an error that names file and entry, and
the tests run all of them over every data file.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from msgspec import Struct

from grammar.suggestions import nearest
from parts_library.family_laws import (
    chips_name_their_pins,
    contacts_join_pins,
    diodes_name_their_anode_first,
    elements_have_their_nodes,
    members_and_coils_name_pins,
    polarised_parts_have_plus_and_minus,
    transistors_have_their_legs,
)
from parts_library.law import Broken, Law, doubled_in, no_pin
from parts_library.schema import (
    AnyEntry,
    Celsius,
    Gain,
    Package,
    Percent,
    SensorResistor,
    Spread,
    UnitFloat,
    VoltSpread,
)

_MAY_BE_ZERO = frozenset({"drop_high", "drop_low", "headroom_high", "headroom_low", "ohms_high", "ohms_low", "dropout",
                          "above_supply", "below_ground", "offset", "low", "volts", "quiescent", "supply_current",
                          "own_current", "share", "resistance",
                          "source"})


def broken_laws(entry: AnyEntry, packages: Mapping[str, Package]) -> Iterator[Broken]:
    """Every law that ``entry`` breaks, in the order of ``LAWS``."""
    for law in LAWS:
        yield from law(entry, packages)


def _names_are_said(entry: AnyEntry, packages: Mapping[str, Package]) -> Iterator[Broken]:
    for field in ("name", "say"):
        if not getattr(entry, field).strip():
            yield Broken(field, "is empty", "''", "a few words")


def _pins_are_distinct(entry: AnyEntry, packages: Mapping[str, Package]) -> Iterator[Broken]:
    if not entry.pins:
        yield Broken("pins", "names no pin; list them in numeric order", "[]", "at least one pin")
    doubled = doubled_in(entry.pins)
    if doubled:
        yield Broken("pins", f"names '{doubled}' twice; write {doubled}1 and {doubled}2", doubled, "distinct names")


def _orders_are_permutations(entry: AnyEntry, packages: Mapping[str, Package]) -> Iterator[Broken]:
    for index, order in enumerate(entry.other_orders):
        if sorted(order.pins) != sorted(entry.pins):
            found = " ".join(order.pins)
            yield Broken(f"other_orders[{index}].pins", f"'{found}' is no other order of {' '.join(entry.pins)}",
                         found, " ".join(entry.pins))
        elif order.pins == entry.pins:
            yield Broken(f"other_orders[{index}].pins", "is the same order as pins", " ".join(order.pins), "another order")


def _package_is_known(entry: AnyEntry, packages: Mapping[str, Package]) -> Iterator[Broken]:
    package = packages.get(entry.package)
    if package is None:
        near = nearest(entry.package, packages)
        hint = f"; nearest is {near[0]}" if near else f"; there are {', '.join(packages)}"
        yield Broken("package", f"'{entry.package}' is no package{hint}", entry.package, ", ".join(packages))
    elif package.pins is not None and package.pins != len(entry.pins):
        yield Broken("pins", f"names {len(entry.pins)} pins, and the package {package.name} has {package.pins}",
                     str(len(entry.pins)), str(package.pins))


def _pin_aliases_name_pins(entry: AnyEntry, packages: Mapping[str, Package]) -> Iterator[Broken]:
    for pin in entry.pin_aliases:
        if pin not in entry.pins:
            yield no_pin(f"pin_aliases.{pin}", pin, entry)
    spelled = [alias.casefold() for aliases in entry.pin_aliases.values() for alias in aliases]
    if doubled := doubled_in(spelled):
        yield Broken("pin_aliases", f"gives '{doubled}' to two pins", doubled, "one pin for a name")
    for pin, aliases in entry.pin_aliases.items():
        for alias in aliases:
            if alias in entry.pins and alias != pin:
                yield Broken(f"pin_aliases.{pin}", f"'{alias}' is the name of another pin", alias, "names that are no pins")


def _facts_have_a_source(entry: AnyEntry, packages: Mapping[str, Package]) -> Iterator[Broken]:
    if not entry.sources and not entry.from_memory:
        yield Broken("sources", "is missing; name a datasheet, or list the facts under from_memory", "nothing",
                     "sources or from_memory")


def _ratings_are_positive(entry: AnyEntry, packages: Mapping[str, Package]) -> Iterator[Broken]:
    for path, name, value in _quantities(entry):
        if isinstance(value, Celsius):
            continue
        if value < 0 or (not value and name not in _MAY_BE_ZERO):
            yield Broken(path, f"is {value:g} {value.unit}; a rating is positive", f"{float(value):g}", "more than zero")
        if isinstance(value, Percent) and value > 1:
            yield Broken(path, f"is {float(value) * 100:g} %, more than the whole", f"{float(value):g}", "0 to 100 %")


def _spreads_rise(entry: AnyEntry, packages: Mapping[str, Package]) -> Iterator[Broken]:
    for path, record in _records(entry):
        if isinstance(record, (Gain, Spread, VoltSpread)):
            known = [value for value in (record.min, record.typ, record.max) if value is not None]
            if not known:
                yield Broken(path, "says neither min, typ nor max", "nothing", "at least one of them")
            elif known != sorted(known) or known[0] < 0:
                found = ", ".join(f"{float(value):g}" for value in known)
                yield Broken(path, f"does not rise from min through typ to max: {found}", found, "min <= typ <= max")
        for low, high in _PAIRS:
            lower, upper = getattr(record, low, None), getattr(record, high, None)
            if isinstance(lower, float) and isinstance(upper, float) and lower > upper:
                yield Broken(_joined(path, low), f"({float(lower):g}) is above {high} ({float(upper):g})",
                             f"{float(lower):g}", f"at most {high}")


# The lower of each pair may not exceed the higher.
_PAIRS = (("volts", "volts_max"), ("ohms", "ohms_max"), ("vce", "vce_max"), ("usual_current", "current"),
          ("supply_min", "supply_max"), ("supply_max", "supply_absolute"), ("supply_current", "supply_peak"),
          ("voltage_min", "voltage"), ("voltage", "voltage_max"), ("current", "stall_current"),
          ("current", "inrush_current"), ("spent", "fresh"), ("vin_min", "vin_max"), ("vin_max", "vin_absolute"),
          ("vin_operating", "vin_max"),
          ("pin_usual", "pin_absolute"), ("must_release", "must_operate"))


def _range_of_sensor_holds_its_value(entry: AnyEntry, packages: Mapping[str, Package]) -> Iterator[Broken]:
    if isinstance(entry, SensorResistor) and not entry.low <= entry.ohms <= entry.high:
        yield Broken("ohms", f"({float(entry.ohms):g}) lies outside low to high", f"{float(entry.ohms):g}",
                     f"{float(entry.low):g} to {float(entry.high):g}")


LAWS: tuple[Law, ...] = (
    _names_are_said,
    _pins_are_distinct,
    _orders_are_permutations,
    _package_is_known,
    _pin_aliases_name_pins,
    _facts_have_a_source,
    _ratings_are_positive,
    _spreads_rise,
    _range_of_sensor_holds_its_value,
    transistors_have_their_legs,
    diodes_name_their_anode_first,
    polarised_parts_have_plus_and_minus,
    contacts_join_pins,
    members_and_coils_name_pins,
    chips_name_their_pins,
    elements_have_their_nodes,
)


def _records(entry: Struct) -> Iterator[tuple[str, Struct]]:
    """The entry and every record inside it, each with its path."""
    yield from _records_below("", entry)


def _records_below(path: str, record: Struct) -> Iterator[tuple[str, Struct]]:
    yield path, record
    for name in record.__struct_fields__:
        value = getattr(record, name)
        if isinstance(value, Struct):
            yield from _records_below(_joined(path, name), value)
        elif isinstance(value, tuple):
            for index, item in enumerate(value):
                if isinstance(item, Struct):
                    yield from _records_below(f"{_joined(path, name)}[{index}]", item)


def _quantities(entry: Struct) -> Iterator[tuple[str, str, UnitFloat]]:
    for path, record in _records(entry):
        for name in record.__struct_fields__:
            value = getattr(record, name)
            if isinstance(value, UnitFloat):
                yield _joined(path, name), name, value


def _joined(path: str, name: str) -> str:
    return f"{path}.{name}" if path else name
