from __future__ import annotations

import threading
import urllib.request
from pathlib import Path

from builder.site.serve import server, watch


def test_it_serves_on_loopback_and_is_asked_anew(tmp_path: Path) -> None:
    (tmp_path / "index.html").write_text("hello")
    with server(tmp_path, 0) as one:
        thread = threading.Thread(target=one.serve_forever)
        thread.start()
        try:
            host, port = one.server_address[:2]
            assert host == "127.0.0.1"
            with urllib.request.urlopen(f"http://127.0.0.1:{port}/") as answer:
                assert answer.read() == b"hello"
                assert answer.headers["Cache-Control"] == "no-cache"
        finally:
            one.shutdown()
            thread.join()


def test_a_change_is_told_once() -> None:
    stop, states, told = threading.Event(), iter("aabbb"), []

    def state() -> str:
        value = next(states, "")
        if not value:
            stop.set()
        return value or "b"

    watch(state, lambda: told.append(1), stop, every=0.001)
    assert told == [1]
