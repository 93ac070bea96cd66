"""One hand for both engines: what a family does to a tablet, and what is seen there."""

from __future__ import annotations

import time
from collections.abc import Callable
from contextlib import suppress
from typing import Any, Protocol

from playwright.sync_api import Browser, Error, Page

from tests.browser.engines.webdriver import RefusedError, Session

PATIENCE_S = 8
BROKEN_OFF = ("ERR_ABORTED", "interrupted by another navigation")  # as Playwright tells of a way


def wait(true: Callable[[], bool], for_what: str) -> None:
    """Look again and again until it is true."""
    give_up = time.monotonic() + PATIENCE_S
    while not true():
        assert time.monotonic() < give_up, for_what
        time.sleep(0.01)


class Device(Protocol):
    """A browser with nothing kept from before. Sizes are those of the page, in CSS pixels."""

    finger: str  # the pointer type that the engine makes of a finger
    tapped: tuple[str, float, float, float]  # last: the button's key, where, and when in seconds

    def open(self, address: str) -> None:
        """Go to a page."""

    def js(self, script: str, *arguments: object) -> Any:
        """What the body of a function returns."""

    def resize(self, width: int, height: int) -> None:
        """So much of the page is to be seen."""

    def touch(self, x: float, y: float) -> None:
        """A finger comes and goes."""

    def press(self, key: str) -> None:
        """Tab, Enter or Space."""

    def kill(self) -> None:
        """The process that runs the page dies at once; a new page stands there."""

    def close(self) -> None:
        """The end, of all that is kept too."""


class Chromium:
    """Debian's Chromium through Playwright."""

    finger, tapped = "touch", ("", 0.0, 0.0, 0.0)

    def __init__(self, browser: Browser) -> None:
        self._context = browser.new_context(has_touch=True)
        self._page: Page = self._context.new_page()

    def open(self, address: str) -> None:
        try:
            self._page.goto(address, wait_until="load")
        except Error as gone:  # the page before was just being loaded anew
            if not any(told in str(gone) for told in BROKEN_OFF):
                raise
            self._page.wait_for_load_state()
            self._page.goto(address, wait_until="load")

    def js(self, script: str, *arguments: object) -> Any:
        body = f"all => (function () {{ {script} }})(...all)"
        try:
            return self._page.evaluate(body, list(arguments))
        except Error as gone:  # a link led away meanwhile
            if "context was destroyed" not in str(gone):
                raise
            self._page.wait_for_load_state()
            return self._page.evaluate(body, list(arguments))

    def resize(self, width: int, height: int) -> None:
        self._page.set_viewport_size({"width": width, "height": height})

    def touch(self, x: float, y: float) -> None:
        self._page.touchscreen.tap(x, y)

    def press(self, key: str) -> None:
        self._page.keyboard.press(key)

    def kill(self) -> None:
        with self._page.expect_event("crash"), suppress(Error):
            self._page.goto("chrome://crash")
        self._page = self._context.new_page()

    def close(self) -> None:
        self._context.close()


class WebKit:
    """WebKitGTK through its own driver."""

    finger, tapped = "mouse", ("", 0.0, 0.0, 0.0)  # on GTK the driver has no other finger

    def __init__(self, port: int) -> None:
        self._session = Session(port)
        self.press, self.touch = self._session.press, self._session.point

    def js(self, script: str, *arguments: object) -> Any:
        try:
            return self._session.js(script, *arguments)
        except RefusedError as gone:  # a link led away meanwhile
            if "no such frame" not in str(gone):
                raise
            return self._session.js(script, *arguments)

    def open(self, address: str) -> None:
        self.js("window.left = true")
        self._session.open(address)
        come = "return !window.left && document.readyState !== 'loading'"
        wait(lambda: bool(self.js(come)), address)

    def resize(self, width: int, height: int) -> None:
        self._session.resize(width, height + self._session.bar())
        seen = "return innerWidth === arguments[0] && innerHeight === arguments[1]"
        wait(lambda: bool(self.js(seen, width, height)), f"{width}x{height}")

    def kill(self) -> None:
        # The driver ends a session whose page has crashed, and with it what was kept.
        self._session.another_window()

    def close(self) -> None:
        self._session.close()
