"""The online voice against a stand-in on this machine that speaks the service's HTTP."""

from __future__ import annotations

import base64
import json
from collections.abc import Iterator
from http.server import BaseHTTPRequestHandler, HTTPServer
from typing import Any, ClassVar
from urllib.parse import parse_qs

import numpy as np
import pytest
import requests

from builder.audio.io.encode import mp3
from builder.audio.voices.online import speak
from builder.problems import UsageError
from tests.support.audio import sine
from tests.support.running import running

TONE = mp3(0.3 * sine(440, 0.5, 24000), 24000)


class StandIn(BaseHTTPRequestHandler):
    """Answers with a tone; `statuses` are given out first, one a request."""

    statuses: ClassVar[list[int]] = []
    asked: ClassVar[list[str]] = []
    audio: ClassVar[bytes] = TONE

    def do_POST(self) -> None:
        body = self.rfile.read(int(self.headers["Content-Length"])).decode()
        self.asked.append(json.loads(json.loads(parse_qs(body)["f.req"][0])[0][0][1])[0])
        status = self.statuses.pop(0) if self.statuses else 200
        sound = json.dumps([base64.b64encode(self.audio).decode()])
        line = json.dumps([["wrb.fr", "jQ1olc", sound]], separators=(",", ":")).encode() + b"\n"
        self.send_response(status)
        self.send_header("Content-Length", str(len(line)))
        self.end_headers()
        self.wfile.write(line)

    def log_message(self, format: str, *args: object) -> None:
        """Quiet."""


@pytest.fixture
def service(monkeypatch: pytest.MonkeyPatch) -> Iterator[type[StandIn]]:
    """The stand-in; every request of this process goes there, whatever its address."""
    monkeypatch.setattr(StandIn, "statuses", [])
    monkeypatch.setattr(StandIn, "asked", [])
    with running(HTTPServer(("127.0.0.1", 0), StandIn)) as server:
        _redirect(monkeypatch, f"http://127.0.0.1:{server.server_port}/")
        yield StandIn


def _redirect(monkeypatch: pytest.MonkeyPatch, address: str) -> None:
    send = requests.Session.send

    def sent(self: Any, request: Any, **options: Any) -> Any:
        request.url = address
        return send(self, request, **options | {"proxies": {}})

    monkeypatch.setattr(requests.Session, "send", sent)


def nap(seconds: float) -> None:
    """No waiting in tests."""


def test_the_words_are_sent_and_sound_comes_back(service: type[StandIn]) -> None:
    speech = speak("my key", "en-US", sleep=nap)
    assert service.asked == ["my key"]
    assert (speech.rate, speech.voice, speech.target) == (24000, "online", None)
    spectrum = np.abs(np.fft.rfft(speech.samples))
    assert np.argmax(spectrum) * 24000 / len(speech.samples) == pytest.approx(440, abs=10)


def test_a_busy_service_is_asked_again_ever_later(service: type[StandIn]) -> None:
    service.statuses.extend([429, 503])
    waits: list[float] = []
    assert len(speak("cow", "en-GB", sleep=waits.append).samples)
    first, second = waits
    assert 0 < first < second


def test_a_service_that_stays_away_is_said_plainly(service: type[StandIn]) -> None:
    service.statuses.extend([500] * 9)
    with pytest.raises(UsageError, match="could not be reached for 'cow'"):
        speak("cow", "en-US", sleep=nap)
    assert len(service.asked) == 4


def test_without_a_network_there_is_one_clear_message(monkeypatch: pytest.MonkeyPatch) -> None:
    with HTTPServer(("127.0.0.1", 0), StandIn) as closed:
        port = closed.server_port
    _redirect(monkeypatch, f"http://127.0.0.1:{port}/")
    with pytest.raises(UsageError, match="when you are online"):
        speak("cow", "en-US", sleep=nap)


def test_what_is_no_audio_is_said_plainly(
    service: type[StandIn], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(service, "audio", b"not a sound")
    with pytest.raises(UsageError, match="sent no audio"):
        speak("cow", "en-US", sleep=nap)
