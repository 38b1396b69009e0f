"""legwise: what a breadboard wired like this would do, before power is applied."""

from __future__ import annotations

from checker.check import check
from checker.report.model import Report
from checker.version import VERSION

__all__ = ["VERSION", "Report", "check"]
