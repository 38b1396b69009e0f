"""``legwise trace``: it was powered and misbehaves; which fault is it likeliest to be, and what to measure next.

Input: one list and what was measured or seen. Output: the suspects ranked, what to do about the first, the next measurement. A
``--when`` holds for the ``--saw`` that follow it. With ``--ask`` the questions come one at a time.
"""

from __future__ import annotations

import sys
from argparse import Action, ArgumentParser, Namespace
from collections.abc import Iterator
from pathlib import Path
from textwrap import fill
from typing import TYPE_CHECKING, Any

from checker.commands.shared import (
    CLEAR,
    FOUND,
    MISUSED,
    PIPED_WIDTH,
    STANDARD_INPUT,
    Misuse,
    library_with,
    one_of,
    page,
    read,
    sayable,
    write,
)

if TYPE_CHECKING:
    from checker.circuit.model import Circuit
    from checker.survey import Survey
    from checker.tracing import Seen, Tracer

_SAW = "what was measured or seen: b10=4.9V, b10~b12=0.7V, PUMP=98mA, LED1=dark; may be given often"
_WHEN = "how it was switched for the --saw that follow: U1.D9=high, S1=pressed"


class _InOrder(Action):
    """Keeps ``--saw`` and ``--when`` in the order in which they were typed."""

    def __call__(self, parser: ArgumentParser, namespace: Namespace, values: Any, option: str | None = None) -> None:
        namespace.said = [*(getattr(namespace, "said", None) or []), (self.dest, values)]


def arguments(parser: ArgumentParser) -> None:
    """What the command takes."""
    parser.add_argument("file", metavar="FILE", help="the list that was built, or - for standard input")
    parser.add_argument("--saw", metavar="READING", action=_InOrder, help=_SAW)
    parser.add_argument("--when", metavar="STATE", action=_InOrder, help=_WHEN)
    parser.add_argument("--ask", action="store_true", help="ask for one reading at a time")
    parser.add_argument("--format", metavar="FORMAT", default="terminal", help="terminal (the default) or json")
    parser.add_argument("--parts", metavar="KIT.toml", type=Path, help="parts of your own besides the library's")


def run(arguments: Namespace) -> int:
    """Print the ranking; 0 where the wiring is likeliest right, 1 where a fault is, 2 where something is not understood."""
    from checker.tracing import FORMATS, NOTHING_WRONG, Misread, hold_against, render

    wanted = one_of(arguments.format, FORMATS)
    if arguments.ask and arguments.file == STANDARD_INPUT:
        raise Misuse("--ask reads the answers from standard input: name the file of the list")
    text = read(arguments.file)
    if text is None:
        return MISUSED
    surveyed, tracer = _made_ready(text, arguments)
    try:
        seen = _seen(getattr(arguments, "said", None) or [], tracer.circuit)
        hold_against(tracer, seen)
    except Misread as problem:
        raise Misuse(str(problem)) from None
    about = _about(surveyed, tracer, arguments.file)
    if arguments.ask:
        from checker.tracing import ask

        trace = ask(tracer, seen, about.rest, _typed_lines(), _say_to(sys.stderr if wanted == "json" else sys.stdout))
    else:
        trace = tracer.trace(seen)
    if arguments.ask and wanted != "json":
        print()
    write(render(wanted, trace, about, page()), for_machines=wanted == "json")
    return CLEAR if trace.groups[0].members[0].kind == NOTHING_WRONG and trace.explained else FOUND


def _made_ready(text: bytes, arguments: Namespace) -> tuple[Survey, Tracer]:
    from checker.survey import survey
    from checker.tracing import NothingFeeds, Tracer

    library = library_with(arguments.parts)
    surveyed = survey([text], library)[0]
    name = sayable(arguments.file)
    if surveyed.bench.unread:
        raise Misuse(f"{name} cannot be read whole\n  legwise check {name}   says where")
    try:
        return surveyed, Tracer(surveyed, library)
    except NothingFeeds:
        raise Misuse(f"{name} has no supply and no controller: there is nothing to measure") from None


def _seen(said: list[tuple[str, str]], circuit: Circuit) -> list[Seen]:
    """The readings, each in the state of the last ``--when`` before it; several ``--when`` in a row hold together."""
    from checker.tracing import seen_in, state_in

    found: list[Seen] = []
    state: dict[str, str] = {}
    fresh = False
    for option, words in said:
        if option == "when":
            state = {**(state if fresh else {}), **state_in([words], circuit)}
            fresh = True
        else:
            found.append(seen_in(words, circuit, state))
            fresh = False
    return found


def _about(surveyed: Survey, tracer: Tracer, file: str) -> Any:
    from checker.report.words import file_name
    from checker.tracing import About
    from checker.tracing.probes import rest_of

    wrong = any(one.severity in ("danger", "damage", "fault") for one in surveyed.found)
    name = sayable(file)
    not_clear = (f"The list itself is not clear: legwise check {name} says what is wrong in it. "
                 "What follows takes it as it stands.")
    return About(file=file_name(name), title=surveyed.bench.title or "", not_clear=not_clear if wrong else "",
                 rest=rest_of(tracer.circuit))


def _typed_lines() -> Iterator[str]:
    """What is typed, a line at a time; the end of the input ends it."""
    yield from iter(sys.stdin.readline, "")


def _say_to(stream: Any) -> Any:
    def say(words: str) -> None:
        print(fill(words, PIPED_WIDTH, subsequent_indent="   "), file=stream, flush=True)
    return say
