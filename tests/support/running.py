"""A server in a thread of its own."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from socketserver import BaseServer
from threading import Thread
from typing import TypeVar

POLL_S = 0.02  # how soon it ends; of itself a server looks up twice a second

Server = TypeVar("Server", bound=BaseServer)


@contextmanager
def running(server: Server) -> Iterator[Server]:
    """It answers meanwhile, and is closed in the end."""
    thread = Thread(target=server.serve_forever, kwargs={"poll_interval": POLL_S})
    thread.start()
    try:
        yield server
    finally:
        server.shutdown()
        thread.join()
        server.server_close()
