"""How a process of the checker is set up, before any library is loaded. Input and output: none; the process is changed.

Imports nothing but the standard library, so that it can come first.
"""

from __future__ import annotations

import gc
import os

ONE_THREAD = dict.fromkeys(("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS", "VECLIB_MAXIMUM_THREADS"), "1")
"""What the usual libraries of linear algebra read when they are loaded. Circuits are small systems, many at once: a second
thread finds nothing to do and costs a tenth of a cold start, and of several processes each would stand in the others' way."""

_NEW_OBJECTS = 200_000
"""Python looks for rubbish after so many new objects. Some 100,000 come with the libraries and the parts, and stay; Python's
own 700 would have them all searched again and again, for a fifth of a cold start."""


def set_up() -> None:
    """For a process that runs one command. What the environment says of threads is left as it is."""
    gc.set_threshold(_NEW_OBJECTS)
    for name, value in ONE_THREAD.items():
        os.environ.setdefault(name, value)


def wind_up() -> None:
    """Before the end: what is still there goes with the process, and need not be searched for rubbish first."""
    gc.freeze()
