"""The ranking as a page for the bench, and as JSON.

Input: a Trace and what list it is of. Output: text. The page says what is likeliest, what to do first, and what to measure next
with what each outcome would mean.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

import msgspec
from msgspec import Struct

from checker.operating.points import State
from checker.report.page import Page
from checker.report.prose import prose, prose_width
from checker.report.words import visible
from checker.suspects import Suspect
from checker.tracing.choosing import Question
from checker.tracing.trace import NOTHING_WRONG, Group, Trace
from checker.tracing.words import meant_words, outcome_words, percent, place_words, seen_words, state_words
from checker.version import VERSION

_TITLE, _DO, _NEXT = "WHAT IS LIKELIEST", "WHAT TO DO FIRST", "MEASURE NEXT"
_MOST_GROUPS, _MOST_MEMBERS = 6, 6
_LEAST_SHOWN = 0.01
_HANG = 7
_SAFETY = "Disconnect power before you move anything. The chances rest on how often such faults occur and on your readings; " \
          "more than one fault at once is not looked at."


class About(Struct, frozen=True):
    """Whose list it is: ``file`` as asked for, ``title`` as in the list, ``not_clear`` a sentence where the list itself is not
    clear, ``rest`` everything that can be set, at rest."""

    file: str
    title: str
    not_clear: str = ""
    rest: State = {}


def render(name: str, trace: Trace, about: About, page: Page) -> str:
    """The trace in the format ``name``, a key of ``FORMATS``."""
    return FORMATS[name](trace, about, page)


# ── the page ──────────────────────────────────────────────────────────────────────────────────────────────────────


def _terminal(trace: Trace, about: About, page: Page) -> str:
    width = prose_width(page)
    lines = [_TITLE, "=" * len(_TITLE)]
    for sentence in (f"{about.title} ({about.file})" if about.title else about.file, about.not_clear, *_seen(trace, about),
                     f"{trace.looked_at} single faults looked at. Black probe at {trace.reference}.", _unexplained(trace)):
        lines += prose(sentence, width)
    lines += ["", *_groups(trace, width), *_first_step(trace, width), *_question(trace, about, width), *prose(_SAFETY, width)]
    return visible("\n".join(lines)) + "\n"


def _seen(trace: Trace, about: About) -> Iterator[str]:
    if not trace.seen:
        yield "No readings yet: these are the faults that occur most."
    else:
        yield f"Seen: {'; '.join(seen_words(one, about.rest) for one in trace.seen)}."
    for one in trace.seen:
        name, _, ground = one.probe.name.partition("~")
        if ground and "~" not in one.text:
            yield f"{one.text} is taken as measured from {ground}, since nothing joins {name} to {trace.reference}."
    rest = state_words({}, about.rest)
    if trace.right_in is not None:
        said = ",".join(f"{name}={option}" for name, option in trace.right_in.items() if about.rest.get(name) != option)
        yield f"Taken as seen {rest}; but all of it is right {state_words(trace.right_in, about.rest)}: if it was so, " \
              f"put --when {said} before it."
    elif rest and any(not one.state for one in trace.seen):
        yield f"What was seen without a --when is taken as seen {rest}: put --when {_otherwise(about.rest)} before it if not."


def _otherwise(rest: State) -> str:
    """A state to write that is not the one at rest."""
    return next((f"{name}={_OTHER[option]}" for name, option in rest.items() if option in _OTHER), "NAME=STATE")


_OTHER = {"low": "high", "high": "low", "released": "pressed", "open": "closed", "off": "on"}


def _unexplained(trace: Trace) -> str:
    if trace.explained:
        return ""
    off = trace.groups[0].off
    worst = trace.seen[off.index(max(off))]
    return f"No single fault explains all of it: {worst.text} does not fit. Take that reading again; if it stays, there may be " \
           "two faults, or something that the list does not say."


def _groups(trace: Trace, width: int) -> Iterator[str]:
    shown = [group for group in trace.groups if group.chance >= _LEAST_SHOWN][:_MOST_GROUPS]
    for group in shown:
        yield from _group(group, width)
    rest = len(trace.groups) - len(shown)
    if rest:
        yield from prose(f"{rest} less likely {'one' if rest == 1 else 'ones'} not shown.", width)
    yield ""


def _group(group: Group, width: int) -> Iterator[str]:
    first, *others = group.members
    yield from prose(first.say, width, f"{percent(group.chance):>4}".ljust(_HANG))
    for other in others[:_MOST_MEMBERS]:
        yield from prose(f"or {other.say}", width, " " * _HANG)
    if len(others) > _MOST_MEMBERS:
        yield from prose(f"or {len(others) - _MOST_MEMBERS} more", width, " " * _HANG)
    if others:
        yield from prose("(no voltage tells these apart: look at them)", width, " " * _HANG)


def _first_step(trace: Trace, width: int) -> Iterator[str]:
    yield _DO
    for name in _shorted(trace):
        yield from prose(f"take {name} off at once and feel it: where it is warm, its plus and minus are joined.", width, "  ")
    first = trace.groups[0].members
    for label, one in zip(("",) if first[0].kind == NOTHING_WRONG else ("", "or "), first):
        yield from prose(f"{label}{one.remedy}.", width, "  ")
    yield ""


def _shorted(trace: Trace) -> list[str]:
    """The supplies that one of the likeliest faults joins plus to minus."""
    return list(dict.fromkeys(
        part.name for one in trace.groups[0].members for key, part in one.circuit.bench.parts.items()
        if part.is_supply and one.circuit.pin_net.get((key, "+")) == one.circuit.pin_net.get((key, "-"), -1)))


def _question(trace: Trace, about: About, width: int) -> Iterator[str]:
    if trace.question is None:
        if len(trace.groups) > 1:
            yield from prose("No further reading tells more.", width)
            yield ""
        return
    question = trace.question
    state = state_words(question.state, about.rest)
    yield _NEXT
    yield from prose(f"{place_words(question.probe, trace.reference)}{', ' + state if state else ''}", width, "  ")
    said = [(outcome_words(outcome, question.probe), meant_words(trace.meaning(outcome))) for outcome in question.outcomes]
    column = min(max(len(value) for value, _ in said) + 6, width // 2)
    for value, meaning in said:
        yield from prose(meaning, width, f"    {value}".ljust(column))
    yield from prose(_typed(question, about.rest), width, "  ")
    yield ""


def _typed(question: Question, rest: State) -> str:
    """What to add to the command once it is measured."""
    set_now = {**rest, **question.state}
    changed = [name for name, option in set_now.items() if rest.get(name) != option] or list(set_now)[:1]
    state = ",".join(f"{name}={set_now[name]}" for name in changed)
    when = f' --when "{state}"' if " " in state else f" --when {state}" if state else ""
    answer = "…V" if question.probe.kind == "volts" else outcome_words(question.outcomes[0], question.probe)
    return f"then add to the command:{when} --saw {question.probe.name}={answer}"


# ── JSON ──────────────────────────────────────────────────────────────────────────────────────────────────────────


def _json(trace: Trace, about: About, page: Page) -> str:
    found = {
        "legwise": VERSION, "file": about.file, "title": about.title, "reference": trace.reference,
        "seen": [{"text": one.text, "state": {**about.rest, **one.state}} for one in trace.seen],
        "looked_at": trace.looked_at, "explained": trace.explained,
        "groups": [{"chance": round(group.chance, 4), "suspects": [_suspect(one) for one in group.members]}
                   for group in trace.groups],
        "next": _next(trace, trace.question),
    }
    return msgspec.json.format(msgspec.json.encode(found), indent=2).decode("utf-8") + "\n"


def _suspect(one: Suspect) -> dict[str, Any]:
    return {"kind": one.kind, "say": one.say, "parts": one.parts, "points": one.points, "remedy": one.remedy, "edits": one.edits}


def _next(trace: Trace, question: Question | None) -> dict[str, Any] | None:
    if question is None:
        return None
    probe = question.probe
    outcomes = [{"low": round(one.low, 3), "high": round(one.high, 3), "say": outcome_words(one, probe),
                 "leaves": [suspect.say for suspect in trace.meaning(one)]} for one in question.outcomes]
    return {"measure": probe.kind, "at": probe.name, "leg_at": probe.leg_at or None, "state": question.state,
            "bits": round(question.bits, 3), "outcomes": outcomes}


FORMATS: dict[str, Callable[[Trace, About, Page], str]] = {"terminal": _terminal, "json": _json}
"""The formats of a trace, each a function of the trace, what it is about and the page."""
