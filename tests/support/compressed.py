"""Files served as a web host serves them: text with gzip, which every host has (Brotli would be a
tenth less), kept for ten minutes, connections kept open."""

from __future__ import annotations

import gzip
import sys
from collections import Counter
from functools import cache, partial
from http import HTTPStatus
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

PACKED = (".html", ".css", ".js", ".svg", ".json", ".txt", ".webmanifest")
LEVEL = 6  # the default of zlib, and of the hosts that name theirs


class Host(ThreadingHTTPServer):
    """On a free port of this machine, or on one that is named; what it has sent, in bytes by path,
    headers counted."""

    daemon_threads = True

    def __init__(self, folder: Path, port: int = 0) -> None:
        super().__init__(("127.0.0.1", port), partial(_Answer, directory=str(folder)))
        self.sent: Counter[str] = Counter()
        self.base = f"http://127.0.0.1:{self.server_address[1]}/"

    def handle_error(self, *who: object) -> None:
        """Say nothing of a page that has gone meanwhile."""
        if not isinstance(sys.exception(), ConnectionError):
            super().handle_error(*who)  # type: ignore[arg-type]


class _Answer(SimpleHTTPRequestHandler):
    server: Host
    protocol_version = "HTTP/1.1"

    def do_GET(self) -> None:
        """A whole file, packed where it is text."""
        file = Path(self.translate_path(self.path))
        if file.is_dir():
            file = file / "index.html"
        if not file.is_file():
            self.send_error(HTTPStatus.NOT_FOUND)
            return
        packed = file.suffix in PACKED and "gzip" in self.headers.get("Accept-Encoding", "")
        body = _packed(file.resolve()) if packed else file.read_bytes()
        self.send_response(HTTPStatus.OK)
        self.send_header("Content-Type", self.guess_type(str(file)))
        self.send_header("Content-Length", str(len(body)))
        self.send_header("Cache-Control", "max-age=600")
        if packed:
            self.send_header("Content-Encoding", "gzip")
        self.end_headers()
        self.wfile.write(body)
        self.server.sent[self.path] += len(body)

    def flush_headers(self) -> None:
        """Count them as they leave."""
        self.server.sent[self.path] += sum(map(len, getattr(self, "_headers_buffer", ())))
        super().flush_headers()

    def log_message(self, format: str, *args: object) -> None:
        """Say nothing."""


@cache
def _packed(file: Path) -> bytes:
    return gzip.compress(file.read_bytes(), LEVEL)
