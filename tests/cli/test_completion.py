"""The scripts for shells name every command and its options, and bash completes with its own."""

from __future__ import annotations

import subprocess

import pytest

from checker.cli import COMMANDS, main


def script(shell: str, capsys: pytest.CaptureFixture[str]) -> str:
    assert 0 == main(["completion", shell])
    return capsys.readouterr().out


@pytest.mark.parametrize("shell", ["bash", "zsh", "fish"])
def test_every_command_is_in_every_script(shell: str, capsys: pytest.CaptureFixture[str]) -> None:
    said = script(shell, capsys)

    assert [] == [name for name in COMMANDS if name not in said]
    assert "parts" in said and ("--parts" in said or "-l parts" in said)


@pytest.mark.parametrize(
    ("typed", "offered"),
    [(["legwise", "ch"], "check"), (["legwise", "tidy", "--a"], "--ask"), (["legwise", "check", "--me"], "--mend")],
)
def test_bash_completes_what_is_begun(typed: list[str], offered: str, capsys: pytest.CaptureFixture[str]) -> None:
    words = " ".join(f"'{word}'" for word in typed)
    lines = f"{script('bash', capsys)}\nCOMP_WORDS=({words}); COMP_CWORD={len(typed) - 1}; _legwise; echo \"${{COMPREPLY[@]}}\""

    said = subprocess.run(["bash", "-c", lines], capture_output=True, text=True, check=True).stdout

    assert offered == said.split()[0]


def test_an_unknown_shell_is_told_the_nearest(capsys: pytest.CaptureFixture[str]) -> None:
    assert 2 == main(["completion", "bsh"])
    assert "bash" in capsys.readouterr().err
