"""The report as JSON: one object a list, an array where several lists were asked for.

Input: reports. Output: UTF-8 text, indented, keys in the order of the contract (DESIGN.md section 3) and every
key always there. The list's own text is left out. A number that is not finite, which JSON cannot write, is
null.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import msgspec

from checker.report.model import Report
from checker.report.page import Page

_LEFT_OUT = frozenset({"lines"})


def render(reports: Sequence[Report], page: Page) -> str:
    """One object for one list, an array (also of none) where ``page.several``; no text for no list at all."""
    objects = [as_object(report) for report in reports]
    if not objects and not page.several:
        return ""
    encoded = msgspec.json.encode(objects if page.several else objects[0])
    return msgspec.json.format(encoded, indent=2).decode("utf-8") + "\n"


def as_object(report: Report) -> dict[str, Any]:
    """The top level of the contract; the structs in it are encoded field by field, in the order of the model."""
    return {name: getattr(report, name) for name in report.__struct_fields__ if name not in _LEFT_OUT}
