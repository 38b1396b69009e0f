"""The lists that ship with legwise: ``NAME.legs`` is one that works, ``NAME-something.legs`` a faulty sister of it.

Input: a name. Output: its text, or its title line.
"""

from __future__ import annotations

import re
from importlib.resources import files

__all__ = ["names", "text_of", "title_of"]

_TITLE = re.compile(r'^\s*title\s+"([^"\n]*)"', re.IGNORECASE | re.MULTILINE)
_ENDING = ".legs"


def names() -> list[str]:
    """All names, each followed by its faulty sisters."""
    found = (each.name for each in files(__name__).iterdir() if each.name.endswith(_ENDING))
    return sorted(name.removesuffix(_ENDING) for name in found)


def text_of(name: str) -> str:
    """The text of one of ``names()``; FileNotFoundError for any other."""
    return files(__name__).joinpath(name + _ENDING).read_text(encoding="utf-8")


def title_of(name: str) -> str:
    """What its title line says, else nothing."""
    found = _TITLE.search(text_of(name))
    return found.group(1) if found else ""
