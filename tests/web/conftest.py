"""One server for all tests that only ask it something."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from tests.web.running import Running, running


@pytest.fixture(scope="session")
def server() -> Iterator[Running]:
    """A server with its usual limits and two workers."""
    with running("--workers", "2") as found:
        yield found
