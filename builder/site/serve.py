"""Shows published sites on this machine alone and builds them again when a file is saved."""

from __future__ import annotations

import functools
import threading
import time
from collections.abc import Callable
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

LOOPBACK = "127.0.0.1"


class _Quiet(SimpleHTTPRequestHandler):
    """Files of one folder, nothing kept by the browser, not a line printed."""

    def end_headers(self) -> None:
        """Ask the browser to look anew each time."""
        self.send_header("Cache-Control", "no-cache")
        super().end_headers()

    def log_message(self, format: str, *args: object) -> None:
        """Say nothing."""


def server(folder: Path, port: int) -> ThreadingHTTPServer:
    """A server over `folder` on loopback; port 0 takes a free one. Raises OSError."""
    handler = functools.partial(_Quiet, directory=str(folder))
    return ThreadingHTTPServer((LOOPBACK, port), handler)


def watch(
    state: Callable[[], object],
    changed: Callable[[], None],
    stop: threading.Event,
    every: float = 0.5,
) -> None:
    """Call `changed` whenever `state()` differs from what it was, until `stop` is set.

    every: seconds between two looks.
    """
    known = state()
    while not stop.wait(every):
        now = state()
        if now != known:
            time.sleep(0.1)  # an editor may still be writing
            known = state()
            changed()
