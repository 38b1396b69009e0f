"""Composing: from explained findings to the Report that formats print.

Here the verdict is drawn, sentences are put to findings, and operating points are told in the words of the contract.
"""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import structs

from checker.bench.model import Bench
from checker.explain import Explained
from checker.fixes.candidate import Candidate
from checker.judge import READING_RULES
from checker.operating.operate import Operating
from checker.report.model import SEVERITIES, Finding, Fix, Report, Span, State, Summary
from checker.report.words import HAZARD
from checker.rules.base import Found
from checker.sentences import advice_for, headline_for, message_of, why_of
from checker.survey import Survey
from checker.version import VERSION
from grammar.syntax_tree import Span as TextSpan


def compose(surveyed: Survey, explained: Sequence[Explained], file: str) -> Report:
    """The report of one list."""
    explained = _under_hazard(explained)
    roots = [e.root for e in explained]
    verdict = verdict_of(roots, surveyed)
    shown = _for_verdict(explained, verdict)
    bench = surveyed.bench
    return Report(
        legwise=VERSION, file=file, title=bench.title, by=bench.by, verdict=verdict,
        headline=headline_for(verdict, [e.root for e in shown]),
        findings=tuple(_finding(e, bench.tree.lines) for e in shown), assumed=_assumed(surveyed),
        states=tuple(_states(surveyed.operatings[0])) if surveyed.operatings else (),
        advice=(*advice_for(verdict, roots, bench), *_bounds(surveyed)), summary=_summary(roots),
        lines=bench.tree.lines)


def verdict_of(roots: Sequence[Found], surveyed: Survey) -> str:
    """The verdict: what can burn comes first, then what could not be read, then what does not work."""
    severities = {found.severity for found in roots}
    if severities & {"danger", "damage"}:
        return "do-not-power"
    if any(found.rule in READING_RULES and found.severity == "fault" for found in roots):
        return "unreadable"
    if "fault" in severities:
        return "will-not-work"
    return "look-first" if "look" in severities or _bounds(surveyed) else "clear"


def _for_verdict(explained: Sequence[Explained], verdict: str) -> list[Explained]:
    """Findings in order; where the list could not be read, that comes before what does not work. Lines that could not be read
    come from the top, as a person mends them."""
    unread = [e for e in explained if e.root.rule in READING_RULES and e.root.severity == "fault"]
    by_line = iter(sorted(unread, key=lambda e: (e.root.span.line, e.root.span.column)))
    shown = [next(by_line) if e in unread else e for e in explained]
    return sorted(shown, key=lambda e: e.root.rule not in READING_RULES) if verdict == "unreadable" else shown


def _under_hazard(explained: Sequence[Explained]) -> Sequence[Explained]:
    """What a dangerous voltage destroys goes under the danger: nobody is told to mend that and go on."""
    hazard = next((e for e in explained if e.root.rule == HAZARD), None)
    if hazard is None:
        return explained
    under = [e for e in explained if e.root.severity == "damage" and not e.fixes]
    first = structs.replace(hazard, consequences=(*hazard.consequences, *(e.root for e in under)))
    return [first if e is hazard else e for e in explained if e not in under]


def _bounds(surveyed: Survey) -> tuple[str, ...]:
    """What was not looked at in full."""
    said = []
    if any(not operating.converged.all() for operating in surveyed.operatings):
        said.append("Some states could not be computed, so this verdict cannot be clear")
    if any(operating.plan.bounded for operating in surveyed.operatings):
        said.append("There are more states than could be looked at: pairs of switches were, not all combinations")
    if surveyed.seated.bounded:
        said.append("There are more ways to read this list than could be combined: each open point was looked at alone")
    return tuple(said)


def _summary(roots: Sequence[Found]) -> Summary:
    return Summary(**{severity: sum(found.severity == severity for found in roots) for severity in SEVERITIES})


# ── findings ──────────────────────────────────────────────────────────────────────────────────────────────────────


def _finding(explained: Explained, lines: Sequence[str]) -> Finding:
    finding = _plain(explained.root, lines, _cause_line(explained))
    plain = {found.message: found for found in (_plain(found, lines) for found in explained.consequences)}
    consequences = tuple(found for message, found in plain.items() if message != finding.message)
    return Finding(rule=finding.rule, severity=finding.severity, parts=finding.parts, points=finding.points,
                   span=finding.span, message=finding.message, why=finding.why, evidence=finding.evidence,
                   consequences=consequences, fixes=tuple(_fix(candidate) for candidate in explained.fixes))


def _cause_line(explained: Explained) -> int | None:
    line = explained.root.facts.get("line", "")
    return int(line) if line.isdecimal() and explained.root.rule not in READING_RULES else None


def _plain(found: Found, lines: Sequence[str], line: int | None = None) -> Finding:
    return Finding(rule=found.rule, severity=found.severity, parts=found.parts, points=found.points,
                   span=_span(found.span, lines, line), message=message_of(found), why=why_of(found),
                   evidence=found.evidence)


def _span(span: TextSpan, lines: Sequence[str], line: int | None) -> Span:
    """The span of a finding, inside the text; a cause's is the whole of its line."""
    if line is not None and line != span.line and 1 <= line <= len(lines):
        text = lines[line - 1].split("#")[0].rstrip()
        start = len(text) - len(text.lstrip()) + 1
        return Span(line, start, line, max(len(text) + 1, start + 1))
    return Span(span.line, span.column, span.end_line, span.end_column)


def _fix(candidate: Candidate) -> Fix:
    return Fix(say=candidate.say, edits=candidate.edits, checked=True)


# ── assumptions and states ────────────────────────────────────────────────────────────────────────────────────────


def _assumed(surveyed: Survey) -> tuple[str, ...]:
    bench = surveyed.bench
    assumed = [*_from_kit(bench), *bench.assumed]
    plans = surveyed.seated.readings[0].plans.values() if surveyed.seated.readings else ()
    if not bench.boards:
        assumed.extend(f"the board is a {plan.size} one with rails joined" for plan in plans)
    for part in bench.controllers():
        if part.name.lower() not in bench.powers:
            assumed.append(f"{part.name} runs from USB")
    return tuple(assumed)


def _from_kit(bench: Bench) -> list[str]:
    """The parts whose entry is the kit's in place of a shipped one."""
    replaced = set(bench.library.overridden)
    return [f"{part.name} is the {part.entry.name} of the kit, not the one that ships" for part in bench.parts.values()
            if part.entry is not None and part.entry.name in replaced]


def _states(operating: Operating) -> list[State]:
    """Every nominal operating point, volts of every pin from the reference and amps of every part."""
    circuit = operating.circuit
    volts, amps = [], []
    for key, part in circuit.bench.parts.items():
        pins = [pin for pin in part.pins if (key, pin) in circuit.touched]
        volts += [(f"{part.name}.{pin}", circuit.pin_net[key, pin]) for pin in pins]
        told = [(part.name, part.pins[0])] if len(part.pins) == 2 else [(f"{part.name}.{pin}", pin) for pin in pins]
        amps += [(name, operating.pins[key, pin]) for name, pin in told]
    return [_state(operating, number, volts, amps) for number, point in enumerate(operating.points)
            if point.corner.name == "nominal"]


def _state(operating: Operating, number: int, volts: Sequence[tuple[str, int]], amps: Sequence[tuple[str, int]]) -> State:
    """One point: ``volts`` names each pin with its net, ``amps`` each part or pin with its column of currents."""
    point = operating.points[number]
    nets, pins = operating.volts[number].tolist(), operating.amps[number].tolist()
    coil, energy = "", None
    for (key, _), forced in point.forced.items():
        coil, energy = operating.circuit.part(key).name, 0.5 * point.henries * forced * forced
    return State(state=dict(point.state), phase="switch-off" if point.phase == "switch-off" else "steady",
                 voltages={name: nets[net] for name, net in volts}, currents={name: pins[pin] for name, pin in amps},
                 coil=coil, energy=energy, release=operating.releases.get(number))
