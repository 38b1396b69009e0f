"""What is written round a drawing: the title above, the findings and the key to the wires below.

Input: report, bench, width. Output: lines of words and small samples, and how far down they reach.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from textwrap import wrap

from checker.drawing.benchtop import MARGIN, short
from checker.drawing.plan import JumperAt
from checker.drawing.seen import Bench
from checker.drawing.shapes import CHARACTER, PAPER, Disc, Shape, Stroke, Words
from checker.drawing.wires import colour_of, dash_of, width_of
from checker.report.model import Report

_SIZE, _LINE = 11.0, 16.0
_TITLE, _LEAST_TITLE = 13.0, 9.0
OPEN = "?: the list leaves this open. Drawn is the first way to read it."
BARE = "The list places nothing on a board: see the diagram of connections."


def title_words(title: str, width: float) -> Iterator[Words]:
    """The title on one line: smaller where it is long, cut where it is longer still."""
    size = max(_LEAST_TITLE, min(_TITLE, (width - 2 * MARGIN) / (max(1, len(title)) * CHARACTER)))
    most = int((width - 2 * MARGIN) / (size * CHARACTER) + 0.01)
    yield Words(MARGIN, 20, short(title, most), size, "start", bold=True, halo=False)


def legend(report: Report | None, bench: Bench, width: float, top: float,
           jumpers: Sequence[JumperAt]) -> tuple[tuple[Shape, ...], float]:
    """Findings with their numbers, notes, and the key; with it the lower end."""
    shapes: list[Shape] = []
    y = top
    for index, finding in enumerate(report.findings if report is not None else ()):
        shapes.append(Disc(MARGIN + 8, y, 7.5, fill="#111111", width=1.0))
        shapes.append(Words(MARGIN + 8, y, str(index + 1), 9.5 if index < 9 else 8, bold=True, halo=False, ink=PAPER))
        y = _lines(shapes, finding.message, MARGIN + 24, y, width)
    for note in notes_of(bench):
        y = _lines(shapes, note, MARGIN, y, width)
    y = _key(shapes, jumpers, y + 2, width)
    return tuple(shapes), y


def notes_of(bench: Bench) -> Iterator[str]:
    """What is to be said below a drawing besides the findings."""
    if any(seen.mark_open or seen.open_pins for seen in bench.parts):
        yield OPEN
    if not bench.plans:
        yield BARE
    yield from bench.left_out


def _lines(shapes: list[Shape], text: str, x: float, y: float, width: float) -> float:
    for line in wrap(text, max(12, int((width - x - MARGIN) / (_SIZE * CHARACTER)))) or [""]:
        shapes.append(Words(x, y, line, _SIZE, "start", halo=False))
        y += _LINE
    return y


def _key(shapes: list[Shape], jumpers: Sequence[JumperAt], y: float, width: float) -> float:
    """A sample of each colour of wire that is used."""
    colours = list(dict.fromkeys(jumper.colour for jumper in jumpers if jumper.colour))
    x = MARGIN
    for colour in colours:
        needed = 44 + len(colour) * 9 * CHARACTER + 14
        if x + needed > width - MARGIN and x > MARGIN:
            x, y = MARGIN, y + 14
        shapes.append(Stroke(((x, y), (x + 38, y)), width=width_of(colour), ink=colour_of(colour), dash=dash_of(colour)))
        shapes.append(Words(x + 43, y, colour, 9, "start", halo=False))
        x += needed
    return y + 14 if colours else y
