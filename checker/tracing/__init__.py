"""Tracing: a board was powered and misbehaves; from what was measured or seen, which single fault it is likeliest to be.

Input: a surveyed list and readings. Output: a ``Trace``, and what a format makes of it. ``observing`` reads what was typed,
``instrument`` solves every suspect with the meter on it, ``predicting`` says what a probe shows, ``likelihood`` compares,
``sense`` refuses what no board could show, ``choosing`` finds the next measurement, ``asking`` asks for it, ``sheet`` prints.
"""

from __future__ import annotations

from checker.tracing.asking import ask
from checker.tracing.model import Probe, Seen
from checker.tracing.observing import Misread, seen_in, state_in
from checker.tracing.sense import hold_against
from checker.tracing.sheet import FORMATS, About, render
from checker.tracing.trace import NOTHING_WRONG, Group, NothingFeeds, Trace, Tracer

__all__ = ["FORMATS", "NOTHING_WRONG", "About", "Group", "Misread", "NothingFeeds", "Probe", "Seen", "Trace", "Tracer", "ask",
           "hold_against", "render", "seen_in", "state_in"]
