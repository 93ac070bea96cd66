"""Shows published sites on this machine alone and builds them again when a file is saved."""

from __future__ import annotations

import functools
import io
import os
import re
import threading
import time
from collections.abc import Callable
from http import HTTPStatus
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import BinaryIO
from urllib.parse import unquote, urlsplit

from builder.model.record import SLUG

LOOPBACK = "127.0.0.1"
MICROPHONE_FILE = "assets/js/microphone.js"  # there where a program asks for it


class _Request(SimpleHTTPRequestHandler):
    """Files of one folder, for who asks by the printed address; nothing kept by the browser, not a
    line printed."""

    server: ThreadingHTTPServer

    def send_head(self) -> io.BytesIO | BinaryIO | None:
        """Open what is asked for; refuse a foreign name that leads to this machine, and links."""
        if self.headers.get_all("Host") not in [[host] for host in _hosts(self.server.server_port)]:
            self.send_error(HTTPStatus.MISDIRECTED_REQUEST)
            return None
        asked = Path(self.translate_path(self.path))
        if any(_is_elsewhere(file, Path(self.directory)) for file in (asked, asked / "index.html")):
            self.send_error(HTTPStatus.NOT_FOUND)
            return None
        return super().send_head()

    def list_directory(self, path: str | os.PathLike[str]) -> None:
        """List no folder: the addresses of sites are not to be found by looking."""
        self.send_error(HTTPStatus.NOT_FOUND)

    def end_headers(self) -> None:
        """Ask the browser to look anew each time; a microphone is for sites that use one."""
        self.send_header("Cache-Control", "no-cache")
        self.send_header("Permissions-Policy", f"microphone={self._microphone()}")
        super().end_headers()

    def _microphone(self) -> str:
        """Who may use it, in the words of the W3C's Permissions Policy."""
        name = unquote(urlsplit(self.path).path).lstrip("/").partition("/")[0]
        folder = Path(self.directory)
        site = folder / name if re.fullmatch(SLUG, name) else folder
        return "(self)" if (site / MICROPHONE_FILE).is_file() else "()"

    def log_message(self, format: str, *args: object) -> None:
        """Say nothing."""


def _hosts(port: int) -> tuple[str, ...]:
    return tuple(name if port == 80 else f"{name}:{port}" for name in (LOOPBACK, "localhost"))


def _is_elsewhere(file: Path, folder: Path) -> bool:
    """Whether the way from `folder` to `file` goes over a link, or no file can have this name."""
    try:
        way = [file, *file.parents]
        links = any(part.is_symlink() for part in way[: way.index(folder)])
        return links or not file.resolve().is_relative_to(folder)
    except (OSError, ValueError):
        return True


def server(folder: Path, port: int) -> ThreadingHTTPServer:
    """A server over `folder` on loopback; port 0 takes a free one. Raises OSError."""
    handler = functools.partial(_Request, directory=str(folder.resolve()))
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
