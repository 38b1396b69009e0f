"""Inputs of a chip in use that nothing is joined to at all: the part of ``input-floating`` that asks no state."""

from __future__ import annotations

import re
from collections.abc import Iterator

from checker.bench.model import BenchPart
from checker.rules.base import Found
from checker.rules.case import Case
from parts_library.logic import pins_of
from parts_library.schema import Chip, Input, Output

TYPES = ("logic", "timer", "converter", "driver", "memory")
"""Chips as they are sold; what a ready-made module needs is on it."""

LOADING = frozenset({"SH/LD", "LOAD"})
PARALLEL = re.compile(r"[A-H]|D\d|SER")
"""Inputs that are taken over only at the loading input's word: open, they bring chance bits and nothing else, a note."""


def open_inputs(case: Case) -> Iterator[Found]:
    """One finding for a chip that is in use: its inputs that are in no wire or alone in their strip, that may not be open and
    that some output in use depends on."""
    for key, part in case.parts(Chip):
        entry = part.entry
        assert isinstance(entry, Chip)
        if entry.type not in TYPES or not case.is_used(key):
            continue
        wanted = _wanted(case, key, entry)
        opened = [pin for group in entry.inputs if _must_be_held(group) for pin in group.pins
                  if pin in wanted and _is_open(case, key, pin)]
        by_chance = [pin for pin in opened if PARALLEL.fullmatch(pin) and LOADING & set(entry.pins)]
        grave = [pin for pin in opened if pin not in by_chance]
        if grave:
            yield _found(case, key, part, grave, "fault", "open")
        elif by_chance:
            yield _found(case, key, part, by_chance, "note", "open-data")
        resets = [pin for group in entry.inputs if group.may_float and group.low_max is not None and entry.type == "timer"
                  for pin in group.pins if pin in wanted and _is_open(case, key, pin)]
        if resets and not grave:
            yield _found(case, key, part, resets, "note", "open-reset")


AT_PLUS = frozenset({"SRCLR", "CLR", "PRE", "LOAD", "RESET", "ENP", "ENT", "LT", "BL", "G1", "HOLD", "WP", "DEI"})
AT_MINUS = frozenset({"OE", "G", "G2A", "G2B", "RST", "SET", "INH", "CLKINH"})
"""Where an input lies that is not used: clears and presets of the 74HC family act when low, resets of the 4000 family when high
(function tables of their datasheets, from memory)."""


def _rests(pins: list[str]) -> dict[str, str]:
    """"plus" and "minus": the pins that rest there, in the words of a list; what depends on the circuit is in neither."""
    bare = {pin: pin[len(_unit(pin)):] for pin in pins}
    return {side: " ".join(pin for pin in pins if bare[pin] in names) for side, names in (("plus", AT_PLUS), ("minus", AT_MINUS))}


def _found(case: Case, key: str, part: BenchPart, pins: list[str], severity: str, words: str) -> Found:
    return Found(rule="input-floating", severity=severity, span=part.span, case=words, parts=(part.name,),
                 points=tuple(case.pin_name(key, pin) for pin in pins), facts=_rests(pins),
                 needs_whole_list=True)


def _must_be_held(group: Input) -> bool:
    return not (group.may_float or group.pull_up or group.pull_down or group.analog)


def _is_open(case: Case, key: str, pin: str) -> bool:
    if (key, pin) not in case.circuit.touched:
        return True
    net = case.net(key, pin)
    return len(case.pins_on(net)) == 1 and net not in case.circuit.uncertain


def _wanted(case: Case, key: str, entry: Chip) -> set[str]:
    """The inputs that outputs in use depend on. An output that names its inputs depends on these; of any other, all inputs
    matter, but for those of another unit (2CLK is none of 1Q's)."""
    outputs = {pin for output in entry.outputs for pin in output.pins}
    inputs = [pin for group in entry.inputs for pin in group.pins if pin not in outputs]
    two_way = outputs & {pin for group in entry.inputs for pin in group.pins}
    wanted = {its for group in entry.inputs for pin in group.pins if _is_used(case, key, pin) for its in group.switched_by}
    for output in entry.outputs:
        for number, pin in enumerate(output.pins):
            if _is_used(case, key, pin) and not (pin in two_way and _is_off(case, f"{case.name(key)}.{pin}")):
                if output.follows:
                    wanted |= _named(output, number)
                else:
                    wanted |= {its for its in inputs if not _unit(its) or not _unit(pin) or _unit(its) == _unit(pin)}
    return wanted


def _is_used(case: Case, key: str, pin: str) -> bool:
    return (key, pin) in case.circuit.touched and len(case.pins_on(case.net(key, pin))) > 1


def _is_off(case: Case, name: str) -> bool:
    """True for a pin of a two-way buffer that is an input in every state."""
    return all(point.state.get(name) == "released" for point in case.operating.points)


def _named(output: Output, number: int) -> set[str]:
    """The inputs that an output's functions name."""
    words = [output.follows[number] if number < len(output.follows) else ""]
    words += [output.enabled_by[number] if len(output.enabled_by) > number else output.enabled_by[0]] if output.enabled_by else []
    words += output.held_by
    return {pin for each in words for pin in pins_of(each)}


def _unit(pin: str) -> str:
    """The unit of a chip that a pin belongs to: the digits before its name, "" for what all units share."""
    found = re.match(r"\d+(?=[A-Z])", pin)
    return found.group() if found else ""
