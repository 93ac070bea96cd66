"""The server takes recordings from its own page alone, whole, of prompts that it knows."""

from __future__ import annotations

import io
import socket
import struct
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import soundfile

from builder.recordings.page.server import MAX_BODY_BYTES, RecordingServer
from tests.support.recording_server import ask, entered, recording, serving, wav


@pytest.fixture
def server(tmp_path: Path) -> Iterator[RecordingServer]:
    with serving(tmp_path) as one:
        yield one


def another(n: int = 1) -> bytes:
    """The recording with more silence, as a second one is never the same bytes."""
    samples, rate = soundfile.read(io.BytesIO(recording()))
    return wav(np.pad(samples, (0, 100 * n)), rate)


def kept(server: RecordingServer) -> list[str]:
    folder = server.recorder.folder
    return sorted(f.name for f in folder.rglob("*")) if folder.is_dir() else []


def test_it_listens_on_this_machine_only(server: RecordingServer) -> None:
    assert server.server_address[0] == "127.0.0.1"
    assert server.access.address.startswith(f"http://127.0.0.1:{server.server_port}/#")


def test_every_answer_is_guarded(server: RecordingServer) -> None:
    for path, status in (("/", 200), ("/nothing", 401)):
        found, _, answer = ask(server, "GET", path)
        assert found == status
        policy = answer.headers["Content-Security-Policy"]
        assert policy.startswith("default-src 'self';")
        assert "frame-ancestors 'none'" in policy
        assert answer.headers["Cache-Control"] == "no-store"
        assert answer.headers["X-Content-Type-Options"] == "nosniff"
        assert not [name for name in answer.headers if name.startswith("Access-Control")]


def noisy() -> bytes:
    """The recording with noise 38 dB under its word: doubtful."""
    samples, rate = soundfile.read(io.BytesIO(recording()))
    level = np.sqrt(np.mean(samples[np.abs(samples) > 0.01] ** 2)) * 10 ** (-38 / 20)
    return wav(samples + level * np.random.default_rng(5).standard_normal(len(samples)), rate)


def state(server: RecordingServer, known: dict[str, Any]) -> tuple[str, str]:
    """Of cow, and its digest."""
    _, found, _ = ask(server, "GET", "/prompts", **known)
    (card,) = [card for card in found["cards"] if card["id"] == "cow"]
    return card["state"], card["digest"]


@pytest.mark.slow
def test_a_doubtful_recording_is_used_once_it_was_heard(server: RecordingServer) -> None:
    known = entered(server)
    server.recorder.folder.mkdir()
    (server.recorder.folder / "cow.wav").write_bytes(noisy())
    found, digest = state(server, known)
    assert found == "doubtful"
    status, answer, _ = ask(
        server, "POST", "/accept/cow", b"other", content_type="text/plain", **known
    )
    assert (status, state(server, known)[0]) == (422, "doubtful")
    assert "another recording" in answer["problem"]
    heard = digest.encode()
    assert ask(server, "POST", "/accept/cow", heard, content_type="text/plain", **known)[0] == 200
    assert state(server, known)[0] == "heard"


@pytest.mark.slow
def test_a_doubtful_recording_that_is_kept_was_heard(server: RecordingServer) -> None:
    known = entered(server)
    assert ask(server, "POST", "/keep/cow", noisy(), **known)[0] == 200
    assert state(server, known)[0] == "heard"


@pytest.mark.slow
def test_assess_keep_and_hear(server: RecordingServer) -> None:
    known = entered(server)
    status, assessment, _ = ask(server, "POST", "/assess/cow", recording(), **known)
    assert (status, assessment["verdict"]) == (200, "good")
    assert kept(server) == []
    status, prompts, _ = ask(server, "POST", "/keep/cow", recording(), **known)
    assert (status, prompts["kept"], kept(server)) == (200, "cow.wav", ["cow.wav"])
    states = {card["id"]: card["state"] for card in prompts["cards"]}
    assert states == {"k": "missing", "key": "missing", "cow": "good"}
    assert ask(server, "GET", "/prompts", **known)[1]["cards"] == prompts["cards"]
    assert ask(server, "GET", "/takes/cow", **known)[1] == recording()
    assert (server.recorder.folder / "cow.wav").read_bytes() == recording()


def test_the_key_opens_one_window(server: RecordingServer) -> None:
    key = server.access.address.partition("#")[2].encode()
    entered(server)
    status, found, _ = ask(server, "POST", "/enter", key, content_type="text/plain")
    assert status == 403
    assert "opened before" in found["problem"]


@pytest.mark.parametrize(
    "foreign",
    [
        {"origin": "http://evil.example"},
        {"origin": "null"},
        {"origin": None},
        {"host": "evil.example"},
        {"host": "localhost"},
        {"host": None},
        {"host": "evil.example", "origin": "http://evil.example"},
        {"x_recording_session": "guess"},
        {"x_recording_session": None},
        {"content_type": "text/plain"},
        {"content_type": "multipart/form-data; boundary=x"},
        {"content_type": None},
    ],
    ids=str,
)
def test_a_foreign_page_writes_nothing(
    server: RecordingServer, foreign: dict[str, str | None]
) -> None:
    known = entered(server)
    for path in ("/keep/cow", "/replace/cow", "/assess/cow"):
        status, found, _ = ask(server, "POST", path, recording(), **(known | foreign))
        assert status in (401, 403, 415)
        assert found["problem"]
    assert kept(server) == []


def test_a_foreign_page_reads_nothing(server: RecordingServer) -> None:
    known = entered(server)
    ask(server, "POST", "/keep/cow", recording(), **known)
    for path in ("/prompts", "/takes/cow"):
        assert ask(server, "GET", path)[0] == 401
        assert ask(server, "GET", path, **known, host="evil.example")[0] == 403
        assert ask(server, "GET", path, **known, origin="http://evil.example")[0] == 403


def test_a_preflight_gets_no_leave(server: RecordingServer) -> None:
    status, _, answer = ask(server, "OPTIONS", "/keep/cow", origin="http://evil.example")
    assert status == 501
    assert not [name for name in answer.headers if name.startswith("Access-Control")]


@pytest.mark.parametrize(
    "name",
    [
        "pig",
        "",
        "../cow",
        "..%2fcow",
        "%2e%2e/cow",
        "/etc/passwd",
        "cow/../../x",
        "cow.wav",
        "cow%00",
        "cow?x",
        "C:\\cow",
    ],
)
def test_only_prompts_are_written(server: RecordingServer, name: str) -> None:
    known = entered(server)
    for how in ("keep", "replace", "assess"):
        assert ask(server, "POST", f"/{how}/{name}", recording(), **known)[0] == 404
    assert kept(server) == []
    assert not list(server.recorder.folder.parent.rglob("*.wav"))


def test_a_body_too_long_or_of_no_length_is_not_read(server: RecordingServer) -> None:
    known = entered(server)
    for length, status in ((str(MAX_BODY_BYTES + 1), 413), (None, 411), ("-1", 411), ("x", 411)):
        assert ask(server, "POST", "/keep/cow", **known, content_length=length)[0] == status
    assert kept(server) == []


def test_half_a_recording_is_none(server: RecordingServer) -> None:
    known = entered(server)
    whole = recording()
    head = [
        "POST /keep/cow HTTP/1.0",
        f"Host: {server.access.host}",
        f"Origin: {server.access.origin}",
        f"X-Recording-Session: {known['x_recording_session']}",
        "Content-Type: audio/wav",
        f"Content-Length: {len(whole)}",
        "",
        "",
    ]
    with socket.create_connection(("127.0.0.1", server.server_port), timeout=20) as line:
        line.sendall("\r\n".join(head).encode() + whole[:-9])
        line.shutdown(socket.SHUT_WR)
        assert line.recv(100).startswith(b"HTTP/1.0 400")
    assert kept(server) == []


@pytest.mark.parametrize("data", [b"", b"text", b"RIFF\x04\0\0\0WAVE", wav(np.zeros(99))[:60]])
def test_what_is_no_recording_is_said_and_not_kept(server: RecordingServer, data: bytes) -> None:
    status, found, _ = ask(server, "POST", "/keep/cow", data, **entered(server))
    assert status == 422
    assert found["problem"].endswith((".", "WebM", "again"))
    assert kept(server) == []


def test_what_would_never_be_used_is_not_kept(server: RecordingServer) -> None:
    known, silence = entered(server), wav(np.zeros(48000), 48000)
    assert ask(server, "POST", "/assess/cow", silence, **known)[1]["verdict"] == "again"
    status, found, _ = ask(server, "POST", "/keep/cow", silence, **known)
    assert (status, kept(server)) == (422, [])
    assert "never used" in found["problem"]


def test_a_full_disk_is_said(server: RecordingServer, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("builder.recordings.page.recorder.save_take", full)
    status, found, _ = ask(server, "POST", "/keep/cow", recording(), **entered(server))
    assert status == 507
    assert "No space left" in found["problem"]


def test_instead_sets_the_earlier_ones_aside(server: RecordingServer) -> None:
    known = entered(server)
    for n, path in enumerate(("/keep/cow", "/keep/cow", "/replace/cow")):
        ask(server, "POST", path, another(n), **known)
    assert [f.name for f in server.recorder.folder.glob("*.wav")] == ["cow-3.wav"]
    assert sorted(f.name for f in (server.recorder.folder / "earlier").iterdir()) == [
        "cow-2.wav",
        "cow.wav",
    ]
    (card,) = [c for c in ask(server, "GET", "/prompts", **known)[1]["cards"] if c["id"] == "cow"]
    assert card["files"] == ["cow-3.wav"]


@pytest.mark.parametrize("how", ["keep", "replace"])
def test_what_is_sent_again_is_written_once(server: RecordingServer, how: str) -> None:
    """The window may have missed the answer, when the page was stopped meanwhile."""
    known = entered(server)
    ask(server, "POST", "/keep/cow", another(), **known)
    for _ in range(2):
        status, found, _ = ask(server, "POST", f"/{how}/cow", recording(), **known)
        assert (status, found["kept"]) == (200, "cow-2.wav")
    beside = ["cow-2.wav", "cow.wav"]
    assert kept(server) == (beside if how == "keep" else ["cow-2.wav", "cow.wav", "earlier"])
    assert (server.recorder.folder / "cow-2.wav").read_bytes() == recording()


def test_what_was_sent_before_the_page_stopped_still_sets_the_earlier_ones_aside(
    server: RecordingServer, monkeypatch: pytest.MonkeyPatch
) -> None:
    known = entered(server)
    ask(server, "POST", "/keep/cow", another(), **known)
    with monkeypatch.context() as stopped:
        stopped.setattr("builder.recordings.page.recorder.set_aside", lambda _: 1 / 0)
        assert ask(server, "POST", "/replace/cow", recording(), **known)[0] == 500
    status, found, _ = ask(server, "POST", "/replace/cow", recording(), **known)
    assert (status, found["kept"]) == (200, "cow-2.wav")
    assert [f.name for f in server.recorder.folder.glob("*.wav")] == ["cow-2.wav"]


def test_a_window_that_is_closed_at_once_is_no_fault(
    server: RecordingServer, capsys: pytest.CaptureFixture[str]
) -> None:
    for _ in range(5):
        for _ in range(4):  # more would not fit into the queue, and wait
            with socket.create_connection(("127.0.0.1", server.server_port)) as line:
                line.setsockopt(socket.SOL_SOCKET, socket.SO_LINGER, struct.pack("ii", 1, 0))
                line.sendall(f"GET / HTTP/1.0\r\nHost: {server.access.host}\r\n".encode())
        assert ask(server, "GET", "/")[0] == 200
    assert capsys.readouterr().err == ""


def test_a_fault_of_this_tool_is_answered(
    server: RecordingServer, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("builder.recordings.page.recorder.assess", lambda *_: 1 / 0)
    status, found, _ = ask(server, "POST", "/assess/cow", recording(), **entered(server))
    assert status == 500
    assert "a fault in this tool" in found["problem"].lower()
