"""A user's own parts file: what it may say, and the exact sentence for each way in which it can be wrong."""

from __future__ import annotations

from pathlib import Path

import pytest

from parts_library import LibraryError, kit_template, load_library
from parts_library.schema import Bipolar

TRANSISTOR = """
[[part]]
kind = "bipolar"
name = "MYQ1"
say = "NPN transistor from the drawer"
package = "MY-92"
pins = ["E", "B", "C"]
polarity = "npn"
vceo = "40V"
vebo = "6V"
ic = "200mA"
gain = [{ ic = "10mA", min = 100, typ = 150, max = 300 }]
from_memory = ["pins", "ratings", "model"]

[[package]]
name = "MY-92"
form = "to92"
say = "a small black case with one flat side"
pins = 3
marks = ["flat"]
from_memory = ["pitch"]
"""

SWITCH = """
[[part]]
kind = "switch"
name = "my-switch"
say = "slide switch from the drawer"
package = "MY-92"
pins = ["1", "COM", "3"]
positions = ["left", "right"]
contacts = [{ pins = ["1", "COM"], when = ["left"] }, { pins = ["3", "COM"], when = ["right"] }]
voltage = "12V"
current = "100mA"
from_memory = ["ratings"]
"""


def write_kit(folder: Path, text: str) -> Path:
    kit = folder / "kit.toml"
    kit.write_text(text, encoding="utf-8")
    return kit


def test_a_kit_adds_parts_and_packages_to_the_shipped_ones(tmp_path: Path) -> None:
    library = load_library(write_kit(tmp_path, TRANSISTOR))

    assert (40.0, 0.2) == (library.entries["MYQ1"].vceo, library.entries["MYQ1"].ic)  # type: ignore[union-attr]
    assert library.packages["MY-92"].form == "to92"
    assert "PN2222A" in library.entries
    assert library.overridden == ()


def test_a_kit_overrides_a_shipped_entry_and_the_library_says_so(tmp_path: Path) -> None:
    library = load_library(write_kit(tmp_path, TRANSISTOR.replace("MYQ1", "2N3904").replace("40V", "25V")))

    entry = library.find("2N3904").entry
    assert isinstance(entry, Bipolar)
    assert entry.vceo == 25.0
    assert library.overridden == ("2N3904",)


def test_the_shipped_library_is_untouched_by_a_kit_and_read_once(tmp_path: Path) -> None:
    load_library(write_kit(tmp_path, TRANSISTOR))

    assert "MYQ1" not in load_library().entries
    assert load_library() is load_library()


def test_a_kit_is_made_once_as_long_as_it_says_the_same_and_anew_when_it_is_saved_with_another_text(tmp_path: Path) -> None:
    first = load_library(write_kit(tmp_path, TRANSISTOR))

    assert load_library(tmp_path / "kit.toml") is first
    assert "MYQ2" in load_library(write_kit(tmp_path, TRANSISTOR.replace("MYQ1", "MYQ2"))).entries


def test_a_kit_with_a_byte_order_mark_is_read(tmp_path: Path) -> None:
    assert load_library(write_kit(tmp_path, "\ufeff" + TRANSISTOR)).find("myq1").entry is not None


Q = "kit.toml, part 'MYQ1', field "
S = "kit.toml, part 'my-switch', field "

BROKEN = [  # what is changed in the good kit, the new text, the whole message
    ('vceo = "40V"', 'vceo = "forty"', Q + "vceo: 'forty' is no voltage; write it like 40V"),
    ('vceo = "40V"', 'vceo = "40A"', Q + "vceo: '40A' is no voltage; write it like 40V"),
    ('vceo = "40V"', "vceo = 40", Q + 'vceo: 40 has no unit; write it like "40V"'),
    ('vceo = "40V"', 'vceo = "40"', Q + "vceo: '40' is no voltage; write it like 40V"),
    ('vceo = "40V"', 'vceo = "-40V"', Q + "vceo: is -40 V; a rating is positive"),
    ('vceo = "40V"', 'vceo = "0V"', Q + "vceo: is 0 V; a rating is positive"),
    ('vceo = "40V"', 'vcoe = "40V"\nvceo = "40V"', Q + "vcoe: is no field of it; nearest is vceo"),
    ('vceo = "40V"\n', "", Q + "vceo: is missing"),
    ('ic = "10mA", min', 'ic = "10 mV", min', Q + "gain[0].ic: '10 mV' is no current; write it like 200mA"),
    ('min = 100, typ', 'mim = 100, typ', Q + "gain[0].mim: is no field of it; nearest is min"),
    ("typ = 150", "typ = 50", Q + "gain[0]: does not rise from min through typ to max: 100, 50, 300"),
    (", min = 100, typ = 150, max = 300", "", Q + "gain[0]: says neither min, typ nor max"),
    ('polarity = "npn"', 'polarity = "nnp"', Q + "polarity: 'nnp' is not known here; nearest is npn"),
    ('kind = "bipolar"', 'kind = "bipolr"', Q + "kind: 'bipolr' is not known here; nearest is bipolar"),
    ('say = "NPN transistor from the drawer"', "say = 5", Q + "say: must be a text in quotes, and is a number"),
    ('say = "NPN transistor from the drawer"', 'say = ""', Q + "say: is empty"),
    ('pins = ["E", "B", "C"]', "pins = []", Q + "pins: names no pin; list them in numeric order"),
    ('pins = ["E", "B", "C"]', 'pins = ["E", "B", "B"]', Q + "pins: names 'B' twice; write B1 and B2"),
    ('pins = ["E", "B", "C"]', 'pins = ["E", "B"]', Q + "pins: names 2 pins, and the package MY-92 has 3"),
    ('pins = ["E", "B", "C"]', 'pins = ["E", "B", "K"]', Q + "pins: has no C"),
    ('pins = ["E", "B", "C"]', 'pins = "EBC"', Q + "pins: must be a list in brackets, and is a text in quotes"),
    ('polarity = "npn"', 'polarity = "npn"\nother_orders = [{ pins = ["C", "B", "B"] }]',
     Q + "other_orders[0].pins: 'C B B' is no other order of E B C"),
    ('polarity = "npn"', 'polarity = "npn"\nother_orders = [{ pins = ["E", "B", "C"] }]',
     Q + "other_orders[0].pins: is the same order as pins"),
    ('polarity = "npn"', 'polarity = "npn"\npin_aliases = { X = ["base"] }',
     Q + "pin_aliases.X: 'X' is no pin of it; its pins are E B C"),
    ('polarity = "npn"', 'polarity = "npn"\npin_aliases = { E = ["B"] }', Q + "pin_aliases.E: 'B' is the name of another pin"),
    ('polarity = "npn"', 'polarity = "npn"\naliases = ["1N4148"]', Q + "aliases: '1N4148' is the name of part '1N4148'"),
    ('from_memory = ["pins", "ratings", "model"]\n', "",
     Q + "sources: is missing; name a datasheet, or list the facts under from_memory"),
    ('name = "MYQ1"\n', "", "kit.toml, part number 1, field name: is missing"),
    ("[[package]]", "[package]", "kit.toml: [package] is written [[package]], once for each package"),
    ("[[package]]", "[[pakage]]", "kit.toml: [pakage] is no table of a parts file; it has [[part]] and [[package]]"),
    ('form = "to92"', 'form = "to29"', "kit.toml, package 'MY-92', field form: 'to29' is not known here; nearest is to92"),
    ('when = ["left"]', 'when = ["up"]', S + "contacts[0].when: 'up' is no position"),
    ('pins = ["3", "COM"]', 'pins = ["2", "COM"]', S + "contacts[1].pins: '2' is no pin of it; its pins are 1 COM 3"),
    ('positions = ["left", "right"]', 'positions = ["left", "left"]', S + "contacts[1].when: 'right' is no position"),
    (SWITCH, SWITCH + SWITCH, "kit.toml, part 'my-switch', field name: is given twice, first in kit.toml"),
]  # fmt: skip


@pytest.mark.parametrize(("good", "bad", "message"), BROKEN)
def test_a_broken_kit_is_refused_in_a_sentence_that_says_what_to_change(
    tmp_path: Path, good: str, bad: str, message: str
) -> None:
    whole = TRANSISTOR + SWITCH
    assert good in whole
    with pytest.raises(LibraryError) as caught:
        load_library(write_kit(tmp_path, whole.replace(good, bad, 1)))

    assert message == caught.value.message


def test_an_error_keeps_file_entry_field_and_both_sides_apart(tmp_path: Path) -> None:
    with pytest.raises(LibraryError) as caught:
        load_library(write_kit(tmp_path, TRANSISTOR.replace('form = "to92"', 'form = "box"')))

    error = caught.value
    assert ("kit.toml", "package 'MY-92'", "form", "box") == (error.file, error.entry, error.field, error.found)
    assert "to92" in error.allowed


def test_a_package_that_is_not_known_is_named_with_the_nearest(tmp_path: Path) -> None:
    with pytest.raises(LibraryError) as caught:
        load_library(write_kit(tmp_path, TRANSISTOR.replace('package = "MY-92"', 'package = "MY-29"')))

    assert caught.value.message == Q + "package: 'MY-29' is no package; nearest is MY-92"


@pytest.mark.parametrize(("text", "reason"), [(b"\xff\xfe", "is not UTF-8 text"), (b"name = ", "is no TOML: ")])
def test_a_file_that_is_no_toml_is_refused(tmp_path: Path, text: bytes, reason: str) -> None:
    kit = tmp_path / "kit.toml"
    kit.write_bytes(text)
    with pytest.raises(LibraryError, match=f"^kit.toml: {reason}"):
        load_library(kit)


def test_a_file_that_is_not_there_is_refused_by_name(tmp_path: Path) -> None:
    with pytest.raises(LibraryError, match=r"^drawer\.toml: cannot be read: "):
        load_library(tmp_path / "drawer.toml")


def test_the_template_is_a_kit_whose_entries_are_all_new(tmp_path: Path) -> None:
    library = load_library(write_kit(tmp_path, kit_template()))

    assert () == library.overridden
    assert {"DRAWER-NPN", "DRAWER-LED", "DRAWER-MOTOR", "DRAWER-SENSOR"} <= set(library.entries)
