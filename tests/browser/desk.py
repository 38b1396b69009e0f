"""The page as somebody uses it: what can be done there, and what can be seen."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

from selenium.common.exceptions import StaleElementReferenceException
from selenium.webdriver import Chrome, Keys
from selenium.webdriver.common.by import By
from selenium.webdriver.remote.webelement import WebElement
from selenium.webdriver.support.wait import WebDriverWait

AXE = Path(__file__).with_name("axe.min.js").read_text(encoding="utf-8")
PATIENCE = 30
SERIOUS = ("serious", "critical")
_PASTE = """
const data = new DataTransfer(); data.setData('text/plain', arguments[0]);
document.querySelector('.cm-content').dispatchEvent(
  new ClipboardEvent('paste', {clipboardData: data, bubbles: true, cancelable: true}));
"""
_FAULTS = """
const done = arguments[arguments.length - 1];
axe.run(document, {resultTypes: ['violations']}).then(({violations}) => done(violations.map(
  (each) => [each.impact, `${each.id}: ${each.nodes.map((node) => node.html).join(' ').slice(0, 300)}`])));
"""


class Desk:
    """One page in a browser."""

    def __init__(self, browser: Chrome, address: str) -> None:
        self.browser = browser
        self.address = address

    def fresh(self, path: str = "/") -> None:
        """The page as on a first visit, wide and light."""
        self.screen(1400, 900)
        self.browser.get(self.address + "/static/icon.svg")
        self.browser.execute_script("sessionStorage.clear()")
        self.browser.get(self.address + path)
        self.until(lambda: self.browser.execute_script("return document.readyState") == "complete")
        self.browser.get_log("browser")

    def screen(self, width: int, height: int, *, dark: bool = False) -> None:
        """A screen of that size, light or dark."""
        self.browser.execute_cdp_cmd("Emulation.setDeviceMetricsOverride",
                                     {"width": width, "height": height, "deviceScaleFactor": 1, "mobile": False})
        scheme = {"name": "prefers-color-scheme", "value": "dark" if dark else "light"}
        self.browser.execute_cdp_cmd("Emulation.setEmulatedMedia", {"features": [scheme]})

    # ── doing ─────────────────────────────────────────────────────────────────────────────────────────────────────

    def paste(self, text: str) -> None:
        """Put the cursor into the list and paste."""
        self.find(".cm-content").click()
        self.browser.execute_script(_PASTE, text)

    def press(self, selector: str) -> None:
        """Press what is there, again where it was replaced just then."""
        def pressed() -> bool:
            try:
                self.find(selector).click()
            except StaleElementReferenceException:
                return False
            return True
        self.until(pressed)

    def keys(self, *keys: str) -> None:
        """Press keys wherever the focus is."""
        self.browser.switch_to.active_element.send_keys(*keys)

    def tab_to(self, selector: str, most: int = 60) -> None:
        """Go on with the tab key until the focus is there."""
        for _ in range(most):
            self.keys(Keys.TAB)
            if self.browser.execute_script("return document.activeElement.matches(arguments[0])", selector):
                return
        raise AssertionError(f"the tab key does not come to {selector}")

    # ── seeing ────────────────────────────────────────────────────────────────────────────────────────────────────

    def find(self, selector: str) -> WebElement:
        """The first of that kind, once it can be seen."""
        found: list[WebElement] = self.until(lambda: [each for each in self.all(selector) if each.is_displayed()])
        return found[0]

    def all(self, selector: str) -> list[WebElement]:
        return self.browser.find_elements(By.CSS_SELECTOR, selector)

    def text(self, selector: str) -> str:
        return str(self.find(selector).text)

    def until(self, seen: Callable[[], Any]) -> Any:
        """What is seen as soon as it is."""
        return WebDriverWait(self.browser, PATIENCE, poll_frequency=0.05).until(lambda _: seen())

    def verdict(self, expected: str) -> None:
        """Wait until the list is checked, and hold the verdict against what is expected."""
        self.until(lambda: self.find("#result").get_attribute("aria-busy") == "false" and self.text("#stamp") == expected)

    def list(self) -> str:
        """The list in the editor."""
        return str(self.browser.execute_script(
            "return [...document.querySelectorAll('.cm-line')].map((line) => line.textContent).join('\\n')"))

    def too_wide(self) -> int:
        """By how many pixels the page is wider than the screen."""
        return int(self.browser.execute_script(
            "const page = document.documentElement; return page.scrollWidth - page.clientWidth"))

    def faults(self) -> list[str]:
        """Serious faults of accessibility in what is shown just now."""
        self.browser.execute_script(AXE)
        return [words for impact, words in self.browser.execute_async_script(_FAULTS) if impact in SERIOUS]

    def complaints(self) -> list[str]:
        """What the browser itself complains of: refused styles and scripts, errors, what was not found."""
        return [entry["message"] for entry in self.browser.get_log("browser")]
