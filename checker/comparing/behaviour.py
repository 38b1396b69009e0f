"""Behaviour instead of shape: does a list do what is expected of another, however it is wired.

Input: the text of the list and a text with expectations: a file of ``expect`` and ``pin`` lines, or a whole reference, of
which only these lines are taken. Output: an ``Outcome`` for each expectation, with the value that was computed. The names
of a reference are those of the parts that play them in the given list; the lines are put under the given list in its
names, and judged as its own would be.
"""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct

from checker.circuit.build import conductor_at
from checker.comparing.compare import nearest_variant, part_pairs, pin_pairs
from checker.comparing.naming import thing_in_words
from checker.comparing.variants import Variant
from checker.rules.case import Case
from checker.rules.expecting import Judged, judge_expectation, told_conditions
from checker.survey import Survey, Wired, survey, wire_up
from grammar import read, show_quantity
from grammar.syntax_tree import Bare, Expect, Hole, Node, Part, Pin, PinRole, Point, Rail, Supply, WiringList
from parts_library import Library

NOTHING = 1e-9
"""A nanoamp, a nanovolt: what the solver lets through where nothing flows."""


class Outcome(Struct, frozen=True, kw_only=True):
    """What became of one expectation. ``text`` is the line as written, ``met`` None where it cannot be said; ``measured``
    is the computed value that is nearest to a bound or farthest beyond one, ``limit`` that bound, both in ``unit``;
    ``state`` what was switched; ``say`` one sentence."""

    text: str
    met: bool | None
    say: str
    measured: float | None = None
    limit: float | None = None
    unit: str = ""
    state: dict[str, str] = {}


class Behaviour(Struct, frozen=True):
    """All outcomes of one list; ``unread`` where a line of the list or of the expectations could not be read."""

    outcomes: tuple[Outcome, ...]
    unread: bool

    @property
    def all_met(self) -> bool:
        return all(outcome.met for outcome in self.outcomes)


class _Line(Struct, frozen=True):
    """A line of expectations in the words of the given list with the ``points`` that it names there, or the name that
    nothing there plays and ``what`` it is in the reference."""

    text: str
    translated: str = ""
    points: tuple[str, ...] = ()
    nobody: str = ""
    what: str = ""


def expectations_met(given: str | bytes, expectations: str | bytes, library: Library) -> tuple[Outcome, ...]:
    """The outcome of every expectation, in the order of their file."""
    return behaviour_of(given, expectations, library).outcomes


def behaviour_of(given: str | bytes, expectations: str | bytes, library: Library) -> Behaviour:
    """The same, and whether all of both texts could be read."""
    tree = read(expectations)
    if not any(isinstance(statement, Part | Supply) for statement in tree.statements):
        return _behaviour(given, tree, None, library)
    reference, theirs = wire_up(expectations, library), wire_up(given, library)
    return _behaviour(given, tree, _Playing(nearest_variant(reference, theirs), reference), library)


def behaviour_beside(variant: Variant, reference: Survey, given: Survey) -> Behaviour:
    """What a reference expects of a list that was compared with it already."""
    text = "\n".join(given.bench.tree.lines)
    return _behaviour(text, reference.bench.tree, _Playing(variant, reference), given.bench.library)


def _behaviour(given: str | bytes, tree: WiringList, names: _Playing | None, library: Library) -> Behaviour:
    lines = [_line(tree, statement, names) for statement in tree.statements if isinstance(statement, Expect)]
    roles = [_line(tree, statement, names) for statement in tree.statements if isinstance(statement, PinRole)]
    text = _together(given, roles, [line for line in lines if not line.nobody])
    case = Case(survey([text], library)[0].operatings[0])
    judged = iter(case.bench.expects)
    problems = {problem.span.line: problem.message for problem in case.bench.tree.problems}
    return Behaviour(tuple(_outcome(case, line, judged, problems) for line in lines),
                     bool(tree.problems) or case.bench.unread)


# ── in the names of the given list ────────────────────────────────────────────────────────────────────────────────


class _Playing:
    """Which name of the given list plays a name of the reference."""

    def __init__(self, variant: Variant, reference: Wired | Survey) -> None:
        self.circuit = reference.circuits[0]
        self.variant = variant
        self.parts = {name.lower(): other for name, other in part_pairs(variant).items()}
        self.pins = {name.lower(): other for name, other in pin_pairs(variant).items()}

    def point(self, point: Point) -> str | None:
        """How the given list writes a point of the reference; None where nothing plays it."""
        if isinstance(point, Pin):
            name = self.parts.get(point.part.lower())
            return self.pins.get(f"{point.part}.{point.pin}".lower(), f"{name}.{point.pin}") if name else None
        if isinstance(point, Bare):
            return self.parts.get(point.text.lower()) or self._pin_of_the_controller(point)
        return self._net(point)

    def what(self, name: str) -> str:
        """What a name of the reference is: "a controller", "an LM358"."""
        part = self.circuit.bench.part(name)
        return "" if part is None else "a controller" if part.is_controller else thing_in_words(part)

    def _pin_of_the_controller(self, point: Bare) -> str | None:
        """A pin without its part, as in ``pin D9 pwm``, is one of the only controller."""
        controllers = self.circuit.bench.controllers()
        if len(controllers) != 1 or point.text.upper() not in controllers[0].pins:
            return None
        whole = Pin(controllers[0].name, point.text.upper(), f"{controllers[0].name}.{point.text.upper()}", point.span)
        return self.point(whole)

    def _net(self, point: Hole | Rail | Node) -> str | None:
        """A pin on the given net that stands for the net of a hole."""
        conductor = conductor_at(self.circuit, point)
        net = self.circuit.net_of.get(conductor) if conductor is not None else None
        given = self.variant.pair.given
        for block, joint in given.nets.get(self.variant.pairing.nets.get(net if net is not None else -1, -1), ()):
            return f"{given.name(block)}.{given.blocks[block].joints[joint].terminal.pins[0]}"
        return None


def _line(tree: WiringList, statement: Expect | PinRole, names: _Playing | None) -> _Line:
    span, points = statement.span, _points(statement)
    text = tree.lines[span.line - 1][span.column - 1:span.end_column - 1].strip()
    if names is None:
        return _Line(text, text, tuple(point.text for point in points))
    line, others = tree.lines[span.line - 1][:span.end_column - 1], []
    for point in sorted(points, key=lambda point: -point.span.column):
        other = names.point(point)
        if other is None:
            name = point.part if isinstance(point, Pin) else point.text
            return _Line(text, nobody=name, what=names.what(name))
        others.append(other)
        line = line[:point.span.column - 1] + other + line[point.span.end_column - 1:]
    return _Line(text, line[span.column - 1:].strip(), tuple(others))


def _points(statement: Expect | PinRole) -> tuple[Point, ...]:
    if isinstance(statement, PinRole):
        return statement.pins
    return (statement.subject, *(condition.subject for condition in statement.conditions))


def _together(given: str | bytes, roles: list[_Line], expects: list[_Line]) -> str:
    """The given list with its own expectations, and its roles of the same pins, exchanged for these."""
    tree = read(given)
    again = {point.lower() for role in roles for point in role.points}
    lines = list(tree.lines)
    for statement in tree.statements:
        if isinstance(statement, Expect):
            lines[statement.span.line - 1] = ""
        elif isinstance(statement, PinRole):
            left = [point.text for point in statement.pins if point.text.lower() not in again]
            hertz = f" {statement.frequency.text}" if statement.frequency is not None else ""
            lines[statement.span.line - 1] = f"pin {' and '.join(left)} {' '.join(statement.roles)}{hertz}" if left else ""
    return "\n".join([*lines, *(role.translated for role in roles if role.translated), *(one.translated for one in expects)])


# ── what came out ─────────────────────────────────────────────────────────────────────────────────────────────────


def _outcome(case: Case, line: _Line, expects: Iterator[Expect], problems: dict[int, str]) -> Outcome:
    if line.nobody:
        return Outcome(text=line.text, met=False, say=f"nothing here plays {line.nobody}{_namesake(case, line)}")
    expect = next(expects, None)
    if expect is None:
        said = next(iter(problems.values()), "it could not be read")
        return Outcome(text=line.text, met=None, say=f"this cannot be asked of the list: {said}")
    return outcome_of(case, expect, line.text)


def _namesake(case: Case, line: _Line) -> str:
    """What has that name in the given list, and is something else."""
    part = case.bench.part(line.nobody)
    return f", {line.what}: here {line.nobody} is {thing_in_words(part)}" if part is not None and line.what else ""


def outcome_of(case: Case, expect: Expect, text: str) -> Outcome:
    """What becomes of an expectation of the case's own list; ``text`` is the line as written."""
    judged = judge_expectation(case, expect)
    state = dict(judged.point.state) if judged.point is not None else {}
    return Outcome(text=text, met=_is_met(judged), say=_said(expect, judged), measured=judged.value, limit=judged.bound,
                   unit=judged.unit, state=state)


def _is_met(judged: Judged) -> bool | None:
    if judged.outcome == "unknown-part":
        return None
    return judged.outcome in ("met", "weak")


def _said(expect: Expect, judged: Judged) -> str:
    subject = expect.subject.text
    if judged.outcome == "unknown-part":
        return "a part in it is not known, so nothing can be said"
    if judged.outcome == "no-such-part" and judged.subject is not None:
        return f"nothing here plays {judged.subject.text}"
    if judged.outcome == "no-state":
        return f"the list has no state in which {told_conditions(expect) or 'this can be asked'}"
    if judged.outcome == "nowhere":
        return f"nothing is joined to {subject}"
    if judged.value is None or judged.bound is None:
        return "met"
    value = 0.0 if abs(judged.value) < NOTHING else judged.value
    wanted = f"{'at least' if judged.least else 'at most'} {show_quantity(judged.bound, judged.unit)}"
    said = f"the {judged.quantity} of {subject} is {show_quantity(value, judged.unit)}, wanted {wanted}"
    if judged.outcome == "weak" and judged.point is not None:
        return f"met at nominal values; {judged.point.corner.say} {said}"
    return said
