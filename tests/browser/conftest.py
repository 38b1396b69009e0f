"""A real browser before a real server. Both are started once; where there is no browser the tests fail and say so."""

from __future__ import annotations

import shutil
from collections.abc import Iterator

import pytest
from selenium.webdriver import Chrome, ChromeOptions
from selenium.webdriver.chrome.service import Service

from tests.browser.desk import Desk
from tests.web.running import running

FLAGS = ("--headless=new", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage", "--disable-background-networking",
         "--disable-component-update", "--disable-sync", "--no-first-run", "--disable-extensions", "--mute-audio")
MISSING = "{name} is not there, and these tests need it: apt-get install chromium chromium-driver"
ADDRESS = "127.0.0.1"


def installed(*names: str) -> str:
    """Where a program is. Fails the test where it is not."""
    found = next((path for name in names if (path := shutil.which(name))), None)
    if found is None:
        pytest.fail(MISSING.format(name=names[0]), pytrace=False)
    return found


@pytest.fixture(scope="session")
def browser() -> Iterator[Chrome]:
    """A browser that reaches nothing but this machine."""
    options = ChromeOptions()
    options.binary_location = installed("chromium", "chromium-browser")
    for flag in (*FLAGS, f"--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE {ADDRESS}"):
        options.add_argument(flag)
    options.set_capability("goog:loggingPrefs", {"browser": "ALL"})
    chrome = Chrome(options=options, service=Service(installed("chromedriver")))
    chrome.set_script_timeout(60)
    yield chrome
    chrome.quit()


@pytest.fixture(scope="session")
def address() -> Iterator[str]:
    with running("--workers", "2") as server:
        yield server.address


@pytest.fixture
def desk(browser: Chrome, address: str) -> Iterator[Desk]:
    """The page, empty, on a wide screen. Afterwards the browser must have had nothing to complain of."""
    desk = Desk(browser, address)
    desk.fresh()
    yield desk
    assert desk.complaints() == []
