"""What stands below a board in a terminal: the things beside it with their wires, the findings, what is open.

Input: a ``Plan`` and a width in columns. Output: lines.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from textwrap import wrap

from checker.drawing.plan import Plan
from checker.report.words import visible


def beside(plan: Plan, width: int) -> Iterator[str]:
    """What stands beside the boards, with where each of its wires goes."""
    if not plan.boxes:
        return
    yield "Beside the board:" if plan.boards else "Not on a board:"
    for box in plan.boxes:
        leads = []
        for pin in box.pins:
            own = f"{box.name}.{pin.pin}" if pin.pin else box.name
            far = [b if a == own else a for a, b in (jumper.ends for jumper in plan.jumpers) if own in (a, b)]
            leads.append(f"{pin.pin or 'joins'} → {' and '.join(far)}")
        kind = box.says.removeprefix(f"{box.name}, ").removesuffix(", beside the board")
        yield from _hung(visible(f"{box.name} ({kind}): {', '.join(leads) or 'no wire'}"), width)


def legend(plan: Plan, width: int) -> Iterator[str]:
    """The findings by their numbers, each with where it is marked, and the notes."""
    if plan.findings or plan.notes:
        yield ""
    for number, message in enumerate(plan.findings, 1):
        at = list(dict.fromkeys(mark.at for mark in plan.marks if mark.number == number))
        yield from _hung(visible(f"({number}) {message}" + (f" [{', '.join(at)}]" if at else "")), width)
    for note in plan.notes:
        yield from _hung(visible(note), width)


def _hung(text: str, width: int) -> Sequence[str]:
    return wrap(text, width, initial_indent="  ", subsequent_indent="      ", break_long_words=True)
