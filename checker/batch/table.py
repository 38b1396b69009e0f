"""The table of a batch at the terminal, and a few lines below it: how the class did, what to teach again.

Input: a batch, a page. Output: text that reads the same without colour.
"""

from __future__ import annotations

from collections.abc import Iterator
from io import StringIO
from pathlib import Path

from rich.console import Console
from rich.table import Table
from rich.text import Text

from checker.batch.class_page import EFFECTS, LESSONS
from checker.batch.model import Row
from checker.batch.run import Batch
from checker.batch.tally import ClassTally
from checker.batch.words import (
    ALIKE,
    counted,
    found_in_short,
    meaning,
    points,
    share_alike,
    stamp,
    stamp_class,
    verdicts_in_words,
)
from checker.report.page import Page
from checker.report.words import visible
from checker.rules.headings import heading

_STYLES = {"do-not-power": "bold red", "unreadable": "bold magenta", "will-not-work": "bold yellow",
           "look-first": "bold cyan", "clear": "bold green"}
_LEAST_WIDTH = 60
_BULLET = "- "
_MOST_GROUPS = 8


def written(batch: Batch, page: Page, out: Path | None = None) -> str:
    """The table and what follows it."""
    console = Console(file=StringIO(), width=max(page.width, _LEAST_WIDTH), force_terminal=page.colour,
                      color_system="standard" if page.colour else None, no_color=not page.colour, legacy_windows=False,
                      _environ={})
    with console.capture() as captured:
        console.print(_table(batch))
        for line in _below(batch, out):
            console.print(_hanging(line) if line.plain.startswith(_BULLET) else line)
    return "".join(line.rstrip() + "\n" for line in captured.get().splitlines())


def _hanging(line: Text) -> Table:
    """A bullet whose further lines stand below its words."""
    bullet = Table.grid()
    bullet.add_column(width=len(_BULLET))
    bullet.add_column(overflow="fold")
    bullet.add_row(Text(_BULLET), line[len(_BULLET):])
    return bullet


def _table(batch: Batch) -> Table:
    marked = any(row.mark is not None for row in batch.rows)
    compared = any(row.likeness is not None for row in batch.rows)
    table = Table(box=None, pad_edge=False, padding=(0, 2, 0, 0), header_style="bold")
    table.add_column("who", overflow="fold", max_width=24)
    table.add_column("verdict", no_wrap=True)
    if marked:
        table.add_column("mark", no_wrap=True)
    if compared:
        table.add_column("like", no_wrap=True, justify="right")
    table.add_column("what was found", overflow="fold", ratio=1)
    for row in batch.rows:
        table.add_row(*_cells(row, marked, compared))
    return table


def _cells(row: Row, marked: bool, compared: bool) -> Iterator[Text]:
    yield Text(visible(row.name))
    yield Text(stamp(row), _STYLES.get(stamp_class(row), ""))
    if marked:
        yield Text(points(row.mark) if row.mark else "")
    if compared:
        yield Text("" if row.likeness is None else share_alike(row.likeness))
    yield Text(visible("; ".join(words for words in (found_in_short(row), *row.remarks) if words)))


def _below(batch: Batch, out: Path | None) -> Iterator[Text]:
    tally = batch.tally
    verdicts = verdicts_in_words(tally.verdicts.items(), tally.another)
    yield Text()
    yield Text(f"{counted(tally.lists, 'list')}: {verdicts}" if verdicts else "no lists")
    if tally.missing:
        yield Text(f"{counted(tally.missing, 'person', 'people')} on the roster handed in nothing")
    if tally.marked:
        yield Text(f"mean mark {tally.mark_mean:g} of {tally.mark_most:g}")
    yield from _lessons(tally)
    yield from _by_others(batch)
    yield from _alike(batch)
    if batch.again:
        yield Text(f"{counted(batch.again, 'text')} had been checked in an earlier run")
    if out is not None:
        yield Text()
        yield Text(f"For the projector: {out / 'class.html'}")
        yield Text(f"For the desk: {out / 'lists.html'}, summary.csv and one file a person in feedback/")


def _lessons(tally: ClassTally) -> Iterator[Text]:
    lessons = [mistake for mistake in tally.mistakes if mistake.rule not in EFFECTS][:LESSONS]
    if lessons:
        yield Text()
        yield Text("To teach again", "bold")
    for mistake in lessons:
        yield Text(f"- {heading(mistake.rule)}, in {counted(mistake.lists, 'list')}. {meaning(mistake.rule)}")


def _by_others(batch: Batch) -> Iterator[Text]:
    """Whose lists they say they are, where that is not who handed them in."""
    names: dict[str, list[str]] = {}
    for row in batch.rows:
        if row.by:
            names.setdefault(visible(row.by), []).append(visible(row.name))
    if not names:
        return
    yield Text()
    yield Text("These lists say that they are by somebody else", "bold")
    for by, found in list(names.items())[:_MOST_GROUPS]:
        yield Text(f"- by {by}: {', '.join(found)}")
    if len(names) > _MOST_GROUPS:
        yield Text(f"- and by {len(names) - _MOST_GROUPS} others; summary.csv says which")


def _alike(batch: Batch) -> Iterator[Text]:
    groups = batch.tally.alike
    if not groups:
        return
    wanted = {number for group in groups[:_MOST_GROUPS] for number in group}
    names = {row.number: visible(row.name) for row in batch.rows if row.number in wanted}
    yield Text()
    yield Text(ALIKE, "bold")
    for group in groups[:_MOST_GROUPS]:
        yield Text(f"- {', '.join(names[number] for number in group)}")
    if len(groups) > _MOST_GROUPS:
        yield Text(f"- and {counted(len(groups) - _MOST_GROUPS, 'more group')}; summary.csv numbers all of them")
