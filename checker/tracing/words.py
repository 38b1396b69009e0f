"""Probes, states and outcomes in words, the same for the page and for the questions."""

from __future__ import annotations

from collections.abc import Sequence

from checker.operating.points import State
from checker.suspects import Suspect
from checker.tracing.choosing import Outcome
from checker.tracing.model import Probe, Seen
from grammar import show_quantity

_MOST_STATES, _MOST_MEANT = 3, 3
_DOES = {"lit": "light up", "running": "run", "hot": "get hot"}
_LOOKS = {"lit": ("lit", "dark"), "running": ("running", "still"), "hot": ("hot", "cool")}
_ZERO_VOLTS = 0.06


def place_words(probe: Probe, reference: str) -> str:
    """``the volts at d16, black probe at U1.GND``; ``whether LED1 is lit``."""
    if probe.kind == "look":
        return f"look whether {probe.name} is {_LOOKS[probe.look][0]}"
    point, _, ground = probe.name.partition("~")
    reference = ground or reference
    if probe.leg_at:
        name = point.partition(".")[0]
        return f"the volts on {name}'s leg at {probe.leg_at} (probe on the metal of the leg itself), black probe at {reference}"
    return f"the volts at {point}, black probe at {reference}"


def question_words(probe: Probe, state: str, reference: str) -> str:
    """One question, to be answered in a word: what is asked, and how the answer is given."""
    how = f" {state}" if state else ""
    if probe.kind == "look":
        return f"Does {probe.name} {_DOES[probe.look]}{how}? (yes or no)"
    said = place_words(probe, reference).removeprefix("the ")
    return f"{said[:1].upper()}{said[1:]}{',' if how else ''}{how}? (a number)"


def state_words(state: State, rest: State) -> str:
    """``with U1.D9 high``: what is not at rest, or where everything is, what that means; "" where nothing can be set."""
    set_now = {**rest, **state}
    changed = [f"{name} {option}" for name, option in set_now.items() if rest.get(name) != option]
    told = changed or [f"{name} {option}" for name, option in set_now.items()]
    if not told:
        return ""
    if len(told) > _MOST_STATES:
        more = len(told) - _MOST_STATES
        return "with everything at rest" if not changed else f"with {', '.join(told[:_MOST_STATES])} and {more} more switched"
    return f"with {', '.join(told)}"


def outcome_words(outcome: Outcome, probe: Probe) -> str:
    """``about 4.9 V``, ``0 to 0.2 V``, ``lit``."""
    if probe.kind == "look":
        return _LOOKS[probe.look][0 if outcome.low > 0.5 else 1]
    low, high = _rounded(outcome.low), _rounded(outcome.high)
    return f"about {low}" if low == high else f"{low.removesuffix(' V')} to {high}"


def _rounded(volts: float) -> str:
    if abs(volts) < _ZERO_VOLTS:
        return "0 V"
    return show_quantity(round(volts, 2) if abs(volts) >= 0.1 else round(volts, 3), "V")


def meant_words(suspects: Sequence[Suspect]) -> str:
    """What an outcome would leave: the likeliest few, and how many more."""
    said = [one.say.partition(": ")[0] if len(one.say) > 60 else one.say for one in suspects[:_MOST_MEANT]]
    more = len(suspects) - len(said)
    return "; ".join(said) + (f"; and {more} more" if more else "")


def seen_words(seen: Seen, rest: State) -> str:
    """A reading as it was typed, with its state."""
    state = state_words(seen.state, rest) if seen.state else ""
    return f"{seen.text} {state}".strip()


def percent(chance: float) -> str:
    """``93 %``; never 100 % where anything else is possible."""
    return f"{min(round(100 * chance), 99 if chance < 1.0 else 100)} %"
