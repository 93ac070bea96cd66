"""Requests to a service on the network, asked as one ought to: over TLS with its certificate
verified, one after the other with a pause between, and not at all for a while once it has failed.

Knows nothing of speech. What it waits for, and by which clock, is handed in.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator

import requests

from builder.audio.voices import ServiceError

# All bounds are common practice, no source, but where one is named.
TIMEOUT_S = 15.0  # to connect, and between two pieces of an answer
LONGEST_S = 60.0  # a whole answer, however slowly it comes
MOST_BYTES = 4_000_000  # an answer; a word is about 10 kB of MP3, a third more in base64
PAUSE_S = 1.0  # from one request to the next
RETRY_WAITS_S = (1.0, 3.0)  # before each further try of the same request
MOST_RETRY_WAIT_S = 10.0  # when it asks for a longer one (RFC 9110, 10.2.3) it is left alone
REST_S = 600.0  # without a request after a failure: the rest of most builds
MOST_REQUESTS = 1000  # of one run; the next build asks for the rest
MOST_USELESS = 3  # answers in a row that were no use
BUSY = (429, 500, 502, 503, 504)  # RFC 9110, 15.6, and RFC 6585, 4: worth another try


class _Passing(Exception):  # noqa: N818 - never leaves this module
    """It may work in a moment: why, and how long it asks to wait, in seconds."""

    def __init__(self, why: str, wait: float = 0.0) -> None:
        super().__init__(why)
        self.wait = wait


class Service:
    """The way to one service, for one run.

    session: sends; its `verify` may be a file of certificates to trust, never False.
    """

    def __init__(
        self,
        session: requests.Session | None = None,
        *,
        clock: Callable[[], float] = time.monotonic,
        sleep: Callable[[float], None] = time.sleep,
    ) -> None:
        self.session = session or requests.Session()
        self._clock, self._sleep = clock, sleep
        self._next = clock()  # no request before
        self._requests = self._useless = 0
        self._rest: tuple[float, str] = (clock(), "")  # until when it is left alone, and why

    def answer(self, request: requests.PreparedRequest) -> bytes:
        """The body of its answer. ServiceError, a clause: it did not answer, or is left alone."""
        until, reason = self._rest
        if self._clock() < until:
            raise ServiceError(reason)
        try:
            return self._patiently(request)
        except ServiceError as why:
            self._leave_alone(str(why))
            raise

    def was_of_use(self, useful: bool, why: str = "") -> None:
        """Told of each answer; after several in a row of no use the service is left alone."""
        self._useless = 0 if useful else self._useless + 1
        if self._useless >= MOST_USELESS:
            self._leave_alone(why)

    def _leave_alone(self, why: str) -> None:
        self._rest = (self._clock() + REST_S, why)
        self._useless = 0

    def _patiently(self, request: requests.PreparedRequest) -> bytes:
        for wait in (*RETRY_WAITS_S, None):
            try:
                return self._once(request)
            except _Passing as problem:
                if wait is None or problem.wait > MOST_RETRY_WAIT_S:
                    raise ServiceError(str(problem)) from None
                self._sleep(max(wait, problem.wait))
        raise AssertionError("the last try returns or raises")

    def _once(self, request: requests.PreparedRequest) -> bytes:
        url = request.url or ""
        if not url.startswith("https://") or self.session.verify is False:
            raise ServiceError("it would be asked without a verified connection")
        if self._requests >= MOST_REQUESTS:
            raise ServiceError(f"it was asked {MOST_REQUESTS} times in one run, which is enough")
        self._sleep(max(0.0, self._next - self._clock()))
        self._requests += 1
        try:
            return self._sent(request, url)
        except requests.exceptions.SSLError:
            raise ServiceError("its certificate cannot be verified") from None
        except requests.exceptions.Timeout:
            raise _Passing(f"no answer within {TIMEOUT_S:g} s") from None
        except requests.exceptions.RequestException:
            raise _Passing("there is no connection to it") from None
        finally:
            self._next = self._clock() + PAUSE_S

    def _sent(self, request: requests.PreparedRequest, url: str) -> bytes:
        # The environment may name a proxy and more certificates to trust; it cannot stop verifying.
        settings = self.session.merge_environment_settings(url, {}, True, self.session.verify, None)
        # It is not followed elsewhere: what lies there was not asked, and may not be encrypted.
        with self.session.send(
            request, timeout=TIMEOUT_S, allow_redirects=False, **settings
        ) as response:
            self._require_ok(response)
            return b"".join(self._pieces(response))

    def _require_ok(self, response: requests.Response) -> None:
        if response.status_code == requests.codes.ok:
            return
        why = f"it answered {response.status_code} {response.reason or ''}".strip()
        if response.status_code not in BUSY:
            raise ServiceError(why)
        asked = response.headers.get("Retry-After", "")
        raise _Passing(why, float(asked) if asked.isascii() and asked.isdigit() else 0.0)

    def _pieces(self, response: requests.Response) -> Iterator[bytes]:
        size, until = 0, self._clock() + LONGEST_S
        for piece in response.iter_content(1 << 16):
            size += len(piece)
            if size > MOST_BYTES:
                raise ServiceError("its answer has no end")
            if self._clock() > until:
                raise ServiceError(f"its answer was not whole within {LONGEST_S:g} s")
            yield piece
