"""The command as it is typed: arguments and input in; status, output and complaint out. Runs the real entry point."""

from __future__ import annotations

import json
import subprocess
import sys
from importlib.resources import files
from itertools import pairwise
from pathlib import Path

import pytest

from checker import rules
from checker.examples import names
from parts_library import load_library

CLEAR = """\
title "Tide tank lamp"
board half
supply PACK 9V limit 1A on L+ L-
part R1 470 in a5 a10
part LED1 led red in b10 b15 long b10
wire L+ to c5
wire c15 to L-
"""
REVERSED = CLEAR.replace("long b10", "long b15")
UNREADABLE = CLEAR + "wire a20 to\n"
LISTS = {"clear.legs": CLEAR, "reversed.legs": REVERSED, "unreadable.legs": UNREADABLE}
CLEAR_STATUS, FOUND, MISUSED = 0, 1, 2


@pytest.fixture
def bench(tmp_path: Path) -> Path:
    """A folder with a clear list, one with its LED reversed, one that breaks off, and a folder in it."""
    for name, text in LISTS.items():
        (tmp_path / name).write_text(text, encoding="utf-8")
    (tmp_path / "folder").mkdir()
    (tmp_path / "kit.toml").write_text("this is no kit\n", encoding="utf-8")
    return tmp_path


def legwise(bench: Path, command: str, typed: str = "") -> subprocess.CompletedProcess[str]:
    """Run ``python -m checker`` in the folder ``bench``; ``typed`` is what is piped in."""
    return subprocess.run(
        [sys.executable, "-m", "checker", *command.split()],
        cwd=bench,
        input=typed,
        capture_output=True,
        encoding="utf-8",
        env={"PYTHONPATH": str(Path(__file__).parents[2]), "PYTHONUTF8": "1"},
        check=False,
    )


@pytest.mark.parametrize(
    ("command", "typed", "status", "verdicts"),
    [
        ("check clear.legs", "", CLEAR_STATUS, ["CLEAR"]),
        ("check reversed.legs", "", FOUND, ["DO NOT POWER"]),
        ("check unreadable.legs", "", MISUSED, ["COULD NOT READ ALL OF IT"]),
        ("check -", CLEAR, CLEAR_STATUS, ["CLEAR"]),
        ("check", REVERSED, FOUND, ["DO NOT POWER"]),
        ("check", "", FOUND, ["WILL NOT WORK"]),
        ("check clear.legs reversed.legs", "", FOUND, ["CLEAR", "DO NOT POWER"]),
        ("check unreadable.legs reversed.legs", "", MISUSED, ["COULD NOT READ ALL OF IT", "DO NOT POWER"]),
        ("check clear.legs --format terminal clear.legs", "", CLEAR_STATUS, ["CLEAR", "CLEAR"]),
        ("check missing.legs clear.legs", "", MISUSED, ["CLEAR"]),
    ],
)
def test_check_prints_a_verdict_for_each_list_and_ends_with_the_worst_status(
    bench: Path, command: str, typed: str, status: int, verdicts: list[str]
) -> None:
    done = legwise(bench, command, typed)
    lines = done.stdout.splitlines()
    underlined = [line for line, under in pairwise(lines) if under and set(under) == {"="}]

    assert underlined == verdicts
    assert done.returncode == status
    assert "\x1b" not in done.stdout


@pytest.mark.parametrize(
    ("command", "status", "complaint"),
    [
        ("chek clear.legs", MISUSED, "legwise: no command 'chek'. The nearest is check\n"),
        ("frobnicate", MISUSED, "legwise: no command 'frobnicate'. There are: check, "),
        ("clear.legs", MISUSED, "legwise: to check a list: legwise check clear.legs\n"),
        ("check missing.legs", MISUSED, "legwise: cannot read missing.legs: no such file or directory\n"),
        ("check folder", MISUSED, "legwise: cannot read folder: it is a folder; name the files in it\n"),
        ("check - -", MISUSED, "legwise: standard input (-) can be read only once\n"),
        ("check clear.legs --format jsn", MISUSED, "legwise: no format 'jsn'. The nearest is json\n"),
        ("check clear.legs --format", MISUSED, "legwise: --format needs a word after it\n  legwise check --help "),
        ("check clear.legs --fromat json", MISUSED, "legwise: no option '--fromat' for legwise check. The nearest is "),
        ("check clear.legs --parts no.toml", MISUSED, "legwise: the parts of no.toml cannot be used: no.toml: cannot "),
        ("check clear.legs --parts kit.toml", MISUSED, "legwise: the parts of kit.toml cannot be used: kit.toml: is "),
        ("check clear.legs clear.legs --mend", MISUSED, "legwise: --mend prints one list: give it one FILE and no "),
        ("check clear.legs --into new.legs", MISUSED, "legwise: --into goes with --mend: it names the file for "),
        ("slips reversed.legs", FOUND, "legwise: slips are looked for in a list that is clear. reversed.legs: DO NOT POWER.\n"),
        ("slips unreadable.legs", MISUSED, "legwise: slips are looked for in a list that is clear. unreadable.legs: COULD "),
        ("slips missing.legs", MISUSED, "legwise: cannot read missing.legs: no such file or directory\n"),
        ("slips", MISUSED, "legwise: "),
        ("slips clear.legs --format jsn", MISUSED, "legwise: no format 'jsn'. The nearest is json\n"),
        ("slips clear.legs --parts kit.toml", MISUSED, "legwise: the parts of kit.toml cannot be used: kit.toml: is "),
        ("why diode-revresed", MISUSED, "legwise: no rule 'diode-revresed'. The nearest is diode-reversed\n"),
        ("why led", MISUSED, "legwise: no rule 'led'. Rules with led in their name: led-reversed\n"),
        ("why xyz", MISUSED, "legwise: no rule 'xyz'. Give no name to see all\n"),
        ("why diode-reversed again", MISUSED, "legwise: 'again' is one word too many\n"),
        ("example no-such-thing-here", MISUSED, "legwise: no example 'no-such-thing-here'. "),
        ("part", MISUSED, "legwise: name a part: legwise part NAME. "),
        ("part 2222", MISUSED, "legwise: '2222' could be any of these 5:\n  PN2222A   NPN transistor "),
        ("part 2n222", MISUSED, "legwise: no part is called '2n222'. Did you mean 2N2222? To search: legwise parts WORDS"),
        ("part frobnicator", MISUSED, "legwise: no part is called 'frobnicator'. To search: legwise parts WORDS\n"),
        ("part NE555 --format jsn", MISUSED, "legwise: no format 'jsn'. The nearest is json\n"),
        ("part NE555 --parts kit.toml", MISUSED, "legwise: the parts of kit.toml cannot be used: kit.toml: is "),
        ("parts xyzzy frobnicator", MISUSED, "legwise: no part fits 'xyzzy frobnicator'. legwise parts lists "),
    ],
)
def test_misuse_is_one_plain_complaint_on_standard_error(
    bench: Path, command: str, status: int, complaint: str
) -> None:
    done = legwise(bench, command)

    assert done.stderr.startswith(complaint)
    assert (done.returncode, done.stdout) == (status, "")


@pytest.mark.parametrize(
    ("command", "verdicts"),
    [
        ("check clear.legs --format json", "clear"),
        ("check --format=json clear.legs reversed.legs", ["clear", "do-not-power"]),
        ("check --format json clear.legs missing.legs", ["clear"]),
        ("check --format json missing.legs folder", []),
    ],
)
def test_json_is_an_object_for_one_list_and_an_array_for_several(bench: Path, command: str, verdicts: object) -> None:
    found = json.loads(legwise(bench, command).stdout)
    got = [each["verdict"] for each in found] if isinstance(found, list) else found["verdict"]

    assert got == verdicts


@pytest.mark.parametrize(("command", "typed"), [("slips clear.legs", ""), ("slips -", CLEAR)])
def test_slips_prints_a_sheet_with_boxes_and_ends_clear(bench: Path, command: str, typed: str) -> None:
    done = legwise(bench, command, typed)
    boxes = [line.split(":")[0] for line in done.stdout.splitlines() if line.startswith("[ ]")]

    assert {"[ ] look twice at PACK", "[ ] look twice at R1", "[ ] look twice at LED1"} == set(boxes)
    assert (CLEAR_STATUS, "") == (done.returncode, done.stderr)


def test_slips_as_json_count_and_list_what_is_destructive(bench: Path) -> None:
    found = json.loads(legwise(bench, "slips clear.legs --format json").stdout)

    assert found["summary"]["destructive"] == sum(len(entry["slips"]) for entry in found["look_twice"]) > 0


def test_the_mended_list_is_printed_alone_and_comes_out_clear(bench: Path) -> None:
    mended = legwise(bench, "check reversed.legs --mend")

    assert mended.stderr == "mended; the list as printed: CLEAR\n"
    assert mended.returncode == CLEAR_STATUS
    assert legwise(bench, "check", mended.stdout).returncode == CLEAR_STATUS


def test_the_mended_list_is_written_whole_into_a_file(bench: Path) -> None:
    mended = legwise(bench, "check reversed.legs --mend --into new.legs")

    assert (mended.stdout, mended.stderr) == ("", "mended; the list as written to new.legs: CLEAR\n")
    assert legwise(bench, "check new.legs").returncode == CLEAR_STATUS
    assert not (bench / "new.legs.part").exists()


def test_a_list_with_nothing_to_mend_is_printed_as_it_was(bench: Path) -> None:
    assert legwise(bench, "check clear.legs --mend").stdout == CLEAR


@pytest.mark.parametrize(
    "command",
    ["", "--help", "check --help", "slips --help", "example --help", "why --help", "part --help", "parts --help"],
)
def test_help_says_how_the_command_is_called(bench: Path, command: str) -> None:
    done = legwise(bench, command)

    assert f"legwise {command.split(' ')[0].strip('-').replace('help', '')}".strip() in done.stdout
    assert (done.returncode, done.stderr) == (CLEAR_STATUS if command else MISUSED, "")


def test_the_version_is_one_line(bench: Path) -> None:
    done = legwise(bench, "--version")

    assert done.stdout.startswith("legwise ")
    assert (done.stdout.count("\n"), done.returncode) == (1, CLEAR_STATUS)


def test_the_list_of_examples_names_every_shipped_file(bench: Path) -> None:
    shipped = [each.name for each in files("checker.examples").iterdir() if each.name.endswith(".legs")]
    listed = legwise(bench, "example").stdout.split("\n\n")[0].splitlines()

    assert shipped
    assert [line.split()[0] + ".legs" for line in listed] == sorted(shipped, key=lambda name: name[:-5])
    assert all(len(line.split()) > 1 for line in listed)


@pytest.mark.parametrize("name", names())
def test_an_example_is_printed_as_it_is_shipped(bench: Path, name: str) -> None:
    shipped = files("checker.examples").joinpath(f"{name}.legs").read_text("utf-8")

    assert legwise(bench, f"example {name}").stdout == shipped


@pytest.mark.parametrize("asked", ["diode-reversed", "[diode-reversed]", "Diode-Reversed"])
def test_why_explains_a_rule_under_its_headings(bench: Path, asked: str) -> None:
    done = legwise(bench, f"why {asked}")
    headings = [line for line in done.stdout.splitlines() if line and not line.startswith(" ")]

    assert headings == [
        "diode-reversed",
        "What it means",
        "Why it matters",
        "A list that has it",
        "The same list, mended",
        "How to check with a meter",
        "Source",
    ]


@pytest.mark.parametrize(
    ("command", "name", "drawn"),
    [
        ("part PN2222A", "PN2222A", "1 2 3 E B C"),
        ("part ne555p", "NE555", "GND 1 ┤• ├ 8 VCC"),
        ("part led red", "led red", "1 A longer leg"),
        ("part red led", "led red", "2 K shorter leg"),
        ("part 9v-block", "9v-block", "∙─ 1 +"),
    ],
)
def test_part_draws_the_part_that_a_list_would_get_by_that_name(bench: Path, command: str, name: str, drawn: str) -> None:
    done = legwise(bench, command)

    assert done.stdout.startswith(f"{name}\n{'=' * len(name)}\n")
    assert drawn in " ".join(done.stdout.split())
    assert (done.returncode, done.stderr) == (CLEAR_STATUS, "")


@pytest.mark.parametrize(
    ("command", "key", "value"),
    [
        ("part PN2222A --format json", "package", "TO-92"),
        ("part --format json led red", "name", "led red"),
        ("parts --format json npn darlington", "words", "npn darlington"),
        ("parts --format json", "count", len(load_library().entries)),
    ],
)
def test_a_part_and_a_listing_are_one_object_of_json(bench: Path, command: str, key: str, value: object) -> None:
    assert json.loads(legwise(bench, command).stdout)[key] == value


@pytest.mark.parametrize(
    ("command", "line", "end"),
    [
        ("parts", "bipolar ", "parts; legwise parts WORDS finds some, legwise part NAME shows one"),
        ("parts npn darlington", "TIP120 ", "parts; legwise part NAME shows one"),
        ("parts transistor", "PN2222A ", "of them shown; one more word narrows them down"),
    ],
)
def test_parts_are_listed_one_a_line_with_their_count_at_the_end(bench: Path, command: str, line: str, end: str) -> None:
    lines = legwise(bench, command).stdout.splitlines()

    assert [each for each in lines if each.startswith(line)]
    assert lines[-1].endswith(end)
    assert len(lines) <= 42 and max(map(len, lines)) <= 80


def test_why_without_a_rule_names_them_all(bench: Path) -> None:
    told = [line.split(maxsplit=1) for line in legwise(bench, "why").stdout.splitlines()]

    assert [slug for slug, _ in told] == list(rules.slugs())
    assert dict(told)["led-reversed"] == "An LED the wrong way round"


def test_help_waits_for_no_library() -> None:
    heavy = "numpy networkx lark rich msgspec"
    code = f"import sys, checker.cli; print([name for name in '{heavy}'.split() if name in sys.modules])"

    assert subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout == "[]\n"
