"""As much of W3C WebDriver (https://www.w3.org/TR/webdriver2/) as a hand needs, over plain HTTP."""

from __future__ import annotations

import json
from http.client import HTTPConnection
from typing import Any

# Section 17.4.2 of the standard, "Keyboard actions".
KEYS = {"Tab": "\ue004", "Enter": "\ue007", "Space": " "}
ANSWER_S = 20


class RefusedError(Exception):
    """The driver answered with an error of the standard's."""


class Session:
    """One browser with nothing kept from before; close() ends it and all that it kept."""

    def __init__(self, port: int) -> None:
        self._connection = HTTPConnection("127.0.0.1", port, timeout=ANSWER_S)
        self._path = "/session"
        # The driver's own way of waiting for a page has hung; and with sound in it, it takes 3 s.
        wanted = {"alwaysMatch": {"pageLoadStrategy": "none"}}
        begun = self.ask("POST", "", {"capabilities": wanted})
        self._path += f"/{begun['sessionId']}"

    def ask(self, method: str, path: str, body: dict[str, Any] | None = None) -> Any:
        """The value of an answer."""
        text = None if body is None else json.dumps(body)
        self._connection.request(method, self._path + path, text)
        answer = self._connection.getresponse()
        value = json.loads(answer.read())["value"]
        if answer.status != 200:
            raise RefusedError(f"{method} {path}: {value['error']}: {value['message']}")
        return value

    def open(self, address: str) -> None:
        """Go to a page; not waited for."""
        self.ask("POST", "/url", {"url": address})

    def js(self, script: str, *arguments: object) -> Any:
        """What the body of a function returns."""
        return self.ask("POST", "/execute/sync", {"script": script, "args": arguments})

    def resize(self, width: int, height: int) -> None:
        """The whole window, with the browser's own bars."""
        self.ask("POST", "/window/rect", {"width": width, "height": height})

    def point(self, x: float, y: float) -> None:
        """Press and let go; a finger where the browser knows any."""
        self._act(
            {
                "type": "pointer",
                "id": "finger",
                "parameters": {"pointerType": "touch"},
                "actions": [
                    {"type": "pointerMove", "x": round(x), "y": round(y), "duration": 0},
                    {"type": "pointerDown", "button": 0},
                    {"type": "pointerUp", "button": 0},
                ],
            }
        )

    def press(self, key: str) -> None:
        """One key of KEYS, down and up."""
        value = KEYS[key]
        strokes = [{"type": "keyDown", "value": value}, {"type": "keyUp", "value": value}]
        self._act({"type": "key", "id": "keys", "actions": strokes})

    def bar(self) -> int:
        """How much of the window's height is not the page's."""
        outer: int = self.ask("GET", "/window/rect")["height"]
        return outer - int(self.js("return innerHeight"))

    def another_window(self) -> None:
        """From here on a new window, and the old one is gone; what it kept is there."""
        handle = self.ask("POST", "/window/new", {"type": "window"})["handle"]
        self.ask("DELETE", "/window")
        self.ask("POST", "/window", {"handle": handle})

    def close(self) -> None:
        """End the browser."""
        self.ask("DELETE", "")
        self._connection.close()

    def _act(self, source: dict[str, Any]) -> None:
        self.ask("POST", "/actions", {"actions": [source]})
