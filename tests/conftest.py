"""What holds for all tests: Ctrl-C reaches the programs that they start, also where a shell in the background ignores it."""

from __future__ import annotations

import signal

if signal.getsignal(signal.SIGINT) is signal.SIG_IGN:
    signal.signal(signal.SIGINT, signal.default_int_handler)
