"""The documents are true: what they show is run and compared, what they count is counted, what they point at exists.

Fenced blocks of README.md and DEVELOPERS.md, by the words after the fence:

- ``console``, ``console 1``: each line ``$ command`` is run, what stands below it is what it prints. The number is the
  exit status of the block's last command, 0 where none is given.
- ``console ci``: the same, but the command needs a network or minutes. Here only its steps that call legwise are run;
  ``.ci/run`` runs it whole.
- ``legs NAME``, ``toml NAME``: a file, which all commands of the document find in their folder.
- ``pycon``: Python with what it answers, all blocks of a document in one session (doctest; ``...`` leaves out).

Words are compared, not blanks and line ends; a line ``…`` stands for any lines. Sentences with counts are in
``COUNTED``. ``python -m tests.test_documents`` writes outputs without ``…`` and counts anew.
"""

from __future__ import annotations

import doctest
import os
import re
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import NamedTuple

import pytest

from checker import VERSION, rules
from checker.cli import COMMANDS
from checker.examples import names
from checker.report import FORMATS
from parts_library import load_library
from parts_library.schema import SupplyKind

ROOT = Path(__file__).parents[1]
DOCUMENTS = ("README.md", "DEVELOPERS.md")
TEXTS = {name: (ROOT / name).read_text(encoding="utf-8") for name in DOCUMENTS}
FENCE = re.compile(r"^```(?P<kind>\w+)(?P<words>[^\n]*)\n(?P<body>.*?)^```$", re.DOTALL | re.MULTILINE)
PROMPT = "$ "
LEFT_OUT = "…"


class Block(NamedTuple):
    """One fenced block: the word after the fence, the words after that, its text."""

    kind: str
    words: tuple[str, ...]
    body: str

    @property
    def status(self) -> int:
        return next((int(word) for word in self.words if word.isdigit()), 0)

    @property
    def is_for_ci(self) -> bool:
        return "ci" in self.words


class Command(NamedTuple):
    """A command as typed, and the text that it is said to print."""

    typed: str
    prints: str


def blocks(document: str) -> list[Block]:
    found = FENCE.finditer(TEXTS[document])
    return [Block(each["kind"], tuple(each["words"].split()), each["body"]) for each in found]


def commands(block: Block) -> list[Command]:
    """The commands of a console block in their order; one may go on over lines inside quotes."""
    found: list[Command] = []
    typed, printed = "", list[str]()
    for line in block.body.splitlines():
        if line.startswith(PROMPT):
            if typed:
                found.append(Command(typed, "\n".join(printed)))
            typed, printed = line.removeprefix(PROMPT), []
        elif typed.count("'") % 2:
            typed += "\n" + line
        else:
            printed.append(line)
    return [*found, Command(typed, "\n".join(printed))] if typed else found


def runnable(block: Block, command: Command) -> str:
    """What of a command can be run in a test: of one for CI the steps that call legwise."""
    steps = command.typed.split(" && ")
    return " && ".join(step for step in steps if not block.is_for_ci or step.startswith(".venv/bin/legwise"))


def is_like(said: str, printed: str) -> bool:
    """True where the words are the same, with ``…`` for any."""
    pieces = [" ".join(piece.split()) for piece in re.split(rf"^\s*{LEFT_OUT}\s*$", said, flags=re.MULTILINE)]
    pattern = r"\s?.*?\s?".join(map(re.escape, pieces))
    return re.fullmatch(pattern, " ".join(printed.split()), re.DOTALL) is not None


@pytest.mark.parametrize(
    ("said", "printed", "like"),
    [
        ("a b\nc", "a  b c\n\n", True),
        ("a\n…\nc", "a\nb\nb\nc\n", True),
        ("a\n…", "a\nb", True),
        ("…\nc", "a\nc", True),
        ("a\n…\nc", "a c", True),
        ("a\n…\nc", "a b", False),
        ("a", "a b", False),
        ("a b", "a", False),
        ("a … c", "a b c", False),
        ("1.5 A", "1x5 A", False),
        ("", "a", False),
    ],
)
def test_words_are_compared_and_a_line_of_dots_stands_for_any_lines(said: str, printed: str, like: bool) -> None:
    assert like == is_like(said, printed)


# ── commands ──────────────────────────────────────────────────────────────────────────────────────────────────────


def furnish(folder: Path, document: str) -> None:
    """Put the files of a document into a folder, and a ``.venv/bin`` that runs this very source."""
    for block in blocks(document):
        if block.kind in ("legs", "toml") and block.words:
            (folder / block.words[0]).write_text(block.body, encoding="utf-8")
    scripts = folder / ".venv" / "bin"
    scripts.mkdir(parents=True)
    for name, call in {"legwise": "-m checker", "python": ""}.items():
        script = scripts / name
        script.write_text(f'#!/bin/sh\nexec "{sys.executable}" {call} "$@"\n', encoding="utf-8")
        script.chmod(0o755)


def run(folder: Path, command: str) -> subprocess.CompletedProcess[str]:
    """Run a command line as a person would, with legwise on the path; complaints stand with the output."""
    path = f"{folder / '.venv' / 'bin'}:{os.defpath}:/usr/bin:/bin"
    return subprocess.run(["sh", "-c", command], cwd=folder, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, encoding="utf-8",
                          check=False, env={"PATH": path, "PYTHONPATH": str(ROOT), "PYTHONUTF8": "1"})


CONSOLE = [pytest.param(document, block, id=f"{document}-{commands(block)[0].typed[:40]}")
           for document in DOCUMENTS for block in blocks(document)
           if block.kind == "console" and any(runnable(block, command) for command in commands(block))]


@pytest.mark.parametrize(("document", "block"), CONSOLE)
def test_a_command_prints_what_the_document_shows(document: str, block: Block, tmp_path: Path) -> None:
    furnish(tmp_path, document)
    for command in commands(block):
        done = run(tmp_path, runnable(block, command))
        if not is_like(command.prints, done.stdout):
            assert command.prints == done.stdout  # shows both

    assert done.returncode == block.status


def test_every_console_block_has_a_command_and_every_file_a_name_of_its_own() -> None:
    for document in DOCUMENTS:
        files = [block.words[0] for block in blocks(document) if block.kind in ("legs", "toml") and block.words]

        assert len(set(files)) == len(files)
        assert all(commands(block) for block in blocks(document) if block.kind == "console")


def test_the_set_up_is_two_commands_which_ci_takes_from_the_readme() -> None:
    """First the report of a list, then the tests; nothing else in the documents needs a network."""
    first, second = [command.typed for block in blocks("README.md") if block.is_for_ci for command in commands(block)]
    script = (ROOT / ".ci" / "run").read_text(encoding="utf-8")

    assert ("python3 -m venv .venv", ".venv/bin/pytest") == (first.split(" && ")[0], second.split(" && ")[-1])
    assert "README.md" in script and "pytest ." not in script and ".[test]" not in script
    assert os.access(ROOT / ".ci" / "run", os.X_OK)
    assert not [block for block in blocks("DEVELOPERS.md") if block.is_for_ci]


# ── Python ────────────────────────────────────────────────────────────────────────────────────────────────────────


@pytest.mark.parametrize("document", [name for name in DOCUMENTS if any(block.kind == "pycon" for block in blocks(name))])
def test_python_answers_what_the_document_shows(document: str) -> None:
    session = "".join(block.body for block in blocks(document) if block.kind == "pycon")
    test = doctest.DocTestParser().get_doctest(session, {}, document, document, 0)
    complaints: list[str] = []
    runner = doctest.DocTestRunner(optionflags=doctest.NORMALIZE_WHITESPACE | doctest.ELLIPSIS, verbose=False)
    runner.run(test, out=complaints.append, clear_globs=False)

    assert "" == "".join(complaints)
    assert test.examples


# ── counts ────────────────────────────────────────────────────────────────────────────────────────────────────────


def parts_counted() -> tuple[int, ...]:
    """Parts and supplies, of these supplies, packages."""
    library = load_library()
    supplies = sum(isinstance(entry, SupplyKind) for entry in library.entries.values())
    return len(library.entries), supplies, len(library.packages)


def facts_counted() -> tuple[int, ...]:
    """Facts that a source names, different documents, facts from memory; a fact is what ``sources`` and ``from_memory``
    name: ``pins``, ``ratings``, ``model`` or one field."""
    library = load_library()
    entries = [*library.entries.values(), *library.packages.values()]
    sourced = [{fact for source in entry.sources for fact in source.facts} for entry in entries]
    documents = {(source.maker, source.title, source.revision) for entry in entries for source in entry.sources}
    memory = [set(entry.from_memory) - known for entry, known in zip(entries, sourced, strict=True)]
    return sum(map(len, sourced)), len(documents), sum(map(len, memory))


def rules_counted() -> tuple[int, ...]:
    return len(rules.RULES), len({rule.family for rule in rules.RULES})


COUNTED: dict[str, Callable[[], tuple[int, ...]]] = {
    "It knows {} parts and supplies ({} of them supplies) in {} packages.": parts_counted,
    "{} facts about them are from {} named documents (title, maker and, where known, revision); {} are from memory":
        facts_counted,
    "It has {} rules in {} families": rules_counted,
    "{} lists ship with it": lambda: (len(names()),),
}
"""Sentences of the README with what they count."""


def counts_in(sentence: str, text: str) -> Iterator[re.Match[str]]:
    """Where a sentence stands in a text, its numbers as groups."""
    pieces = [r"\s+".join(map(re.escape, piece.split(" "))) for piece in sentence.split("{}")]
    return re.finditer(r"(\d+)".join(pieces), text)


@pytest.mark.parametrize("sentence", COUNTED)
def test_a_count_in_the_readme_is_what_is_counted(sentence: str) -> None:
    said = [tuple(map(int, found.groups())) for found in counts_in(sentence, TEXTS["README.md"])]

    assert [COUNTED[sentence]()] == said


# ── what is pointed at ────────────────────────────────────────────────────────────────────────────────────────────


LINK = re.compile(r"\]\(([^)#:]+)[^)]*\)")
PATH = re.compile(r"`((?:grammar|parts_library|checker|tests|\.ci)/[\w./-]*)`")


@pytest.mark.parametrize("document", DOCUMENTS)
def test_every_file_that_is_named_exists(document: str) -> None:
    text = TEXTS[document]
    named = [*LINK.findall(text), *PATH.findall(text)]

    assert [] == [name for name in named if not (ROOT / name).exists()]
    assert named


def test_every_command_and_format_is_in_the_readme() -> None:
    text = TEXTS["README.md"]

    assert [] == [name for name in COMMANDS if f"legwise {name}" not in text]
    assert [] == [name for name in FORMATS if name not in text]


def test_the_map_of_the_code_names_every_stage() -> None:
    """Every file and folder directly below checker/ has its place in DEVELOPERS.md."""
    places = [path for path in sorted((ROOT / "checker").iterdir()) if not path.name.startswith(("_", "."))]
    named = set(PATH.findall(TEXTS["DEVELOPERS.md"]))
    said = {f"checker/{path.name}{'/' if path.is_dir() else ''}" for path in places if path.suffix in ("", ".py")}

    assert said <= named


def test_the_map_of_the_tests_names_every_folder() -> None:
    folders = [f"tests/{path.name}/" for path in sorted((ROOT / "tests").iterdir()) if (path / "__init__.py").exists()]

    assert [] == [folder for folder in folders if f"`{folder}`" not in TEXTS["DEVELOPERS.md"]]


def test_the_newest_entry_of_the_changelog_is_this_version() -> None:
    headings = re.findall(r"^## (\S+)", (ROOT / "CHANGELOG.md").read_text(encoding="utf-8"), re.MULTILINE)

    assert VERSION == headings[0]


# ── writing anew ──────────────────────────────────────────────────────────────────────────────────────────────────


def rewritten(document: str, folder: Path) -> str:
    """The document with outputs and counts as they are now; outputs with ``…`` stay as they are."""
    text = TEXTS[document]
    for block in blocks(document):
        for command in commands(block) if block.kind == "console" else ():
            typed = runnable(block, command)
            printed = run(folder, typed).stdout.rstrip("\n") if typed else command.prints
            if command.prints and not is_like(command.prints, printed) and LEFT_OUT not in command.prints:
                text = text.replace(command.prints, printed)
    for sentence, count in COUNTED.items():
        for found in counts_in(sentence, text):
            pieces = re.split(r"\d+", found.group())
            numbers = [*map(str, count()), ""]
            text = text.replace(found.group(), "".join(a + b for a, b in zip(pieces, numbers, strict=True)))
    return text


if __name__ == "__main__":
    from tempfile import TemporaryDirectory

    for each in DOCUMENTS:
        with TemporaryDirectory() as place:
            furnish(Path(place), each)
            (ROOT / each).write_text(rewritten(each, Path(place)), encoding="utf-8")
