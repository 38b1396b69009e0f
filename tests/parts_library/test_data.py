"""Laws that the shipped data obey, whatever they say; and what the package may import."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

import parts_library
from parts_library import load_library
from parts_library.decoding import FieldError, decode_record
from parts_library.laws import LAWS, broken_laws
from parts_library.loader import DATA, decode_file, library_from
from parts_library.logic import pins_of
from parts_library.schema import AnyEntry, Chip, Package
from parts_library.table import TABLE, read_table

FILES = sorted(DATA.glob("*.toml"))


@pytest.mark.parametrize("path", FILES, ids=[path.name for path in FILES])
def test_every_file_loads_and_every_entry_obeys_every_law(path: Path) -> None:
    packages = load_library().packages
    file = decode_file(path)

    assert [] == [(entry.name, broken) for entry in file.entries for broken in broken_laws(entry, packages)]
    assert file.entries or file.packages


def test_no_name_is_given_twice_whatever_its_case() -> None:
    names = [entry.name.casefold() for path in FILES for entry in decode_file(path).entries]

    assert len(set(names)) == len(names)


def test_every_entry_is_found_by_its_own_name_and_its_aliases() -> None:
    library = load_library()
    for entry in library.entries.values():
        assert library.find(entry.name).entry is entry, entry.name
        for alias in entry.aliases:
            assert entry in library.find(alias).entries, alias


def test_every_package_that_is_used_has_at_least_two_pins_to_seat_or_is_off_board() -> None:
    library = load_library()
    for entry in library.entries.values():
        package = library.packages[entry.package]
        assert len(entry.pins) >= 2 or package.form == "off-board", entry.name


# What every reader of the list needs to find, by the words of DESIGN.md section 2.
NEEDED = [
    "resistor", "capacitor", "electrolytic", "inductor", "pot", "ldr", "thermistor", "diode", "zener", "led", "motor",
    "solenoid", "lamp", "buzzer", "speaker", "relay", "servo", "stepper", "button", "slide-switch", "fuse",
    "controller-5v", "controller-3v3", "9v-block", "aa-pack-4", "usb-port", "bench-supply", "plug-in-module-5v",
    "PN2222A", "2N2222A", "P2N2222A", "1N4001", "1N4148", "7805", "LM317", "NE555", "4N35", "ULN2003A", "L293D",
]  # fmt: skip


@pytest.mark.parametrize("name", NEEDED)
def test_what_the_language_names_is_in_the_library(name: str) -> None:
    assert load_library().find(name).entry is not None


# Registered values, each from the JEDEC registration or datasheet as commonly quoted; from memory unless a source is named
# in the entry.
FACTS = [
    ("1N4001", "vrrm", 50.0), ("1N4007", "vrrm", 1000.0), ("1N4001", "current", 1.0),
    ("1N5819", "vrrm", 40.0), ("PN2222A", "vceo", 40.0), ("2N3904", "vceo", 40.0), ("2N7000", "vds", 60.0),
    ("7805", "output", 5.0), ("1N4733A", "voltage", 5.1), ("NE555", "supply_max", 16.0),
]  # fmt: skip


@pytest.mark.parametrize(("name", "field", "value"), FACTS)
def test_registered_types_have_their_registered_ratings(name: str, field: str, value: float) -> None:
    assert value == pytest.approx(getattr(load_library().entries[name], field))


BASE: dict[str, object] = {"name": "x", "say": "a part", "package": "off-board", "pins": ["1", "2"], "from_memory": ["pins"]}
SENSOR: dict[str, object] = {"kind": "sensor-resistor", "ohms": "10k", "low": "1k", "high": "100k", "low_when": "hot",
          "high_when": "cold"}  # fmt: skip
BIPOLAR: dict[str, object] = {"kind": "bipolar", "pins": ["E", "B", "C"], "polarity": "npn", "vceo": "40V", "vebo": "6V",
           "ic": "1A", "gain": [{"ic": "1mA", "min": 50, "typ": 100}]}  # fmt: skip
SWITCH: dict[str, object] = {"kind": "switch", "positions": ["open", "closed"], "voltage": "12V", "current": "1A",
          "contacts": [{"pins": ["1", "2"], "when": ["closed"]}]}  # fmt: skip
STEPPER: dict[str, object] = {"kind": "stepper", "voltage": "5V", "ohms": "50ohm", "coils": [["1", "2"]]}
CHIP: dict[str, object] = {"kind": "chip", "type": "logic", "supply": "1", "ground": "2",
        "outputs": [{"pins": ["1"], "follows": ["!2"]}]}  # fmt: skip
DIODE: dict[str, object] = {"kind": "diode", "pins": ["A", "K"], "vrrm": "50V", "current": "1A", "use": "rectifier",
         "forward": [{"amps": "1A", "volts": "0.9V"}]}  # fmt: skip
RESISTOR: dict[str, object] = {"kind": "resistor"}
PLUS_MINUS: dict[str, object] = {"kind": "capacitor", "type": "electrolytic", "polarised": True, "pins": ["+", "-"]}

BREAKS: list[tuple[str, dict[str, object], dict[str, object]]] = [  # a law, a sound entry, what would break it
    ("_names_are_said", RESISTOR, {"say": " "}),
    ("_pins_are_distinct", RESISTOR, {"pins": ["1", "1"]}),
    ("_orders_are_permutations", RESISTOR, {"other_orders": [{"pins": ["1", "3"]}]}),
    ("_package_is_known", RESISTOR, {"package": "none such"}),
    ("_pin_aliases_name_pins", RESISTOR, {"pin_aliases": {"9": ["nine"]}}),
    ("_facts_have_a_source", RESISTOR, {"from_memory": []}),
    ("_ratings_are_positive", RESISTOR, {"power": "0W"}),
    ("_spreads_rise", BIPOLAR, {"gain": [{"ic": "1mA", "min": 50, "typ": 40}]}),
    ("_range_of_sensor_holds_its_value", SENSOR, {"ohms": "200k"}),
    ("transistors_have_their_legs", BIPOLAR, {"pins": ["E", "B", "K"]}),
    ("diodes_name_their_anode_first", DIODE, {"pins": ["K", "A"]}),
    ("polarised_parts_have_plus_and_minus", PLUS_MINUS, {"pins": ["1", "2"]}),
    ("contacts_join_pins", SWITCH, {"contacts": [{"pins": ["1", "3"]}]}),
    ("members_and_coils_name_pins", STEPPER, {"coils": [["1", "A"]]}),
    ("chips_name_their_pins", CHIP, {"outputs": [{"pins": ["1"], "follows": ["3"]}]}),
    ("chips_name_their_pins", CHIP, {"ground": "GND"}),
    ("chips_name_their_pins", CHIP, {"limits": [{"quantity": "voltage", "of": ["1"], "volts": "5V"}]}),
    ("elements_have_their_nodes", CHIP, {"circuit": [{"device": "npn", "nodes": ["1", "2"]}]}),
]


@pytest.mark.parametrize(("law", "sound", "change"), BREAKS)
def test_each_law_holds_for_a_sound_entry_and_can_be_broken(
    law: str, sound: dict[str, object], change: dict[str, object]
) -> None:
    packages = {"off-board": Package(name="off-board", form="off-board", say="by its leads")}
    test = next(function for function in LAWS if function.__name__ == law)
    good, broken = decode_record(BASE | sound, AnyEntry), decode_record(BASE | sound | change, AnyEntry)

    assert [] == list(test(good, packages))
    assert [] != list(test(broken, packages))


def test_every_law_is_in_the_table_above() -> None:
    assert {function.__name__ for function in LAWS} == {law for law, _, _ in BREAKS}


def test_a_logic_level_is_volts_or_a_share_of_the_supply() -> None:
    chip = {"kind": "chip", "type": "logic", "name": "c", "say": "a chip", "package": "x", "pins": ["A", "B"],
            "inputs": [{"pins": ["A"], "low_max": "0.8V", "high_min": "70%"}]}  # fmt: skip
    group = decode_record(chip, AnyEntry).inputs[0]

    assert (group.low_max.volts, group.low_max.share) == (0.8, 0.0)
    assert (group.high_min.volts, group.high_min.share) == (0.0, pytest.approx(0.7))
    with pytest.raises(FieldError, match="low_max: 'two' is no logic level; write it like 2V, or 70% of the supply"):
        decode_record(chip | {"inputs": [{"pins": ["A"], "low_max": "two"}]}, AnyEntry)


@pytest.mark.parametrize("entry", [entry for entry in load_library().entries.values() if isinstance(entry, Chip)
                                   and entry.type == "logic" and entry.outputs and all(o.follows for o in entry.outputs)],
                         ids=lambda entry: entry.name)
def test_no_input_of_a_gate_or_decoder_is_without_effect(entry: Chip) -> None:
    """An enable that no function names could be left open, and nobody would be told."""
    named = {pin for output in entry.outputs for function in (*output.follows, *output.enabled_by, *output.held_by)
             for pin in pins_of(function)}

    assert set() == {pin for group in entry.inputs for pin in group.pins} - named


def test_the_channels_of_an_analogue_switch_name_what_selects_them() -> None:
    switches = [entry for entry in load_library().entries.values()
                if isinstance(entry, Chip) and entry.type == "logic" and entry.say.startswith((
                    "analogue switch", "two analogue switch", "three analogue", "four analogue"))]
    for entry in switches:
        channels = [group for group in entry.inputs if group.analog]
        controls = {pin for group in entry.inputs if not group.analog for pin in group.pins}

        assert controls == {pin for group in channels for pin in group.switched_by}, entry.name
    assert len(switches) >= 17


def test_the_package_imports_nothing_of_the_project_but_the_reader_of_quantities() -> None:
    allowed = {"grammar.quantities", "grammar.suggestions"}
    for path in Path(parts_library.__file__).parent.glob("*.py"):
        nodes = list(ast.walk(ast.parse(path.read_text(encoding="utf-8"))))
        modules = {node.module for node in nodes if isinstance(node, ast.ImportFrom) and node.module}
        modules |= {alias.name for node in nodes if isinstance(node, ast.Import) for alias in node.names}
        foreign = {module for module in modules if module.split(".")[0] in ("grammar", "checker")}

        assert foreign <= allowed, path.name


def test_what_the_package_offers_is_listed_and_there() -> None:
    assert sorted(parts_library.__all__) == parts_library.__all__
    assert all(hasattr(parts_library, name) for name in parts_library.__all__)


def test_the_table_is_in_step_with_the_files() -> None:
    """``python -m parts_library`` makes it anew."""
    files = sorted(DATA.glob("*.toml"))
    table = read_table(files)
    read = library_from(files)

    assert table is not None
    assert read.entries == {entry.name: entry for entry in table.entries}
    assert read.packages == {package.name: package for package in table.packages}


@pytest.mark.parametrize("spoilt", [b"", b"nonsense", TABLE.read_bytes()[:1000]])
def test_a_table_that_cannot_be_used_is_passed_over(spoilt: bytes, tmp_path: Path) -> None:
    broken = tmp_path / "library.table"
    broken.write_bytes(spoilt)

    assert read_table(sorted(DATA.glob("*.toml")), broken) is None


def test_a_table_of_other_files_is_passed_over(tmp_path: Path) -> None:
    other = tmp_path / "other.toml"
    other.write_text("", encoding="utf-8")

    assert read_table([other]) is None
