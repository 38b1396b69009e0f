"""The style sheet of every page that legwise writes: ``report.css`` beside this file."""

from __future__ import annotations

from importlib.resources import files


def stylesheet() -> str:
    """The CSS as text; its head names the classes. It fetches nothing and holds no ``</``."""
    return files("checker.report").joinpath("report.css").read_text(encoding="utf-8")
