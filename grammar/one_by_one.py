"""The lexer of the parser that is made ahead of time: it tries the terminals of a place one by one.

lark's own joins them to one pattern for every place of the grammar, so that a terminal is compiled once for each place where
it may stand, and with it all that come after the one that fits: most of a cold start. Here a terminal is compiled when it is
first tried, once a process. What is found is the same: the alternatives of a pattern are tried in order, and the first wins.
Input and output are those of lark's contextual lexer.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import cache, cached_property
from typing import Any, cast

from lark.lexer import BasicLexer, ContextualLexer, Scanner, TerminalDef


class _Tried:
    """One terminal, used as lark uses a compiled pattern: the name of the group is what was found."""

    def __init__(self, terminal: TerminalDef, flags: int) -> None:
        self._pattern, self._flags = f"(?P<{terminal.name}>{terminal.pattern.to_regexp()})", flags

    @cached_property
    def match(self) -> Callable[..., re.Match[str] | None]:
        """The match of the compiled pattern, compiled when it is first asked for."""
        return _compiled(self._pattern, self._flags).match


@cache
def _compiled(pattern: str, flags: int) -> re.Pattern[str]:
    return re.compile(pattern, flags)


class _OneByOne(Scanner):
    def _build_mres(self, terminals: Any, max_size: int) -> Any:
        return [_Tried(terminal, self.g_regex_flags) for terminal in terminals]


class _PlaceLexer(BasicLexer):
    def _build_scanner(self) -> Scanner:
        # What lark settles here, words that are spelled out inside wider terminals, ``legs.lark`` has none of.
        self.callback = dict(self.user_callbacks)
        scanner: type[Any] = _OneByOne
        return cast("Scanner", scanner(self.terminals, self.g_regex_flags, self.re, self.use_bytes))


class Lexer(ContextualLexer):
    """For lark's option ``_plugins``, as ``ContextualLexer``. Every terminal of the grammar has to be a pattern."""

    BasicLexer = _PlaceLexer
