"""A stand-in on this machine for the service of the online voice: its HTTP, over TLS."""

from __future__ import annotations

import base64
import json
import ssl
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from http.server import BaseHTTPRequestHandler, HTTPServer
from pathlib import Path
from typing import Any
from urllib.parse import parse_qs

import requests
from requests.adapters import HTTPAdapter

from builder.audio.io.encode import mp3
from builder.audio.voices.service import Service
from tests.support.audio import sine
from tests.support.running import running

TONE = mp3(0.3 * sine(440, 0.5, 24000), 24000)


@dataclass
class StandIn:
    """Answers with a tone; `statuses` are given out first, one a request, with `headers`."""

    port: int = 0
    statuses: list[int] = field(default_factory=list)
    headers: dict[str, str] = field(default_factory=dict)
    audio: bytes = TONE
    answer: bytes | None = None  # in place of one that holds the audio
    asked: list[str] = field(default_factory=list)
    sent: list[dict[str, str]] = field(default_factory=list)


@dataclass
class Clock:
    """Seconds that pass while one sleeps, and no others."""

    now: float = 0.0
    naps: list[float] = field(default_factory=list)

    def __call__(self) -> float:
        return self.now

    def sleep(self, seconds: float) -> None:
        self.now += seconds
        if seconds:
            self.naps.append(seconds)


@contextmanager
def stand_in(tls: ssl.SSLContext) -> Iterator[StandIn]:
    """It answers meanwhile."""
    service = StandIn()

    class Handler(BaseHTTPRequestHandler):
        def do_POST(self) -> None:
            body = self.rfile.read(int(self.headers["Content-Length"])).decode()
            service.asked.append(json.loads(json.loads(parse_qs(body)["f.req"][0])[0][0][1])[0])
            service.sent.append(dict(self.headers))
            sound = json.dumps([base64.b64encode(service.audio).decode()])
            line = json.dumps([["wrb.fr", "jQ1olc", sound]], separators=(",", ":"))
            answer = line.encode() + b"\n" if service.answer is None else service.answer
            self.send_response(service.statuses.pop(0) if service.statuses else 200)
            for name, value in service.headers.items():
                self.send_header(name, value)
            self.send_header("Content-Length", str(len(answer)))
            self.end_headers()
            self.wfile.write(answer)

        def log_message(self, format: str, *args: object) -> None:
            """Quiet."""

    server = HTTPServer(("127.0.0.1", 0), Handler)
    server.socket = tls.wrap_socket(server.socket, server_side=True)
    service.port = server.server_port
    with running(server):
        yield service


class _Here(HTTPAdapter):
    """Takes every request to one address, whatever its own."""

    def __init__(self, address: str) -> None:
        super().__init__()
        self._address = address

    def send(self, request: Any, *args: Any, **options: Any) -> Any:
        request.url = self._address
        return super().send(request, *args, **options)


def way_to(port: int, clock: Clock, trusted: Path | None = None) -> Service:
    """The way to a stand-in, by a session that trusts one more certificate, or only its own."""
    session = requests.Session()
    session.trust_env = False  # no proxy of this machine
    if trusted:
        session.verify = str(trusted)
    session.mount("https://", _Here(f"https://127.0.0.1:{port}/"))
    return Service(session, clock=clock, sleep=clock.sleep)
