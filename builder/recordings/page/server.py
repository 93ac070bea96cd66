"""The recording page on this machine alone: its files, and what its recorder does, over HTTP."""

from __future__ import annotations

import json
import os
import sys
from collections.abc import Callable
from dataclasses import asdict
from http import HTTPStatus
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer

from builder.problems import UsageError
from builder.recordings.page.access import HOST, Access
from builder.recordings.page.page_files import ServedFile
from builder.recordings.page.recorder import Recorder

MAX_BODY_BYTES = 20_000_000  # bytes: 30 seconds at 192 kHz and 24 bits are 17 million
MAX_KEY_BYTES = 200  # bytes of a key or a digest
HEADERS = {
    "Content-Security-Policy": "default-src 'self'; base-uri 'none'; form-action 'none'; "
    "frame-ancestors 'none'; object-src 'none'",
    "Cache-Control": "no-store",
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Permissions-Policy": "microphone=(self), camera=(), geolocation=()",
}
ALREADY_OPENED = (
    "This address was opened before. Use that window, or stop the recording page at the terminal "
    "(`Ctrl-C`), start it again and open the new address."
)
INTERNAL_ERROR = "A fault in this tool; nothing was changed. See the terminal for details."
SESSION_UNKNOWN = (
    "The recording page does not know this window. Open the address that the terminal shows."
)


class _Refusal(Exception):  # noqa: N818
    """A request that is refused: status and a sentence."""

    def __init__(self, status: HTTPStatus, sentence: str) -> None:
        self.status, self.sentence = status, sentence
        super().__init__(sentence)


class RecordingServer(ThreadingHTTPServer):
    """The server; port 0 takes a free one, session is of Access. Raises OSError when the port is
    taken."""

    daemon_threads = True
    # A port just left is free again; on Windows this would share one that is in use.
    allow_reuse_address = os.name == "posix"
    allow_reuse_port = False

    def __init__(
        self,
        recorder: Recorder,
        files: dict[str, ServedFile],
        port: int = 0,
        session: str = "",
    ) -> None:
        super().__init__((HOST, port), _Request)
        self.recorder, self.files = recorder, files
        self.access = Access(self.server_port, session)

    def handle_error(self, request: object, client_address: object) -> None:
        """Whoever asked and is gone is no fault; all else goes to the terminal."""
        if not isinstance(sys.exception(), ConnectionError | TimeoutError):
            super().handle_error(request, client_address)  # type: ignore[arg-type]


class _Request(BaseHTTPRequestHandler):
    """One request."""

    server: RecordingServer
    server_version, sys_version = "practice-site", ""
    timeout = 30  # seconds without a byte; then the connection is given up
    unread = 0  # bytes of the request that nobody asked for yet

    def do_GET(self) -> None:
        """The page, its files, the prompts, a kept recording."""
        self._answer(self._get, writes=False)

    def do_POST(self) -> None:
        """Enter, assess, keep, accept."""
        self._answer(self._post, writes=True)

    def log_message(self, format: str, *args: object) -> None:
        """Say nothing."""

    def end_headers(self) -> None:
        """Every answer, refusals too, carries HEADERS."""
        for name, value in HEADERS.items():
            self.send_header(name, value)
        super().end_headers()

    def _answer(self, act: Callable[[], ServedFile], *, writes: bool) -> None:
        self.unread = self._length() or 0
        try:
            if why := self.server.access.why_refused(self.headers, writes=writes):
                raise _Refusal(HTTPStatus.FORBIDDEN, why)
            status, served = HTTPStatus.OK, act()
        except _Refusal as refused:
            status, served = refused.status, _error(refused.sentence)
        except UsageError as problem:
            status, served = HTTPStatus.UNPROCESSABLE_ENTITY, _error(str(problem))
        except (ConnectionError, TimeoutError):
            raise
        except OSError as problem:
            status = HTTPStatus.INSUFFICIENT_STORAGE
            served = _error(f"It could not be saved: {problem.strerror or problem}.")
        except Exception:
            self._send(HTTPStatus.INTERNAL_SERVER_ERROR, _error(INTERNAL_ERROR))
            raise  # to the terminal, in full
        if 0 < self.unread <= MAX_BODY_BYTES:
            # Else the browser would see a torn connection and no answer.
            self.rfile.read(self.unread)
        self._send(status, served)

    def _send(self, status: HTTPStatus, served: ServedFile) -> None:
        self.send_response(status)
        self.send_header("Content-Type", served.media)
        self.send_header("Content-Length", str(len(served.data)))
        self.end_headers()
        self.wfile.write(served.data)

    def _get(self) -> ServedFile:
        if found := self.server.files.get(self.path):
            return found
        self._require_secret()
        match self.path.split("/")[1:]:
            case ["prompts"]:
                return self._prompts()
            case ["takes", name]:
                return self._take(self._prompt(name))
        raise _Refusal(HTTPStatus.NOT_FOUND, "There is no such page.")

    def _post(self) -> ServedFile:
        if self.path == "/enter":
            secret = self.server.access.enter(
                self._body("text/plain", MAX_KEY_BYTES).decode("latin-1")
            )
            if not secret:
                raise _Refusal(HTTPStatus.FORBIDDEN, ALREADY_OPENED)
            return _json({"session": secret})
        self._require_secret()
        match self.path.split("/")[1:]:
            case ["assess", name]:
                name = self._prompt(name)
                return _json(asdict(self.server.recorder.assess(name, self._wav())))
            case ["keep" | "replace" as how, name]:
                name = self._prompt(name)
                file = self.server.recorder.keep(name, self._wav(), instead=how == "replace")
                return self._prompts(kept=file.name)
            case ["accept", name]:
                digest = self._body("text/plain", MAX_KEY_BYTES).decode("latin-1")
                self.server.recorder.accept(self._prompt(name), digest)
                return self._prompts()
        raise _Refusal(HTTPStatus.NOT_FOUND, "There is no such page.")

    def _require_secret(self) -> None:
        if not self.server.access.carries_secret(self.headers):
            raise _Refusal(HTTPStatus.UNAUTHORIZED, SESSION_UNKNOWN)

    def _prompt(self, name: str) -> str:
        """The name, when it is a prompt's; nothing else ever becomes part of a path."""
        if name not in self.server.recorder.prompts:
            raise _Refusal(HTTPStatus.NOT_FOUND, "There is no such prompt.")
        return name

    def _prompts(self, kept: str = "") -> ServedFile:
        cards = [asdict(card) for card in self.server.recorder.cards()]
        return _json({"folder": str(self.server.recorder.folder), "cards": cards, "kept": kept})

    def _take(self, name: str) -> ServedFile:
        file = self.server.recorder.playable(name)
        if file is None:
            raise _Refusal(HTTPStatus.NOT_FOUND, "Nothing is recorded for this prompt yet.")
        return ServedFile(file.read_bytes(), "application/octet-stream")

    def _wav(self) -> bytes:
        return self._body("audio/wav", MAX_BODY_BYTES)

    def _body(self, media: str, limit: int) -> bytes:
        """The bytes that were sent, all of them. A length that is not said is refused."""
        if self.headers.get_content_type() != media:
            raise _Refusal(HTTPStatus.UNSUPPORTED_MEDIA_TYPE, f"Only `{media}` is accepted here.")
        said = self._length()
        if said is None:
            raise _Refusal(HTTPStatus.LENGTH_REQUIRED, "The length is missing.")
        if said > limit:
            raise _Refusal(HTTPStatus.REQUEST_ENTITY_TOO_LARGE, "This recording is too long.")
        self.unread = 0
        data = self.rfile.read(said)
        if len(data) != said:
            raise _Refusal(HTTPStatus.BAD_REQUEST, "The recording arrived incomplete.")
        return data

    def _length(self) -> int | None:
        """How many bytes follow the headers, as they say it; None when they do not."""
        said = self.headers.get("Content-Length", "")
        return int(said) if said.isascii() and said.isdecimal() and len(said) < 20 else None


def _json(value: object) -> ServedFile:
    return ServedFile(json.dumps(value, ensure_ascii=False).encode(), "application/json")


def _error(sentence: str) -> ServedFile:
    return _json({"problem": sentence})
