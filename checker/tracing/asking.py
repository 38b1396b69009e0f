"""Tracing by questions: one at a time, the one that tells most, until one group is left or nothing tells more.

Input: a Tracer, what was seen so far, and where lines come from. Output: the last Trace; questions and what they changed are said
as they come.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from checker.operating.points import State
from checker.tracing.choosing import Question
from checker.tracing.model import Probe, Seen
from checker.tracing.observing import LOOKS, Misread, digit_of
from checker.tracing.trace import Trace, Tracer
from checker.tracing.words import percent, question_words, state_words
from grammar import QuantityError, read_quantity

MOST_QUESTIONS = 12
_YES, _NO = ("yes", "y", "ja", "1"), ("no", "n", "0")
_STOP = ("q", "quit", "stop", "exit")
INTRODUCTION = "One question at a time. Enter skips a question, q stops."


def ask(tracer: Tracer, seen: list[Seen], rest: State, lines: Iterable[str], say: Callable[[str], None]) -> Trace:
    """Ask until it is settled; the trace after the last answer."""
    answers = iter(lines)
    skipped: list[tuple[Probe, State]] = []
    say(INTRODUCTION)
    trace = tracer.trace(seen, skipped)
    for number in range(1, MOST_QUESTIONS + 1):
        question = trace.question
        if question is None or len(trace.groups) < 2:
            break
        said = question_words(question.probe, state_words(question.state, rest), trace.reference)
        answer = _answer(f"{number}. {said}", question, answers, say)
        if answer is None:
            break
        if isinstance(answer, Seen):
            seen.append(answer)
        else:
            skipped.append((question.probe, question.state))
        trace = tracer.trace(seen, skipped)
        say(f"   Likeliest now: {trace.groups[0].members[0].say} ({percent(trace.groups[0].chance)})")
    return trace


def _answer(said: str, question: Question, answers: Iterator[str], say: Callable[[str], None]) -> Seen | str | None:
    """A reading, "" for a question that is skipped, or None where the answers end."""
    while True:
        say(said)
        line = next(answers, None)
        if line is None or line.strip().lower() in _STOP:
            return None
        if not line.strip():
            return ""
        try:
            return read_answer(line.strip(), question)
        except Misread as problem:
            say(f"   {problem}")


def read_answer(line: str, question: Question) -> Seen:
    """An answer to a question: yes or no, or volts with or without their unit. Raises Misread."""
    probe, state = question.probe, question.state
    if probe.kind == "look":
        word = line.lower()
        if word in _YES or word in _NO or word in LOOKS:
            value = LOOKS[word][1] if word in LOOKS else float(word in _YES)
            return Seen(probe, value, f"{probe.name}={_look_word(probe, value)}", state=state)
        raise Misread(f"'{line}' is no answer: yes or no")
    try:
        quantity = read_quantity(line)
    except QuantityError as problem:
        reason = problem.reason if any(character.isdigit() for character in line) else "is no number of volts"
        raise Misread(f"'{line}' {reason}") from None
    if quantity.unit not in ("", "V"):
        raise Misread(f"'{line}' is not in volts")
    return Seen(probe, quantity.value, f"{probe.name}={line if quantity.unit else line + 'V'}", digit_of(quantity), state)


def _look_word(probe: Probe, value: float) -> str:
    return next(word for word, (look, yes) in LOOKS.items() if look == probe.look and yes == value)
