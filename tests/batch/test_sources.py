"""Where lists come from, and what a hostile file costs: its own row, which says why."""

from __future__ import annotations

import os
from datetime import datetime
from pathlib import Path

import pytest

from checker.batch import SourceError, Submission, from_memory, from_paths
from checker.batch.limits import MOST_BYTES, MOST_ENTRIES
from checker.batch.people import identifier_in, shown_names
from tests.batch.containers import archive, claiming_entries, encrypted, with_link, workbook

LIST = b"board half\nsupply PACK 5V on L+ L-\npart R1 220 in a5 a10\nwire L+ to b5\nwire b10 to L-\n"


def told(found: list[Submission]) -> list[tuple[str, str]]:
    """Who, and why not: nothing where the text came through."""
    return [(each.name, each.problem) for each in found]


def from_zip(data: bytes) -> list[Submission]:
    return list(from_memory([("class.zip", data)]))


# ── folders ───────────────────────────────────────────────────────────────────────────────────────────────────────


def test_a_file_a_person_or_a_folder_a_person(tmp_path: Path) -> None:
    (tmp_path / "Ben").mkdir()
    (tmp_path / "Ada.legs").write_bytes(LIST)
    (tmp_path / "Ben" / "lamp.txt").write_bytes(LIST)
    (tmp_path / "Ben" / "photo.png").write_bytes(b"\x89PNG")
    (tmp_path / ".hidden").write_bytes(LIST)

    assert [("Ada", ""), ("Ben", "")] == told(list(from_paths([str(tmp_path)])))
    assert [LIST, LIST] == [each.text for each in from_paths([str(tmp_path)])]


def test_files_and_patterns_are_sources_too(tmp_path: Path) -> None:
    for name in ("Ada", "Ben", "Cleo"):
        (tmp_path / f"{name}.legs").write_bytes(LIST)

    assert ["Ada", "Ben", "Cleo"] == [each.name for each in from_paths([str(tmp_path / "*.legs")])]
    assert ["Ben"] == [each.name for each in from_paths([str(tmp_path / "Ben.legs")])]


def test_what_is_nothing_endless_or_elsewhere_is_not_opened(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe.legs")
    (tmp_path / "link.legs").symlink_to("/etc/hostname")
    (tmp_path / "loop").symlink_to(tmp_path)
    (tmp_path / "zero.legs").symlink_to("/dev/zero")

    link = "it is a link, and links are not followed"
    assert [("link", link), ("pipe", "it is no plain file"), ("zero", link)] == sorted(told(list(from_paths([str(tmp_path)]))))


@pytest.mark.parametrize(
    ("data", "why"),
    [
        (b"", "it is empty"),
        (b"  \n\n", "it is empty"),
        (b"\x89PNG\r\n\x1a\n", "it is a picture, not a text list"),
        (b"%PDF-1.7", "it is a PDF, not a text list"),
        (b"PK\x03\x04....", "it is an archive or an office document, not a text list"),
        (b"\x7fELF\x02\x01\x01\x00\x00\x00", "it is not text"),
        (b"wire a1 to b2\n" * 100_000, "it is larger than 1 MB, which no list is"),
        (LIST, ""),
        (LIST.decode().encode("utf-16"), ""),
        ("# für Zoë\nboard half\n".encode("cp1252"), ""),
    ],
)
def test_what_is_no_text_says_so(data: bytes, why: str) -> None:
    assert [("one", why)] == told(list(from_memory([("one.legs", data)])))


def test_other_encodings_arrive_as_utf_8() -> None:
    wide, western = from_memory([("a.legs", LIST.decode().encode("utf-16")), ("b.legs", "# für\n".encode("cp1252"))])

    assert LIST == wide.text
    assert "# für\n" == western.text.decode()


# ── archives ──────────────────────────────────────────────────────────────────────────────────────────────────────


def test_a_course_systems_archive_gives_names_and_numbers() -> None:
    found = from_zip(archive({f"{who}_lab 3 handed in/mister.legs": LIST for who in ("Ada_40100", "Ben_40101")}))

    assert [("Ada", "40100"), ("Ben", "40101")] == [(each.name, each.identifier) for each in found]


def test_a_folder_around_everything_names_no_one() -> None:
    assert ["Ada", "Ben"] == [each.name for each in from_zip(archive({"lab/Ada/x.legs": LIST, "lab/Ben/x.legs": LIST}))]


@pytest.mark.parametrize(
    ("data", "why"),
    [
        (archive({"../../evil.legs": LIST}), "its name in the archive leads out of the archive"),
        (archive({"a\\..\\..\\evil.legs": LIST}), "its name in the archive leads out of the archive"),
        (archive({"/etc/evil.legs": LIST}), "its name in the archive is an absolute path"),
        (archive({"C:\\evil.legs": LIST}), "its name in the archive is an absolute path"),
        (with_link("evil.legs", "/etc/passwd", {}), "it is a link, and links are not followed"),
        (encrypted(archive({"evil.legs": LIST}), "evil.legs"), "it is encrypted"),
        (archive({"evil.legs": b"\0" * 900_000}), "it is packed more than 200 times smaller than it is, which no list is"),
        (archive({"evil.legs": os.urandom(MOST_BYTES + 1)}), "it is larger than 1 MB, which no list is"),
        (archive({"evil.legs": archive({"x.legs": LIST})}), "it is an archive or an office document, not a text list"),
    ],
)
def test_a_hostile_entry_costs_only_its_own_row(data: bytes, why: str) -> None:
    found = from_zip(data)

    assert [why] == [each.problem for each in found]


def test_a_broken_entry_costs_only_its_own_row() -> None:
    data = bytearray(archive({"Ada.legs": LIST, "Ben.legs": LIST * 3}))
    start = data.find(b"Ada.legs") + len("Ada.legs")
    data[start:start + 4] = b"\xff\xff\xff\xff"

    ada, ben = from_zip(bytes(data))

    assert "it cannot be unpacked" in ada.problem
    assert "" == ben.problem


def test_an_entry_that_lies_about_its_size_is_cut_off() -> None:
    """The header says ten bytes; what is read never grows beyond what one list may have."""
    data = bytearray(archive({"Ada.legs": os.urandom(3 * MOST_BYTES)}))
    at = data.rfind(b"PK\x01\x02")
    data[at + 24:at + 28] = (10).to_bytes(4, "little")

    assert all(len(each.text) <= MOST_BYTES for each in from_zip(bytes(data)))


def test_what_unpacks_to_too_much_in_all_is_left_alone_from_there_on(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("checker.batch.archives.MOST_UNPACKED_BYTES", 2 * len(LIST) + 1)

    assert ["", "", "the archive holds too much before it"] == [
        each.problem for each in from_zip(archive({f"{name}.legs": LIST for name in "abc"}))]


@pytest.mark.parametrize(
    ("data", "why"),
    [
        (b"not a zip", "class.zip: it is no zip archive, or it is cut off"),
        (archive({"a.legs": LIST})[:-30], "class.zip: it is no zip archive, or it is cut off"),
        (claiming_entries(MOST_ENTRIES + 1),
         f"class.zip: the archive has more than {MOST_ENTRIES} entries; hand them over as a folder"),
    ],
)
def test_what_is_no_archive_is_refused_as_a_whole(data: bytes, why: str) -> None:
    with pytest.raises(SourceError, match=f"^{why}$"):
        from_zip(data)


# ── tables ────────────────────────────────────────────────────────────────────────────────────────────────────────

TEXT = LIST.decode()
QUOTED = '"' + TEXT + '"'


@pytest.mark.parametrize(
    "data",
    [
        f"Name,Student number,Your list,Submitted\nAda B,40101,{QUOTED},2026-03-02 18:05\nBen,40102,,\n".encode(),
        f"Name;Student number;Your list;Submitted\nAda B;40101;{QUOTED};2026-03-02T18:05:00\nBen;40102;;\n".encode("utf-8-sig"),
        f"Name\tStudent number\tYour list\tSubmitted\nAda B\t40101\t{QUOTED}\t2026-03-02 18:05\nBen\t40102\n".encode("utf-16"),
        f"First name,Surname,Student number,a,Submitted\nAda,B,40101,{QUOTED},2026-03-02 18:05\n,Ben,40102,,\n".encode(),
    ],
    ids=["commas", "semicolons", "tabs in UTF-16", "first and last name"],
)
def test_a_table_has_a_row_a_person(data: bytes) -> None:
    ada, ben = from_memory([("answers.csv", data)])

    assert ("Ada B", "40101", LIST, datetime(2026, 3, 2, 18, 5)) == (ada.name, ada.identifier, ada.text, ada.handed_in)
    assert ("Ben", "it is empty") == (ben.name, ben.problem)


@pytest.mark.parametrize("shared", [True, False])
def test_a_workbook_is_read_like_a_table(shared: bool) -> None:
    rows = [["Name", "ID", "Answer", "Date"], ["Ada & Co", "40101", TEXT, 46083.75], ["Ben", "40102", "", ""]]

    ada, ben = from_memory([("answers.xlsx", workbook(rows, shared=shared))])

    assert ("Ada & Co", "40101", LIST) == (ada.name, ada.identifier, ada.text)
    assert datetime(2026, 3, 2, 18, 0) == ada.handed_in  # day 46083 is 2026-03-02 (ECMA-376 part 1, 18.17.4.1)
    assert "it is empty" == ben.problem


def test_the_column_can_be_named() -> None:
    data = f"name,draft,final\nAda,{QUOTED},board half\n".encode()

    assert [b"board half"] == [each.text for each in from_memory([("t.csv", data)], column="Final")]
    with pytest.raises(SourceError, match=r"t.csv: there is no column 'finl'. The nearest is 'final'"):
        list(from_memory([("t.csv", data)], column="finl"))


def test_a_table_without_lists_is_refused() -> None:
    with pytest.raises(SourceError, match=r"t.csv: no column holds lists; name it with --column"):
        list(from_memory([("t.csv", b"name,shoe size\nAda,39\n")]))


def test_a_cell_without_end_costs_only_its_own_row() -> None:
    data = f'name,list\nAda,{QUOTED}\nBen,"{"wire a1 to b2 " * 100_000}"\nCleo,{QUOTED}\n'.encode()

    ada, ben, cleo = from_memory([("t.csv", data)])

    assert ["", "the row cannot be read: a cell is too large or broken", ""] == [ada.problem, ben.problem, cleo.problem]


def test_a_workbook_that_defines_entities_is_refused() -> None:
    bomb = b'<?xml version="1.0"?><!DOCTYPE x [<!ENTITY a "ha">]><worksheet>&a;</worksheet>'
    with pytest.raises(SourceError, match="defines entities"):
        list(from_memory([("t.xlsx", archive({"xl/worksheets/sheet1.xml": bomb}))]))


# ── people ────────────────────────────────────────────────────────────────────────────────────────────────────────


@pytest.mark.parametrize(
    ("names", "shown"),
    [
        (["Ada B_123456_lab", "Ben C_654321_lab"], ["Ada B", "Ben C"]),
        (["ada", "ben"], ["ada", "ben"]),
        (["lab", "lab"], ["lab"]),
        (["40101", "40102"], ["40101", "40102"]),
        (["only one here"], ["only one here"]),
    ],
)
def test_what_all_names_share_at_their_end_is_left_out(names: list[str], shown: list[str]) -> None:
    assert shown == list(shown_names(names).values())


@pytest.mark.parametrize(
    ("name", "identifier"),
    [("ana_2041177_x", "2041177"), ("s2041177", "s2041177"), ("ana", ""), ("1234 5678", "")],
)
def test_the_identifier_is_the_one_number_in_a_name(name: str, identifier: str) -> None:
    assert identifier == identifier_in(name)
