"""``legwise completion SHELL``: the lines that teach a shell our commands and options.

Input: bash, zsh or fish. Output: a script, made from the same tables that the command line itself reads.
"""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from collections.abc import Iterator
from importlib import import_module

from checker.commands.shared import CLEAR, Misuse, nearest, write
from checker.commands.table import COMMANDS

SHELLS = {
    "bash": "put this into ~/.bashrc: eval \"$(legwise completion bash)\"",
    "zsh": "put this into ~/.zshrc: eval \"$(legwise completion zsh)\"",
    "fish": "legwise completion fish > ~/.config/fish/completions/legwise.fish",
}


def arguments(parser: ArgumentParser) -> None:
    """What the command takes."""
    parser.add_argument("shell", metavar="SHELL", help=", ".join(SHELLS))


def run(arguments: Namespace) -> int:
    """Print the script for one shell; the exit status."""
    wanted = arguments.shell.lower()
    if wanted not in SHELLS:
        raise Misuse(f"no script for the shell '{arguments.shell}'. {nearest(wanted, SHELLS)}")
    write("\n".join(_SCRIPTS[wanted]()) + "\n", for_machines=True)
    return CLEAR


def _commands() -> Iterator[tuple[str, str, list[tuple[str, str]]]]:
    """Each command, what it does, and its options with theirs."""
    for name, summary in COMMANDS.items():
        parser = ArgumentParser(prog=name)
        import_module(f"checker.commands.{name}").arguments(parser)
        options = [(option, action.help or "") for action in parser._actions for option in action.option_strings
                   if option.startswith("--")]
        yield name, summary, options


def _bash() -> Iterator[str]:
    yield f"# {SHELLS['bash']}"
    yield "_legwise() {"
    yield '    local word="${COMP_WORDS[COMP_CWORD]}" words'
    yield '    if [ "$COMP_CWORD" -eq 1 ]; then'
    yield f'        words="{" ".join(name for name, _, _ in _commands())}"'
    yield '    else case "${COMP_WORDS[1]}" in'
    for name, _, options in _commands():
        yield f'        {name}) words="{" ".join(option for option, _ in options)}";;'
    yield "    esac; fi"
    yield '    COMPREPLY=($(compgen -W "$words" -- "$word"))'
    yield '    [ "$COMP_CWORD" -eq 1 ] || COMPREPLY+=($(compgen -f -- "$word"))'
    yield "}"
    yield "complete -F _legwise -o filenames legwise"


def _zsh() -> Iterator[str]:
    yield f"# {SHELLS['zsh']}"
    yield "_legwise() {"
    yield "    local -a commands options"
    yield f"    commands=({' '.join(_quoted(f'{name}:{summary}') for name, summary, _ in _commands())})"
    yield "    if (( CURRENT == 2 )); then _describe command commands; return; fi"
    yield "    case $words[2] in"
    for name, _, options in _commands():
        yield f"        {name}) options=({' '.join(_quoted(f'{option}:{told}') for option, told in options)});;"
    yield "    esac"
    yield "    _describe option options; _files"
    yield "}"
    yield "compdef _legwise legwise"


def _fish() -> Iterator[str]:
    yield f"# {SHELLS['fish']}"
    for name, summary, options in _commands():
        yield f"complete -c legwise -f -n __fish_use_subcommand -a {name} -d {_quoted(summary)}"
        for option, told in options:
            yield f"complete -c legwise -n '__fish_seen_subcommand_from {name}' -l {option[2:]} -d {_quoted(told)}"


def _quoted(words: str) -> str:
    """A word for any of the shells, whatever is in it."""
    return "'" + words.replace("'", "’") + "'"


_SCRIPTS = {"bash": _bash, "zsh": _zsh, "fish": _fish}
