"""legwise: what a breadboard wired like this would do, before power is applied.

``check(text)`` gives the Report. What it needs is imported when it is first asked for, so that ``legwise --help`` waits for
no library.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from checker.version import VERSION

if TYPE_CHECKING:
    from checker.checking import check
    from checker.report.model import Report

__all__ = ["VERSION", "Report", "check"]


def __getattr__(name: str) -> Any:
    if name == "check":
        from checker.checking import check

        return check
    if name == "Report":
        from checker.report.model import Report

        return Report
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
