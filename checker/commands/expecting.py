"""``legwise check FILE --expects EXPECTATIONS``: does a list do what is expected, however it is wired.

Input: lists, and a file with ``expect`` and ``pin`` lines or a whole reference. Output: for each expectation whether it is
met and what was computed. The status is 0 where all are met, 1 where one is not, 2 where something could not be read.
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from checker.commands.shared import CLEAR, FOUND, MISUSED, STANDARD_INPUT, Misuse, nearest, page, read, sayable, write


def judge_all(names: Sequence[str], expectations: str, wanted: str, kit: Path | None) -> int:
    """Judge each list and print the outcomes in the format ``wanted``; the highest status."""
    from checker.comparing.behaviour import behaviour_of
    from checker.comparing.outcomes import FORMATS, Judgement, render
    from grammar import read as read_list
    from grammar.syntax_tree import Expect
    from parts_library import load_library

    if wanted not in FORMATS:
        raise Misuse(f"--expects goes with --format terminal or json, not {wanted}. {nearest(wanted, FORMATS)}")
    if expectations == STANDARD_INPUT and STANDARD_INPUT in names:
        raise Misuse("standard input (-) can be read only once")
    asked = read(expectations)
    if asked is None:
        return MISUSED
    if not any(isinstance(statement, Expect) for statement in read_list(asked).statements):
        raise Misuse(f"{expectations} has no line that begins with 'expect', so there is nothing to judge by")
    texts = [(name, read(name)) for name in names]
    judgements = [Judgement(sayable(name), sayable(expectations), behaviour_of(text, asked, load_library(kit)))
                  for name, text in texts if text is not None]
    if judgements:
        write(render(wanted, judgements, page(several=len(names) > 1)), for_machines=wanted == "json")
    if len(judgements) < len(names) or any(one.behaviour.unread for one in judgements):
        return MISUSED
    return CLEAR if all(one.behaviour.all_met for one in judgements) else FOUND
