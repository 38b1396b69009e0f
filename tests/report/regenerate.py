"""The snapshots of the terminal format.

``python -m tests.report.regenerate`` writes them anew; read them as prose before they are kept.
"""

from __future__ import annotations

from pathlib import Path

from checker.report import Page, render
from tests.report.samples import SAMPLES

FOLDER = Path(__file__).parent / "snapshots"
WIDTHS = (60, 80, 120)
CASES = [(name, width) for name in SAMPLES for width in WIDTHS]


def file_of(name: str, width: int) -> Path:
    return FOLDER / f"{name}-{width}.txt"


def rendered(name: str, width: int) -> str:
    return render("terminal", [SAMPLES[name]], Page(width=width))


if __name__ == "__main__":
    FOLDER.mkdir(exist_ok=True)
    for old in FOLDER.glob("*.txt"):
        old.unlink()
    for case in CASES:
        file_of(*case).write_text(rendered(*case), encoding="utf-8")
