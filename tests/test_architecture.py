"""The structure that DESIGN.md promises and DEVELOPERS.md draws: imports go one way, units are small, faces are listed.

Everything is read with ``ast``, nothing is imported for it. Each check is a function from a module's text to complaints,
so that the tests below can show it a made-up text which breaks it on purpose. The sizes are those of the project's own
style notes: files of at most 500 lines unless they are data, nine functions in ten of at most 25 lines of code.
"""

from __future__ import annotations

import ast
import io
import tokenize
from collections.abc import Iterator
from importlib import import_module
from pathlib import Path

import networkx as nx
import pytest

ROOT = Path(__file__).parents[1]
PACKAGES = ("grammar", "parts_library", "checker")

STAGES = (
    "checker.version",
    "checker.process",
    "checker.examples",
    "checker.markup",
    "checker.report",
    "checker.cards",
    "checker.physics",
    "checker.bench",
    "checker.seating",
    "checker.circuit",
    "checker.operating",
    "checker.rules",
    "checker.judge",
    "checker.survey",
    "checker.fixes",
    "checker.explaining",
    "checker.explain",
    "checker.sentences",
    "checker.compose",
    "checker.checking",
    "checker.mend",
    "checker.slips",
    "checker.editor",
    "checker.comparing",
    "checker.drawing",
    "checker.suspects",
    "checker.tracing",
    "checker.metering",
    "checker.batch",
    "checker.web",
    "checker",
    "checker.commands",
    "checker.cli",
    "checker.__main__",
)
"""The stages of the checker: each may import from those above it, never from one below."""

OUTSIDE = {
    "grammar": (),
    "parts_library": ("grammar.quantities", "grammar.suggestions"),
    "checker.physics": (),
    "checker.markup": (),
    "checker.report": ("grammar.quantities", "checker.markup"),
    "checker.version": (),
    "checker.process": (),
    "checker.examples": (),
}
"""What these import of the project besides themselves: the reader and speller of quantities, the nearest spelling, or
nothing. Every other stage of the checker may import the grammar and the parts library."""

MAY_WAIT = ("checker", "checker.cli", "checker.report.terminal", "grammar.reader", "grammar.table")
"""Where, besides the commands, an import may stand inside a function: help waits for no library, a page without colour for
none that colours, and the parser is made when the first line is read."""

MOST_LINES = 500
LONG, TOO_LONG = 25, 60
MOST_TOO_LONG, LEAST_SHORT = 0.01, 0.90
DATA_SHARE = 0.05
"""A file counts as data where functions are less than this share of its code."""


# ── reading modules ───────────────────────────────────────────────────────────────────────────────────────────────


def name_of(path: Path) -> str:
    """The dotted name of a module file."""
    parts = path.relative_to(ROOT).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


FILES = {name_of(path): path for package in PACKAGES for path in sorted((ROOT / package).rglob("*.py"))}
TEXTS = {name: path.read_text(encoding="utf-8") for name, path in FILES.items()}
TEST_FILES = sorted((ROOT / "tests").rglob("*.py"))


def is_package(module: str) -> bool:
    return module in FILES and FILES[module].name == "__init__.py"


def imports(module: str, text: str) -> set[str]:
    """The modules of the project that a module's text imports, wherever in it."""
    found: set[str] = set()
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.Import):
            found.update(alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            base = base_of(module, node)
            names = {f"{base}.{alias.name}" for alias in node.names}
            modules = names & set(TEXTS)
            found |= modules | ({base} if names - modules else set())
    return {name for name in found if name.split(".")[0] in PACKAGES}


def base_of(module: str, node: ast.ImportFrom) -> str:
    """The module after ``from``, dots at its start resolved."""
    if not node.level:
        return node.module or ""
    up = module.split(".")[: None if is_package(module) else -1]
    up = up[: len(up) - (node.level - 1)]
    return ".".join([*up, node.module] if node.module else up)


def stage_of(module: str) -> str:
    """The stage of the checker that a module belongs to, or its package."""
    if module.split(".")[0] != "checker":
        return module.split(".")[0]
    return ".".join(module.split(".")[:2])


# ── imports go one way ────────────────────────────────────────────────────────────────────────────────────────────


def wrong_imports(module: str, text: str) -> list[str]:
    """What a module imports against the order of the stages."""
    stage = stage_of(module)
    return sorted(f"{module} imports {other}" for other in imports(module, text)
                  if stage_of(other) != stage and not may_import(stage, other))


def may_import(stage: str, other: str) -> bool:
    if stage in OUTSIDE:
        return other in OUTSIDE[stage]
    if other.split(".")[0] != "checker":
        return True
    return STAGES.index(stage_of(other)) < STAGES.index(stage)


@pytest.mark.parametrize("module", TEXTS)
def test_a_module_imports_only_from_stages_before_its_own(module: str) -> None:
    assert [] == wrong_imports(module, TEXTS[module])


def test_every_stage_in_the_order_exists_and_none_is_left_out() -> None:
    found = {stage_of(module) for module in TEXTS if module.split(".")[0] == "checker"}

    assert set(STAGES) == found


@pytest.mark.parametrize(
    ("module", "text", "complaint"),
    [
        ("grammar.points", "import checker.checking", "grammar.points imports checker.checking"),
        ("grammar.points", "from parts_library import loader", "grammar.points imports parts_library.loader"),
        ("parts_library.words", "from grammar import read", "parts_library.words imports grammar"),
        ("parts_library.words", "from grammar.reader import read", "parts_library.words imports grammar.reader"),
        ("checker.physics.newton", "from grammar import quantities", "checker.physics.newton imports grammar.quantities"),
        ("checker.physics.newton", "from ..bench import model", "checker.physics.newton imports checker.bench.model"),
        ("checker.report.terminal", "from checker.sentences import why_of",
         "checker.report.terminal imports checker.sentences"),
        ("checker.bench.model", "from checker.seating.seat import seat", "checker.bench.model imports checker.seating.seat"),
        ("checker.rules.base", "def find():\n    from checker import judge", "checker.rules.base imports checker.judge"),
        ("checker.survey", "import checker.explain as later", "checker.survey imports checker.explain"),
        ("checker.checking", "from checker import Report", "checker.checking imports checker"),
    ],
)
def test_an_import_against_the_order_is_found(module: str, text: str, complaint: str) -> None:
    assert [complaint] == wrong_imports(module, text)


def cycles(edges: set[tuple[str, str]]) -> list[list[str]]:
    """The modules that import one another in a ring."""
    rings = nx.strongly_connected_components(nx.DiGraph(edges))
    return sorted(sorted(ring) for ring in rings if len(ring) > 1)


def test_no_modules_import_one_another_in_a_ring() -> None:
    edges = {(module, other) for module, text in TEXTS.items() for other in imports(module, text) if other != module}

    assert [] == cycles(edges)
    assert [["a", "b"]] == cycles({("a", "b"), ("b", "a"), ("b", "c")})


def format_imports(module: str, text: str) -> list[str]:
    """What a report format imports besides the Report, its neighbours and the speller of quantities."""
    return sorted(other for other in imports(module, text)
                  if stage_of(other) != "checker.report" and other not in OUTSIDE["checker.report"])


@pytest.mark.parametrize("module", [module for module in TEXTS if stage_of(module) == "checker.report"])
def test_a_report_format_imports_nothing_but_the_report(module: str) -> None:
    assert [] == format_imports(module, TEXTS[module])
    assert ["checker.rules"] == format_imports(module, TEXTS[module] + "\nfrom checker.rules import RULES\n")


# ── imports stand at the top ──────────────────────────────────────────────────────────────────────────────────────


def late_imports(text: str) -> list[str]:
    """The imports inside functions."""
    functions = [node for node in ast.walk(ast.parse(text)) if isinstance(node, ast.FunctionDef)]
    inner = [node for function in functions for node in ast.walk(function)]
    return [ast.unparse(node) for node in inner if isinstance(node, ast.Import | ast.ImportFrom)]


@pytest.mark.parametrize("module", [module for module in TEXTS
                                    if module not in MAY_WAIT and stage_of(module) != "checker.commands"])
def test_imports_stand_at_the_top_of_a_module(module: str) -> None:
    assert [] == late_imports(TEXTS[module])
    assert ["import os"] == late_imports(TEXTS[module] + "\ndef late():\n    import os\n")


# ── faces of the packages ─────────────────────────────────────────────────────────────────────────────────────────


def offered(text: str) -> set[str]:
    """The public names that a module's top level imports or defines."""
    names: set[str] = set()
    for node in ast.parse(text).body:
        if isinstance(node, ast.Import | ast.ImportFrom) and getattr(node, "module", "") != "__future__":
            names.update(alias.asname or alias.name for alias in node.names)
        elif isinstance(node, ast.FunctionDef | ast.ClassDef):
            names.add(node.name)
    return {name for name in names if not name.startswith("_")}


def listed(text: str) -> list[str]:
    """What ``__all__`` says, or nothing where there is none."""
    for node in ast.parse(text).body:
        if isinstance(node, ast.Assign) and any(isinstance(t, ast.Name) and t.id == "__all__" for t in node.targets):
            return list(ast.literal_eval(node.value))
    return []


def as_sorted(name: str) -> tuple[int, str]:
    """CONSTANTS, then Classes, then functions, each by the alphabet (the order that ruff keeps, rule RUF022)."""
    return 0 if name.isupper() else 1 if name[:1].isupper() else 2, name


PACKAGE_MODULES = [module for module in TEXTS if is_package(module)]


@pytest.mark.parametrize("module", [module for module in TEXTS if listed(TEXTS[module])])
def test_what_a_module_lists_is_sorted_and_there(module: str) -> None:
    names = listed(TEXTS[module])

    assert sorted(names, key=as_sorted) == names
    assert len(set(names)) == len(names)
    assert [] == [name for name in names if not hasattr(import_module(module), name)]


@pytest.mark.parametrize("module", [module for module in PACKAGE_MODULES if offered(TEXTS[module])])
def test_a_package_that_offers_names_lists_them(module: str) -> None:
    assert listed(TEXTS[module])


def test_what_is_offered_and_listed_is_seen() -> None:
    assert {"shown", "made"} == offered("from a import b as shown, _c\ndef made(): ...\ndef _own(): ...\nx = 1\n")
    assert [] == listed("def made(): ...")
    assert ["b", "a"] == listed("__all__ = ['b', 'a']")
    assert ["A_B", "Ab", "ab"] == sorted(["ab", "A_B", "Ab"], key=as_sorted)


# ── the order of the rules ────────────────────────────────────────────────────────────────────────────────────────


def tuples_of_rules(text: str) -> list[int]:
    """The lengths of the literal tuples that hold nothing but ``something.RULE``."""
    tuples = [node.elts for node in ast.walk(ast.parse(text)) if isinstance(node, ast.Tuple)]
    return [len(items) for items in tuples
            if items and all(isinstance(item, ast.Attribute) and item.attr == "RULE" for item in items)]


def test_the_order_of_the_rules_is_one_literal_tuple() -> None:
    found = {module: tuples_of_rules(text) for module, text in TEXTS.items() if tuples_of_rules(text)}
    rule_files = [module for module, text in TEXTS.items() if "\nRULE = Rule(" in text]

    assert {"checker.rules.catalogue": [len(rule_files)]} == found
    assert [2, 1] == tuples_of_rules("A = (a.RULE, b.RULE)\nB = [(c.RULE,), (1, 2), c.RULE]")


# ── sizes ─────────────────────────────────────────────────────────────────────────────────────────────────────────

NO_CODE = {tokenize.COMMENT, tokenize.NL, tokenize.NEWLINE, tokenize.INDENT, tokenize.DEDENT, tokenize.ENDMARKER}


def code_lines(text: str) -> set[int]:
    """The numbers of the lines that are neither blank nor all comment nor docstring."""
    lines: set[int] = set()
    for token in tokenize.generate_tokens(io.StringIO(text).readline):
        if token.type not in NO_CODE:
            lines.update(range(token.start[0], token.end[0] + 1))
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant) and isinstance(node.value.value, str):
            lines.difference_update(range(node.lineno, (node.end_lineno or node.lineno) + 1))
    return lines


def function_sizes(text: str) -> Iterator[tuple[int, str]]:
    """Lines of code and name of each function; one inside another counts in both."""
    lines = code_lines(text)
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            yield len(lines & set(range(node.lineno, (node.end_lineno or node.lineno) + 1))), node.name


def is_data(text: str) -> bool:
    """True for a table or for bare declarations."""
    return sum(size for size, _ in function_sizes(text)) < DATA_SHARE * len(code_lines(text))


def too_long(text: str) -> bool:
    return len(text.splitlines()) > MOST_LINES and not is_data(text)


@pytest.mark.parametrize("path", [*FILES.values(), *TEST_FILES], ids=lambda path: str(path.relative_to(ROOT)))
def test_a_file_is_no_longer_than_500_lines_unless_it_is_data(path: Path) -> None:
    assert not too_long(path.read_text(encoding="utf-8"))


def test_a_long_file_with_code_in_it_is_found() -> None:
    assert too_long("def long():\n" + "    work()\n" * MOST_LINES)
    assert not too_long("def short():\n" + "    work()\n" * (MOST_LINES - 1))
    assert not too_long("TABLE = [\n" + "    'row',\n" * MOST_LINES + "]\n")


def shares(sizes: list[int]) -> tuple[float, float]:
    """Which share of functions has at most 25 lines of code, and which more than 60."""
    return sum(size <= LONG for size in sizes) / len(sizes), sum(size > TOO_LONG for size in sizes) / len(sizes)


def test_functions_are_short(capsys: pytest.CaptureFixture[str]) -> None:
    found = [(size, f"{module}.{name}") for module, text in TEXTS.items() for size, name in function_sizes(text)]
    short, long = shares([size for size, _ in found])
    longest = ", ".join(f"{name} {size}" for size, name in sorted(found, reverse=True)[:3])
    with capsys.disabled():
        print(f"\n{len(found)} functions: {short:.1%} have at most {LONG} lines of code, {long:.1%} more than {TOO_LONG}; "
              f"the longest: {longest}")

    assert short >= LEAST_SHORT
    assert long <= MOST_TOO_LONG


def test_the_lines_of_a_function_are_counted_without_blanks_comments_and_docstrings() -> None:
    text = 'def f():\n    """Says\n    what."""\n\n    # why\n    one = (\n        1)\n    return one\n'

    assert [(4, "f")] == list(function_sizes(text))
    assert (0.5, 0.25) == shares([1, 25, 26, 61])
