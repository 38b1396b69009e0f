"""The sheet's own phrases, the same in every format.

Input: values of the sheet. Output: words without layout, sentences without their full stop.
"""

from __future__ import annotations

from collections.abc import Iterable

from checker.metering.model import Instead, LampHole, MeterSheet, Reading
from checker.metering.states import AT_REST

TITLE = "METER SHEET"
BEFORE = "Before power"
POWER = "First power"
AFTER = "With power on"
LAMP = "No meter"
MOST_STATES_SAID = 2
VOLTS = "DC volts"
NOT_ALL = "A meter does not see every fault"


def reading_words(reading: Reading) -> str:
    """``R1: about 220 Ω``: what it is and what it should show; before power with what the hand does meanwhile."""
    hold = f" ({reading.hold})" if reading.hold and reading.function != VOLTS else ""
    return f"{reading.what}{hold}: {reading.expect}"


def state_words(sheet: MeterSheet, state: str) -> str:
    """The heading of the readings in one state: ``Everything at rest (U1.D9 low)``."""
    rest = f" ({sheet.rest})" if sheet.rest and (state == AT_REST or state in sheet.resting) else ""
    return f"{state[:1].upper()}{state[1:]}{rest}"


def dial_words(reading: Reading) -> str:
    """The dial: ``Ω, the lowest range over 1.1 kΩ``."""
    function = "Ω" if reading.unit == "ohm" else reading.function
    return f"{function}, {reading.range}" if reading.range else function


def black_words(reading: Reading) -> str:
    return reading.black.say


def instead_words(instead: Instead) -> str:
    """``If OL, suspect this: D1 is turned round; or the contact of R1's legs; or 3 more``."""
    more = f"; or {instead.more} more" if instead.more else ""
    return f"If {instead.shows}, suspect this: {'; or '.join(instead.means)}{more}"


def ended(words: str) -> str:
    """With a full stop, where it does not end as a question or a sentence already."""
    return words if words.endswith((".", "?")) else f"{words}."


def sentences(words: Iterable[str]) -> str:
    """Each with a capital and a full stop, one after the other; a name at the start stays as it is written."""
    return " ".join(f"{word[:1].upper()}{word[1:]}." for word in words)


def hole_words(hole: LampHole) -> str:
    """``free hole d8: lit with LDR1 bright; dark with LDR1 dark``."""
    if not hole.dark:
        return f"{hole.red.say}: always lit"
    said = {"lit": hole.lit, "dark": hole.dark}
    first, second = ("lit", "dark") if len(hole.lit) <= len(hole.dark) else ("dark", "lit")
    if len(said[second]) <= MOST_STATES_SAID:
        return f"{hole.red.say}: lit {_states(hole.lit)}; dark {_states(hole.dark)}"
    other = f"{second} or dim" if hole.dim else second
    return f"{hole.red.say}: {first} {_states(said[first])}; {other} otherwise"


def _states(states: tuple[str, ...]) -> str:
    """All of some states, each after "with"."""
    return " or ".join(_with(state) for state in states)


def _with(state: str) -> str:
    if state == AT_REST:
        return "at rest"
    return state if state.startswith("while ") else f"with {state}"


def counted_words(sheet: MeterSheet) -> str:
    """How much these readings can see."""
    if not sheet.faults:
        return f"{NOT_ALL}."
    return (f"Of {sheet.faults} likely single faults, these readings show {sheet.found_before} before power and "
            f"{sheet.found_after} in all.")
