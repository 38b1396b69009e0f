"""What a shipped list says of itself: ``#: damage diode-reversed`` at the line of a finding, ``#: verdict …`` on the first.

Input: the text of a list. Output: the verdict and the findings it announces. ``#: no fix`` says that no fix can be
checked; a list with no ``#: verdict`` is to come out clear.
"""

from __future__ import annotations

import re

from msgspec import Struct

_SAID = re.compile(r"#: *(.*?) *(?=#:|$)")


class Announced(Struct, frozen=True):
    """``findings`` are (line, severity, rule), sorted; consequences are not among them."""

    verdict: str
    findings: tuple[tuple[int, str, str], ...]
    has_fix: bool


def announced(text: str) -> Announced:
    """What the list announces; ValueError for an announcement that has no meaning."""
    verdict, has_fix, findings = "clear", True, []
    for line, written in enumerate(text.splitlines(), start=1):
        for said in _SAID.findall(written):
            words = said.split()
            if said == "no fix":
                has_fix = False
            elif len(words) == 2 and words[0] == "verdict" and line == 1:
                verdict = words[1]
            elif len(words) == 2 and words[0] in ("danger", "damage", "fault", "look", "note"):
                findings.append((line, words[0], words[1]))
            else:
                raise ValueError(f"line {line}: '#: {said}' announces nothing")
    return Announced(verdict, tuple(sorted(findings)), has_fix)
