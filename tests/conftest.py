"""What holds for all tests: Ctrl-C reaches the programs that they start, also where a shell in the background ignores it; drawn
examples are the same in every run, and none is ended for being slow."""

from __future__ import annotations

import signal

from hypothesis import settings

if signal.getsignal(signal.SIGINT) is signal.SIG_IGN:
    signal.signal(signal.SIGINT, signal.default_int_handler)

settings.register_profile("alike", deadline=None, derandomize=True, database=None)
settings.load_profile("alike")
