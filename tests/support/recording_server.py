"""A recording page of two invented programs on a free port, and a client that asks it anything."""

from __future__ import annotations

import http.client
import io
import json
from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
import soundfile

from builder.audio.speech import Samples
from builder.audio.voices.natural import RATE, speak
from builder.recordings.page.cards import by_id
from builder.recordings.page.page_files import ServedFile
from builder.recordings.page.recorder import Recorder
from builder.recordings.page.server import RecordingServer
from builder.recordings.prompts import Prompt, prompts
from builder.workspace.store import Store
from tests.support.clients import client_of
from tests.support.running import running

WORDS = """
sound: k
position: initial
current: words
words: [key, cow]
steps:
  - {name: words, level: word, rounds: [natural imitation]}
"""
HELD = """
sound: s
position: medial
current: words
words: [lesson, icy]
steps:
  - {name: words, level: word, rounds: [long imitation]}
"""


def asked(text: str = WORDS) -> dict[str, Prompt]:
    """The prompts of one program by their names in addresses."""
    return by_id(prompts([client_of(text)]))


def recorder(space: Path, text: str = WORDS) -> Recorder:
    """A recorder whose takes lie in `space`."""
    return Recorder(asked(text), space / "takes", Store(space / "store"))


@contextmanager
def serving(space: Path) -> Iterator[RecordingServer]:
    """The page's server, without the page's own files but one."""
    page = {"/": ServedFile(b"the page", "text/html")}
    with running(RecordingServer(recorder(space), page)) as server:
        yield server


@cache
def recording(word: str = "cow") -> bytes:
    """A WAV file of a word, said by the natural voice in a quiet room."""
    prompt = asked()[word]
    voice = speak(prompt.utterance.words, prompt.text).samples
    samples = 1e-4 * np.random.default_rng(3).standard_normal(len(voice) + RATE)
    samples[RATE // 2 :][: len(voice)] += 0.5 * voice / np.abs(voice).max()
    return wav(samples)


def wav(samples: Samples, rate: int = RATE) -> bytes:
    """A WAV file of 24 bits, as the page sends it."""
    stream = io.BytesIO()
    soundfile.write(stream, samples, rate, format="WAV", subtype="PCM_24")
    return stream.getvalue()


def ask(
    server: RecordingServer,
    method: str,
    path: str,
    body: bytes | None = None,
    **headers: str | None,
) -> tuple[int, Any, http.client.HTTPResponse]:
    """One request as the page itself makes it, but for the headers that are given; None leaves one
    out. The answer: status, its JSON (else its bytes), and all of it."""
    usual: dict[str, str | None] = {"host": server.access.host, "content_type": "audio/wav"}
    if method == "POST":
        usual["origin"] = server.access.origin
    line = http.client.HTTPConnection("127.0.0.1", server.server_port, timeout=20)
    try:
        line.putrequest(method, path, skip_host=True, skip_accept_encoding=True)
        if body is not None:
            usual["content_length"] = str(len(body))
        for name, value in (usual | headers).items():
            if value is not None:
                line.putheader(name.replace("_", "-"), value)
        line.endheaders(body)
        answer = line.getresponse()
        data = answer.read()
        kind = answer.headers.get_content_type()
        return answer.status, json.loads(data) if kind == "application/json" else data, answer
    finally:
        line.close()


def entered(server: RecordingServer) -> dict[str, Any]:
    """The header of the secret, got as the page gets it."""
    key = server.access.address.partition("#")[2].encode()
    _, found, _ = ask(server, "POST", "/enter", key, content_type="text/plain")
    return {"x_recording_session": found["session"]}
