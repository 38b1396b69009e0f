"""The shipped semiconductors agree with published sheets, row by row, and every fact says where it is from."""

from __future__ import annotations

import tomllib
from functools import cache
from pathlib import Path
from typing import Any

import pytest

import parts_library
from tests.published import pin_orders as published

DATA = Path(parts_library.__path__[0]) / "data"
FILES = ("bipolar", "mosfet", "jfet", "thyristor", "diode", "zener", "led")
PINS = frozenset({"pins", "other_orders"})
RATINGS = frozenset({"vceo", "vcbo", "vebo", "ic", "ib", "vds", "vgs", "id", "vrrm", "current", "usual_current", "surge",
                     "reverse_voltage", "recovery", "max_power", "thermal_resistance", "max_junction", "avalanche_energy"})
MODEL = frozenset({"gain", "saturation", "vbe_on", "reverse_gain", "threshold", "on_resistance", "body_diode", "forward",
                   "voltage", "tolerance", "test_current", "impedance", "members", "joined"})


@cache
def shipped() -> dict[str, dict[str, Any]]:
    """The entries as written, by name: a reader so small that it cannot hide a mistake of the loader."""
    entries = [entry for name in FILES for entry in tomllib.loads((DATA / f"{name}.toml").read_text("utf-8"))["part"]]
    return {entry["name"]: entry for entry in entries}


def number(text: str, unit: str) -> float:
    assert text.endswith(unit), f"{text} is not in {unit}"
    return float(text.removesuffix(unit))


@pytest.mark.parametrize(("name", "order", "source"), published.PIN_ORDERS)
def test_the_legs_are_in_the_published_order(name: str, order: str, source: str) -> None:
    assert order.split() == shipped()[name]["pins"], source


@pytest.mark.parametrize(("name", "order", "source"), published.OTHER_ORDERS)
def test_the_second_order_of_a_type_is_known_and_can_be_told(name: str, order: str, source: str) -> None:
    other = {tuple(other["pins"]): other for other in shipped()[name]["other_orders"]}[tuple(order.split())]

    assert other["marked"] and other["tell"], source


@pytest.mark.parametrize("name", ["PN2222A", "P2N2222A", "PN2907A", "P2N2907A"])
def test_a_number_that_fixes_the_order_has_no_other(name: str) -> None:
    assert "other_orders" not in shipped()[name]


@pytest.mark.parametrize(("name", "field", "value", "source"), published.RATINGS)
def test_a_rating_is_the_published_one(name: str, field: str, value: str, source: str) -> None:
    assert value == shipped()[name][field], source


@pytest.mark.parametrize("index", range(len(published.ZENER_VOLTS)))
def test_the_one_watt_zeners_follow_the_published_table(index: int) -> None:
    entry = shipped()[f"1N{published.ZENER_FIRST + index}A"]

    assert published.ZENER_VOLTS[index] == number(entry["voltage"], "V")
    assert published.ZENER_MILLIAMPS[index] == number(entry["test_current"], "mA")
    assert published.ZENER_OHMS[index] == number(entry["impedance"], "ohm")


@pytest.mark.parametrize(("name", "volts", "milliamps", "ohms", "source"), published.HALF_WATT_ZENERS)
def test_the_half_watt_zeners_follow_the_published_tables(
        name: str, volts: float, milliamps: float, ohms: float, source: str) -> None:
    entry = shipped()[name]

    assert volts == number(entry["voltage"], "V"), source
    assert milliamps == number(entry["test_current"], "mA"), source
    assert ohms == number(entry["impedance"], "ohm"), source


def test_diodes_and_leds_name_the_anode_first() -> None:
    kinds = ("diode", "zener", "led")
    orders = {entry["name"]: entry["pins"] for entry in shipped().values() if entry["kind"] in kinds}

    assert {name: ["A", "K"] for name in orders} == orders


@pytest.mark.parametrize("package_order", [("TO-126", "bipolar", ["E", "C", "B"]), ("TO-220", "bipolar", ["B", "C", "E"]),
                                           ("TO-220", "mosfet", ["G", "D", "S"])])
def test_a_case_with_a_tab_has_one_order(package_order: tuple[str, str, list[str]]) -> None:
    """TO-225 and TO-220AB as in the sheets named in ``pin_orders``: the middle leg is the tab."""
    package, kind, order = package_order
    found = {entry["name"]: entry["pins"] for entry in shipped().values()
             if entry["package"] == package and entry["kind"] == kind}

    assert found
    assert dict.fromkeys(found, order) == found


def test_every_fact_has_a_source_or_is_marked_as_memory() -> None:
    missing = [f"{name}: {field}" for name, entry in shipped().items() for field in entry
               if (group := group_of(field)) and not {field, group} & named_facts(entry)]

    assert [] == missing


def test_every_named_fact_is_one_that_the_entry_has() -> None:
    strange = [f"{name}: {fact}" for name, entry in shipped().items()
               for fact in named_facts(entry) - {"pins", "ratings", "model"} if fact not in entry]

    assert [] == strange


def group_of(field: str) -> str | None:
    """The group of facts that a field belongs to; None where it needs no source."""
    groups = {"pins": PINS, "ratings": RATINGS, "model": MODEL}
    return next((name for name, fields in groups.items() if field in fields), None)


def named_facts(entry: dict[str, Any]) -> set[str]:
    """The facts that an entry gives an origin for; ``forward.volts`` counts for ``forward``."""
    facts = [fact for source in entry.get("sources", ()) for fact in source["facts"]] + entry.get("from_memory", [])
    return {fact.partition(".")[0] for fact in facts}
