"""A coverage-guided fuzzer of the reader: ``python -m tests.fuzz.reader [-runs=1000000] [FOLDER…]``.

Needs atheris (libFuzzer for Python), which is no dependency of the tests; its own options are libFuzzer's. Every input is read,
printed, and laid out: none may raise, every problem must have a line of the text and a reason, and laying out must lose nothing.
"""

from __future__ import annotations

import sys


def main() -> None:
    """Fuzz until libFuzzer ends."""
    import atheris

    with atheris.instrument_imports(include=["grammar"]):
        from tests.fuzz.held import held
    atheris.Setup(sys.argv, held)
    atheris.Fuzz()


if __name__ == "__main__":
    main()
