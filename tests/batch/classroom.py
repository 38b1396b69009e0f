"""A class to test with: one lab, built by many hands, with faults that are known because they were put in.

Every list is the lab's own, built elsewhere on the board (rows shifted, columns exchanged within their strips, parts renamed,
lines in another order), with no, one or two slips of the hand in it. Seeded: the same number and seed give the same class.
Names are invented.
"""

from __future__ import annotations

import random
import re
import zipfile
from functools import cache
from io import BytesIO
from itertools import count, islice, product
from pathlib import Path

from msgspec import Struct

from checker.examples import names, text_of
from checker.fixes.draft import applied
from checker.slips.generator import all_slips
from checker.slips.model import Slip
from checker.survey import survey
from grammar import read
from parts_library import load_library

LAB = "seed-tray-mister"
_FIRST = ("Ada", "Bao", "Chloé", "Dmitri", "Esra", "Femi", "Grace", "Hana", "Imre", "Juana", "Kofi", "Lena", "Mateo", "Nia",
          "Oskar", "Priya", "Quentin", "Rosa", "Søren", "Tomás")
_LAST = ("Abara", "Brandt", "Castillo", "Dvořák", "Eriksen", "Faroukh", "Greene", "Horvat", "Iwata", "Jansen", "Kaplan")
_RENAMED = {"PUMP": ("PUMP", "M1", "MOTOR", "P1"), "PACK": ("PACK", "BAT", "PSU"), "Q1": ("Q1", "Q2", "T1"),
            "D1": ("D1", "D2", "CLAMP"), "R1": ("R1", "R2", "RB")}
_HOLE = re.compile(r"(?<![.\w])([a-j])(\d{1,2})\b")
_RAIL_ROW = re.compile(r"\b([LR][+-])(\d{1,2})\b")
CLEAN, TWO = 0.35, 0.12
"""Shares of a class: lists without a slip, and with two."""


class Student(Struct, frozen=True):
    """One person's list, and the slips that were put into it, in words."""

    name: str
    text: str
    slips: tuple[str, ...] = ()


@cache
def slips_in(text: str) -> tuple[Slip, ...]:
    """Every slip of the hand in a list."""
    return tuple(all_slips(survey([text], load_library())[0].operatings[0].circuit))


def students(number: int, seed: int = 1) -> list[Student]:
    """A class of the lab."""
    chance = random.Random(seed)
    bare = _bare(text_of(LAB))
    people = islice((f"{first} {last}{'' if round_ == 0 else f' {round_ + 1}'}"
                     for round_ in count() for last, first in product(_LAST, _FIRST)), number)
    return [_student(name, bare, chance) for name in people]


def _bare(text: str) -> str:
    """The list without comments, which would tell what it is."""
    return "\n".join(line.split("#")[0].rstrip() for line in text.splitlines() if line.split("#")[0].strip()) + "\n"


def _student(name: str, text: str, chance: random.Random) -> Student:
    draw = chance.random()
    slips: list[str] = []
    for _ in range(0 if draw < CLEAN else 2 if draw > 1 - TWO else 1):
        slip = chance.choice(slips_in(text))
        text = applied(read(text).lines, slip.edits)
        slips.append(f"{slip.at}: {slip.wrong}")
    return Student(name, elsewhere(text, name, chance), tuple(slips))


def elsewhere(text: str, name: str, chance: random.Random) -> str:
    """The same circuit built elsewhere on the board by someone else."""
    rows = [int(row) for _, row in _HOLE.findall(text)]
    shift = chance.randint(1 - min(rows), 30 - max(rows)) if rows and max(rows) <= 30 else 0
    columns = dict(zip("abcdefghij", [*chance.sample("abcde", 5), *chance.sample("fghij", 5)]))
    text = re.sub(r"faces a\b", "faces left", text)
    text = _HOLE.sub(lambda hole: f"{columns[hole[1]]}{int(hole[2]) + shift}", text)
    text = _RAIL_ROW.sub(lambda rail: f"{rail[1]}{min(30, max(1, int(rail[2]) + shift))}", text)
    for old, choices in _RENAMED.items():
        text = re.sub(rf"(?<![.\w]){old}\b", chance.choice(choices), text)
    head = [line for line in text.splitlines() if line.startswith(("title", "board"))]
    rest = [line for line in text.splitlines() if line.strip() and line not in head]
    wires = [line for line in rest if line.startswith("wire")]
    others = [line for line in rest if not line.startswith("wire")]
    chance.shuffle(wires)
    return "\n".join([f"# {name}", head[0], f'by "{name}"', *head[1:], *others, *wires]) + "\n"


def folder_of(people: list[Student], folder: Path) -> Path:
    """The class as a folder with one file a person."""
    folder.mkdir(parents=True, exist_ok=True)
    for student in people:
        (folder / f"{student.name}.legs").write_text(student.text, encoding="utf-8")
    return folder


def archive_of(people: list[Student]) -> bytes:
    """The class as a course system packs it: one folder a person, with the same words behind each name."""
    buffer = BytesIO()
    with zipfile.ZipFile(buffer, "w", zipfile.ZIP_DEFLATED) as archive:
        for number, student in enumerate(people):
            archive.writestr(f"{student.name}_{40100 + number}_lab 3 handed in/mister.legs", student.text)
    return buffer.getvalue()


def mutations(number: int, seed: int = 1) -> list[str]:
    """Lists for measuring: shipped examples that work, each with one slip of the hand in it, all different."""
    chance = random.Random(seed)
    whole = [_bare(text_of(name)) for name in names() if name in {each.rsplit("-", 1)[0] for each in names()} | {LAB}]
    made = []
    for place in range(number):
        text = chance.choice(whole)
        slips = slips_in(text)
        slip = chance.choice(slips)
        made.append(f"# list {place}\n" + applied(read(text).lines, slip.edits))
    return made
