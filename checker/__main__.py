"""``python -m checker`` is ``legwise``: one command in a process of its own."""

from __future__ import annotations

import sys

from checker.cli import main
from checker.process import set_up, wind_up


def program() -> int:
    """Run the command of this process; its exit status."""
    set_up()
    try:
        return main()
    finally:
        wind_up()


if __name__ == "__main__":
    sys.exit(program())
