"""Reading a wiring list: text in, statements and problems out; it never raises.

Each line is read by itself (one statement a line), so that an error costs its own line and no other. A line that was
read before is not read again: its tree is kept by its text, on line 1, and moved to where it stands now. What depends
on the whole list (declared names, rails without a side) is settled last.
"""

from __future__ import annotations

import re
from functools import lru_cache
from itertools import count
from typing import TYPE_CHECKING, Any, NamedTuple, TypeVar, cast

from msgspec import Struct, structs

from grammar.builder import build_statement
from grammar.comment_marks import check_comment_marks
from grammar.names import settle_names
from grammar.points import Line, Unreadable
from grammar.problems import PROBLEMS
from grammar.spoken_roles import pins_named
from grammar.syntax_errors import STATEMENTS, explain, misspelt_keyword
from grammar.syntax_tree import Part, Problem, Span, Statement, Supply, Wire, WiringList, Word
from grammar.tidy import is_free_text, tidy
from grammar.unread_parts import names_of_pins, part_named

if TYPE_CHECKING:
    from lark import Lark

_DESIGNATOR = re.compile(r"[A-Z]{1,5}\d{1,3}[a-z]?:?")
_A_TITLE = re.compile(r"[A-Za-z][\w'-]*( [\w'-]+){1,5}")
_OFFERS_A_NAME = ("name-is-reserved", "name-expected", "name-is-value")
_END = "the end of the line"
_IS_DUE = re.compile(r"(?P<what>.*) (?P<verb>is|are) due(?P<where>( after \w+)?) where \{found\} stands$")

LONGEST_TEXT = 1_000_000
LONGEST_LINE = 2_000
LEAST_OF_A_FILE, MOST_CONTROLS = 100, 0.02
"""A text that is so long, and holds a larger share of controls than a paste leaves behind, is the bytes of something else."""

MOST_LINES = 5_000
_LINES_KEPT = 20_000
_LISTS_KEPT = 64


def read(text: str | bytes) -> WiringList:
    """The statements and problems of a wiring list.

    ``text`` may be bytes as they come from a file: UTF-8 with or without a byte-order mark, UTF-16 with one, else
    Latin-1. Never raises: what cannot be read is a Problem, at most one a line.
    """
    return _read(text if isinstance(text, str) else decode(text))


def decode(content: bytes) -> str:
    """The text of a file's bytes. Latin-1, which reads any bytes, comes last."""
    if content.startswith((b"\xff\xfe", b"\xfe\xff")):
        return content.decode("utf-16", errors="replace")
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError:
        return content.decode("latin-1")


@lru_cache(maxsize=_LISTS_KEPT)
def _read(text: str) -> WiringList:
    if _is_no_text(text):
        return WiringList((), (Problem("no-list", Span(1, 1, 1, 2), PROBLEMS["no-list"].say),), ())
    lines, problems = _lines(text)
    statements: list[Statement] = []
    for number, line in enumerate(lines, start=1):
        statement, problem = _read_line_at(line, number)
        if statement is not None:
            statements.append(statement)
        if problem is not None:
            problems.append(problem)
    settled, unsettled = settle_names(tuple(statements), lines, _problem, {name.text for name in _unread_parts(problems, lines)})
    problems = sorted(_with_free_names(problems, statements) + unsettled, key=lambda problem: problem.span)
    unread = tuple(pin for problem in problems for pin in pins_named(lines[problem.span.line - 1], problem.span.line))
    parts = _unread_parts(problems, lines)
    return WiringList(tuple(settled), tuple(_with_statement(problems, lines, parts)), lines, unread, parts)


def _unread_parts(problems: list[Problem], lines: tuple[str, ...]) -> tuple[Word, ...]:
    used = names_of_pins(lines) if problems else frozenset()
    named = (part_named(lines[problem.span.line - 1], problem.span.line, used) for problem in problems)
    return tuple(name for name in named if name is not None)


def _with_statement(problems: list[Problem], lines: tuple[str, ...], unread: tuple[Word, ...]) -> list[Problem]:
    """Where a line begins with the name of a part, and not with ``part``, that word is offered before it; words above all else
    are offered as a title."""
    names = {name.span.line for name in unread}
    first = next((number for number, line in enumerate(lines, start=1) if line.strip()), 0)
    offered = []
    for problem in problems:
        text, number = lines[problem.span.line - 1].strip().replace('"', ""), problem.span.line
        if problem.label == "statement-unknown" and number in names:
            problem = structs.replace(problem, suggestion=f"part {text}")
        elif problem.label == "statement-unknown" and number == first and problem.suggestion is None and _A_TITLE.fullmatch(text):
            problem = structs.replace(problem, suggestion=f'title "{text}"')
        offered.append(problem)
    return offered


def _with_free_names(problems: list[Problem], statements: list[Statement]) -> list[Problem]:
    """Where a name is offered in place of a reserved one: the first that the list does not have yet."""
    taken = {statement.name.text.casefold() for statement in statements if isinstance(statement, Part | Supply)}
    return [structs.replace(problem, suggestion=_free_name(problem.suggestion, taken))
            if problem.label in _OFFERS_A_NAME and problem.suggestion else problem for problem in problems]


def _free_name(suggestion: str, taken: set[str]) -> str:
    name, _, rest = suggestion.partition(" ")
    if name.casefold() not in taken:
        taken.add(name.casefold())
        return suggestion
    letters = name.rstrip("0123456789")
    number = next(n for n in count(1) if f"{letters}{n}".casefold() not in taken)
    taken.add(f"{letters}{number}".casefold())
    return f"{letters}{number} {rest}".rstrip()


def _lines(text: str) -> tuple[tuple[str, ...], list[Problem]]:
    """The lines within the limits, and a problem for each limit that was passed."""
    problems = []
    cut = text[:LONGEST_TEXT]
    lines = cut.replace("\r\n", "\n").replace("\r", "\n").split("\n")
    if len(text) > LONGEST_TEXT:
        problems.append(_limit_problem("text-too-long", min(len(lines), MOST_LINES), f"{LONGEST_TEXT:,} characters"))
    if lines and not lines[-1]:
        lines.pop()
    if len(lines) > MOST_LINES:
        problems = [_limit_problem("too-many-lines", MOST_LINES, f"{MOST_LINES:,}")]
        lines = lines[:MOST_LINES]
    return tuple(lines), problems


def _limit_problem(label: str, line: int, limit: str) -> Problem:
    return Problem(label, Span(line, 1, line, 1), PROBLEMS[label].say.format(limit=limit))


class _LineRead(NamedTuple):
    statement: Statement | None
    problem: Problem | None


@lru_cache(maxsize=_LINES_KEPT)
def _read_line_at(text: str, number: int) -> _LineRead:
    read_line = _read_line(text)
    if number == 1:
        return read_line
    return _LineRead(_moved(read_line.statement, number), _moved(read_line.problem, number))


@lru_cache(maxsize=_LINES_KEPT)
def _read_line(text: str) -> _LineRead:
    """One line as if it were line 1."""
    try:
        if len(text) > LONGEST_LINE:
            raise Unreadable("line-too-long", 0, LONGEST_LINE, limit=f"{LONGEST_LINE:,}")
        plain = tidy(text)
        if not plain.strip():
            return _LineRead(None, None)
        _check_characters(text)
        if not is_free_text(plain):
            check_comment_marks(plain, _begins_statement)
        return _LineRead(_parse(plain, Line(text)), None)
    except Unreadable as error:
        return _LineRead(None, _problem(error, 1, text))


def controls_in(text: str) -> int:
    """How many characters of a text are controls that no list has."""
    return sum(text.count(chr(code)) for code in range(32) if chr(code) not in "\t\n\v\f\r")


def _is_no_text(text: str) -> bool:
    return len(text) >= LEAST_OF_A_FILE and controls_in(text) > MOST_CONTROLS * len(text)


def _check_characters(text: str) -> None:
    for place, character in enumerate(text):
        if (character < " " and character not in "\t\v\f") or character == "\ufffd":
            raise Unreadable("not-text", place, place + 1)


def _begins_statement(text: str) -> bool:
    """Whether a text would be read as a statement by itself: it has a keyword, or a name, or joins two points."""
    words = text.split()
    if len(words) < 2:
        return False
    if words[0].rstrip(":").lower() in STATEMENTS or _DESIGNATOR.fullmatch(words[0]):
        return True
    try:
        return isinstance(_parse(text, Line(text)), Wire)
    except Unreadable:
        return False


def _parse(plain: str, line: Line) -> Statement:
    from lark.exceptions import UnexpectedInput

    try:
        tree = parser().parse(plain)
    except UnexpectedInput as error:
        raise explain(error, plain) from None
    if misspelt := misspelt_keyword(tree, plain):
        raise misspelt
    return build_statement(tree, line)


@lru_cache(maxsize=1)
def parser() -> Lark:
    """The parser of ``legs.lark``, once a process: loaded from the table made ahead of time, where that fits."""
    from grammar import table

    return table.parser()


def _problem(error: Unreadable, number: int, text: str) -> Problem:
    row = PROBLEMS[error.label]
    start, end = error.start, max(error.end, error.start + 1)
    found = text[error.start : error.end].strip() or _END
    say = row.say
    if found == _END and (due := _IS_DUE.match(say)):
        say = f"the line ends too early: {due['what']} {due['verb']} missing{due['where']}"
    fills = {"found": found, "before": "", "suggestion": error.suggestion or "", **error.fills}
    expected = tuple(form.format(**fills) for form in row.expected)
    return Problem(error.label, Span(number, start + 1, number, end + 1), say.format(**fills), expected, error.suggestion)


_T = TypeVar("_T")


def _moved(node: _T, line: int) -> _T:
    """The same node on another line: every span below it is moved."""
    moved: Any = node
    if isinstance(node, Span):
        moved = Span(line, node.column, line, node.end_column)
    elif isinstance(node, Struct):
        moved = type(node)(*(_moved(getattr(node, field), line) for field in node.__struct_fields__))
    elif isinstance(node, tuple):
        moved = tuple(_moved(member, line) for member in node)
    return cast("_T", moved)
