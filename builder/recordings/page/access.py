"""Who may ask the recording page's server: the page that this server gave out, and no other.

Any page that is open in the browser can send requests to a port of this machine. Three things stop
it: the Host must be the address that was printed (a foreign name that leads to 127.0.0.1 has
another one), what writes must come from that address by its Origin, and everything but the page's
own files needs a secret in a header, which a foreign page neither knows nor may send.
"""

from __future__ import annotations

import hmac
import secrets
import threading
from email.message import Message

HOST = "127.0.0.1"
SECRET_HEADER = "X-Recording-Session"  # the header of the secret


class Access:
    """The address, a key that opens once, and the secret that is given for it.

    The key stands behind the # of the address: browsers keep that part to themselves. session: the
    secret of an earlier page whose windows go on; "" for a new one.
    """

    def __init__(self, port: int, session: str = "") -> None:
        self.host = HOST if port == 80 else f"{HOST}:{port}"
        self.origin = f"http://{self.host}"
        self._key = secrets.token_urlsafe(24)
        self._session = session or secrets.token_urlsafe(24)
        self._used = False
        self._lock = threading.Lock()

    @property
    def address(self) -> str:
        """What is opened in the browser, once."""
        return f"{self.origin}/#{self._key}"

    def enter(self, key: str) -> str:
        """The secret for the key; "" for another key, or when it was used before."""
        with self._lock:
            if self._used or not _equal(key, self._key):
                return ""
            self._used = True
            return self._session

    def why_refused(self, headers: Message, *, writes: bool) -> str:
        """Why a request is refused whatever it asks for; "" when it is not."""
        if headers.get_all("Host") != [self.host]:
            return f"This page is only available at {self.origin}."
        origin = headers.get_all("Origin")
        if origin != [self.origin] and (writes or origin):
            return "This request came from another page; only the recording page may make it."
        return ""

    def carries_secret(self, headers: Message) -> bool:
        """Whether the request carries the secret."""
        return _equal(headers.get(SECRET_HEADER, ""), self._session)


def _equal(one: str, other: str) -> bool:
    return hmac.compare_digest(one.encode("utf-8", "replace"), other.encode())
