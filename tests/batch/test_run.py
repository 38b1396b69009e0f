"""A whole batch: known faults come out, every file is there and safe to open, a run that was stopped goes on.

The class is that of ``tests.batch.classroom``: what was put into each list is known.
"""

from __future__ import annotations

import csv
import json
import zipfile
from collections.abc import Iterator
from io import BytesIO, StringIO
from pathlib import Path
from xml.etree import ElementTree

import pytest
import xmlschema

from checker.batch import Batch, Options, Progress, Submission, default_scheme, from_memory, read_roster, run_batch, zipped
from checker.batch.shelf import Folder, Names, path_name
from checker.examples import text_of
from tests.batch.classroom import LAB, Student, archive_of, students
from tests.report.formats import parsed_html

SCHEMA = xmlschema.XMLSchema(Path(__file__).parents[1] / "published/junit-10.xsd")
PEOPLE = students(14, seed=4)
ODD = {"Eve Empty.legs": b"", "Phil Picture.png": b"\x89PNG", "../../Mal.legs": b"", "Broken.legs": b"part R1 in\nwire a1\n"}
EVIL = '<script>alert("x")</script>'
ROSTER = ("identifier,name,deadline\n" + "".join(f"{40100 + number},{student.name},2099-03-02 18:00\n"
                                                 for number, student in enumerate(PEOPLE)) + "49999,Nobody Here,\n").encode()
HERE = {"workers": 0, "reference": text_of(LAB).encode(), "scheme": default_scheme(), "roster": read_roster(ROSTER, "r.csv")}


def handed_in() -> list[Submission]:
    """The class with what is always among it, in one archive."""
    with BytesIO(archive_of(PEOPLE)) as buffer:
        with zipfile.ZipFile(buffer, "a") as archive:
            for number, (name, data) in enumerate(ODD.items()):
                archive.writestr(f"{Path(name).stem}_4900{number}_lab 3 handed in/{name}", data)
        return list(from_memory([("class.zip", buffer.getvalue())]))


@pytest.fixture(scope="module")
def batch() -> Batch:
    return run_batch(handed_in(), Options(**HERE, feedback="html", title="lab 3"))


def student_rows(batch: Batch) -> Iterator[tuple[Student, dict[str, object]]]:
    rows = {row["name"]: row for row in json.loads(batch.files["summary.json"])["lists"]}
    yield from ((student, rows[student.name]) for student in PEOPLE)


# ── what comes out ────────────────────────────────────────────────────────────────────────────────────────────────


def test_a_list_without_a_slip_is_clear_and_the_same_as_the_reference_wherever_it_is_built(batch: Batch) -> None:
    clean = [row for student, row in student_rows(batch) if not student.slips]

    assert clean
    assert [("clear", True, 1.0, 20.0)] * len(clean) == [
        (row["verdict"], row["same"], row["likeness"], row["mark"]["points"]) for row in clean]  # type: ignore[index]


def test_a_list_with_a_slip_is_less_like_the_reference_and_has_fewer_points(batch: Batch) -> None:
    slipped = [row for student, row in student_rows(batch) if student.slips and row["verdict"] != "clear"]

    assert len(slipped) >= 5
    assert all(row["likeness"] < 1 and row["mark"]["points"] < 20 for row in slipped)  # type: ignore[index,operator]


def test_what_could_not_be_checked_and_who_is_missing_stand_in_the_table(batch: Batch) -> None:
    told = {row.name: (row.verdict, row.problem) for row in batch.rows}

    assert ("not-checked", "it is empty") == told["Eve Empty"]
    assert ("not-checked", "it is a picture, not a text list") == told["Phil Picture"]
    assert ("not-checked", "its name in the archive leads out of the archive") == told["Mal"]
    assert ("missing", "nothing was handed in") == told["Nobody Here"]
    assert "unreadable" == told["Broken"][0]


def test_the_tally_counts_what_the_rows_say(batch: Batch) -> None:
    rows, tally = list(batch.rows), batch.tally

    assert (len(PEOPLE) + len(ODD), 1) == (tally.lists, tally.missing)
    assert {verdict: sum(row.verdict == verdict for row in rows) for verdict in tally.verdicts} == tally.verdicts
    assert all(mistake.lists == sum(mistake.rule in row.rules for row in rows) for mistake in tally.mistakes)
    marked = [row.mark.points for row in rows if row.verdict != "missing" and row.mark and row.mark.points is not None]
    assert round(sum(marked) / len(marked), 2) == tally.mark_mean
    assert len(marked) == sum(tally.marks)


def test_equal_lists_are_checked_once_and_alike_ones_pointed_out() -> None:
    text = PEOPLE[0].text.encode()
    made = run_batch(from_memory([("a.legs", text), ("b.legs", text), ("c.legs", text + b"# mine\n"),
                                  ("d.legs", PEOPLE[1].text.encode())]), Options(workers=0))

    assert 3 == made.tally.different
    assert ((1, 2, 3),) == made.tally.alike
    assert [1, 1, 1, 0] == [row.alike for row in made.rows]


# ── files ─────────────────────────────────────────────────────────────────────────────────────────────────────────


def test_every_file_is_there(batch: Batch) -> None:
    assert {"class.html", "lists.html", "summary.csv", "summary.json", "junit.xml"} | {
        row.feedback for row in batch.rows} == set(batch.files)
    assert set(batch.files) == set(zipfile.ZipFile(BytesIO(zipped(batch))).namelist())


def test_the_tables_for_machines_agree(batch: Batch) -> None:
    rows = list(batch.rows)
    table = list(csv.DictReader(StringIO(batch.files["summary.csv"].decode("utf-8-sig"))))
    suite = ElementTree.fromstring(batch.files["junit.xml"])[0]

    SCHEMA.validate(ElementTree.fromstring(batch.files["junit.xml"]))
    assert [(row.name, row.verdict) for row in rows] == [(row["name"], row["verdict"]) for row in table]
    assert [row.name for row in rows] == [case.get("name") for case in suite]
    assert str(len(rows)) == suite.get("tests")
    for kind in ("failure", "error"):
        assert str(len(list(suite.iter(kind)))) == suite.get(f"{kind}s")


def test_the_class_page_names_no_one(batch: Batch) -> None:
    page = batch.files["class.html"].decode()

    assert [] == [row.name for row in batch.rows if row.name in page]
    assert all(row.name in batch.files["lists.html"].decode() for row in batch.rows)


def test_the_mark_in_the_feedback_adds_up_line_by_line(batch: Batch) -> None:
    for row in batch.rows:
        page = parsed_html(batch.files[row.feedback].decode())
        table = next(each for each in page.iter("table") if "marks" in each.get("class", ""))
        assert row.mark is not None
        unmarked = "0" if row.mark.points is None else "nan"
        shown = [float(cells[1].text or unmarked) for line in table.findall("tbody/tr") if (cells := line.findall("td"))]
        assert round(row.mark.points or 0.0, 2) == round(sum(shown), 2)


@pytest.mark.parametrize("feedback", ["html", "markdown"])
def test_no_text_from_a_list_or_a_name_becomes_markup_or_a_formula(feedback: str) -> None:
    text = f'title "{EVIL}"\nby "=cmd()"\n' + PEOPLE[0].text
    made = run_batch([Submission(name=f"=HYPERLINK {EVIL}", file=f"../{EVIL}.legs", text=text.encode())],
                     Options(workers=0, feedback=feedback, title=EVIL))

    assert not any(EVIL.encode() in data for name, data in made.files.items() if name.endswith((".html", ".md", ".xml")))
    assert not any(cell.startswith("=") for line in csv.reader(StringIO(made.files["summary.csv"].decode("utf-8-sig")))
                   for cell in line)


@pytest.mark.parametrize("page", ["class.html", "lists.html", "feedback"])
def test_pages_fetch_nothing_run_nothing_and_carry_no_inline_style(batch: Batch, page: str) -> None:
    name = next(row.feedback for row in batch.rows) if page == "feedback" else page
    root = parsed_html(batch.files[name].decode())

    assert [] == [each.tag for each in root.iter() if each.tag in ("script", "link", "img", "iframe", "form")]
    assert [] == [each.tag for each in root.iter() if each.get("style") or each.get("src")]
    assert "default-src 'none'" in batch.files[name].decode()


# ── names that become paths ───────────────────────────────────────────────────────────────────────────────────────


@pytest.mark.parametrize(
    ("name", "path"),
    [("Ada B", "ada-b"), ("../../etc/passwd", "etc-passwd"), ("C:\\x", "c-x"), ("Ana Dvořák", "ana-dvorak"), ("CON", "list-con"),
     ("com1", "list-com1"), ("a" * 500, "a" * 60), (".", "list-d8a7128a"), ("-rf", "rf"), ("\0\n", "list-4e9e1bf7")],
)
def test_a_name_becomes_a_path_only_clean(name: str, path: str) -> None:
    assert path == path_name(name)


def test_two_people_of_one_name_get_two_files() -> None:
    names = Names()

    assert ["ana-b", "ana-b-2", "ana-b-3", "ana-b-2-2"] == [names.take(name) for name in ("Ana B", "ana_b", "Ana-B!", "ana b 2")]


def test_a_file_is_written_whole_or_not_at_all(tmp_path: Path) -> None:
    shelf = Folder(tmp_path)
    with shelf.writing("a.txt") as stream:
        stream.write("first")
    with pytest.raises(KeyboardInterrupt), shelf.writing("a.txt") as stream:
        stream.write("half of the sec")
        raise KeyboardInterrupt

    assert "first" == (tmp_path / "a.txt").read_text()
    assert ["a.txt"] == [path.name for path in tmp_path.iterdir()]


# ── going on ──────────────────────────────────────────────────────────────────────────────────────────────────────


class Stop(Exception):
    """The run is stopped here."""


def stop_after(count: int, progress: Progress) -> None:
    if progress.done == count:
        raise Stop


SMALL = [Submission(name=student.name, file=f"{student.name}.legs", text=student.text.encode()) for student in PEOPLE[:6]]


def stopped_run(out: Path) -> None:
    with pytest.raises(Stop):
        run_batch(SMALL, Options(workers=0), out=out, progress=lambda now: stop_after(4, now))


def test_a_run_that_was_stopped_goes_on_where_it_stopped(tmp_path: Path) -> None:
    stopped_run(tmp_path)
    assert not (tmp_path / "class.html").exists()

    made = run_batch(SMALL, Options(workers=0), out=tmp_path)

    assert 4 == made.again
    assert run_batch(SMALL, Options(workers=0)).files["summary.json"] == (tmp_path / "summary.json").read_bytes()
    assert len(SMALL) == run_batch(SMALL, Options(workers=0, scheme=default_scheme()), out=tmp_path).again


@pytest.mark.parametrize("cut", [1, 100, 1_000_000])
def test_a_journal_that_was_cut_off_costs_only_what_is_lost(tmp_path: Path, cut: int) -> None:
    stopped_run(tmp_path)
    journal = tmp_path / "journal.bin"
    journal.write_bytes(journal.read_bytes()[:-cut])

    made = run_batch(SMALL, Options(workers=0), out=tmp_path)

    assert (3 if cut < 1_000_000 else 0) == made.again
    assert len(SMALL) == made.tally.checked


def test_what_was_checked_in_another_way_is_checked_again(tmp_path: Path) -> None:
    run_batch(SMALL[:2], Options(workers=0), out=tmp_path)

    assert 0 == run_batch(SMALL[:2], Options(workers=0, reference=text_of(LAB).encode()), out=tmp_path).again
    assert 2 == run_batch(SMALL[:2], Options(workers=0), out=tmp_path).again
