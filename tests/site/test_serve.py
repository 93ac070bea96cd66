from __future__ import annotations

import threading
from collections.abc import Callable, Iterator
from email.message import Message
from http.client import HTTPConnection
from pathlib import Path

import pytest

from builder.site.serve import server, watch
from tests.support.running import running

Ask = Callable[..., tuple[int, Message, bytes]]


@pytest.fixture
def ask(tmp_path: Path) -> Iterator[Ask]:
    """Asks a server over tmp_path/public: path and Host header -> status, headers, body."""
    (tmp_path / "public").mkdir()
    with running(server(tmp_path / "public", 0)) as one:

        def asked(path: str, host: str = "127.0.0.1:{port}") -> tuple[int, Message, bytes]:
            connection = HTTPConnection("127.0.0.1", one.server_port, timeout=10)
            named = host.format(port=one.server_port)
            connection.request("GET", path, headers={"Host": named} if named else {})
            with connection.getresponse() as answer:
                return answer.status, answer.headers, answer.read()

        yield asked


def test_it_serves_on_loopback_and_is_asked_anew(ask: Ask, tmp_path: Path) -> None:
    (tmp_path / "public" / "index.html").write_text("hello")
    status, headers, body = ask("/")
    assert (status, body, headers["Cache-Control"]) == (200, b"hello", "no-cache")
    with server(tmp_path, 0) as one:
        assert one.server_address[0] == "127.0.0.1"


def test_a_microphone_is_only_for_a_site_that_uses_one(ask: Ask, tmp_path: Path) -> None:
    """In the words of the W3C's Permissions Policy, https://www.w3.org/TR/permissions-policy/."""
    with_one, without = "7k2mz9qd4wthc", "8k2mz9qd4wthc"
    for site in (with_one, without):
        (tmp_path / "public" / site / "assets" / "js").mkdir(parents=True)
    (tmp_path / "public" / with_one / "assets" / "js" / "microphone.js").write_text("//")

    def policy(path: str) -> str | None:
        _, headers, _ = ask(path)
        return headers["Permissions-Policy"]

    assert policy(f"/{with_one}/") == policy(f"/{with_one}/helper/?a") == "microphone=(self)"
    assert policy(f"/{without}/") == policy("/") == policy("/a/b") == "microphone=()"


@pytest.mark.parametrize(
    ("host", "status"),
    [
        ("127.0.0.1:{port}", 200),
        ("localhost:{port}", 200),
        ("127.0.0.1", 421),
        ("practice.example.org:{port}", 421),
        ("127.0.0.1.example.org:{port}", 421),
    ],
)
def test_only_the_printed_address_is_answered(
    ask: Ask, tmp_path: Path, host: str, status: int
) -> None:
    (tmp_path / "public" / "index.html").write_text("hello")
    assert ask("/", host)[0] == status
    assert (b"hello" in ask("/", host)[2]) == (status == 200)


def test_no_folder_is_listed(ask: Ask, tmp_path: Path) -> None:
    (tmp_path / "public" / "abcdefghjkmnp" / "clips").mkdir(parents=True)
    (tmp_path / "public" / "abcdefghjkmnp" / "index.html").write_text("hello")
    for path in ("/", "/abcdefghjkmnp/clips/"):
        status, _, body = ask(path)
        assert status == 404
        assert b"abcdefghjkmnp" not in body
    assert ask("/abcdefghjkmnp/")[2] == b"hello"


@pytest.mark.parametrize("path", ["/file.txt", "/folder/secret", "/page/", "/page/index.html"])
def test_no_link_is_followed(ask: Ask, tmp_path: Path, path: str) -> None:
    (tmp_path / "secret").write_text("hidden")
    public = tmp_path / "public"
    (public / "page").mkdir()
    (public / "file.txt").symlink_to(tmp_path / "secret")
    (public / "folder").symlink_to(tmp_path)
    (public / "page" / "index.html").symlink_to(tmp_path / "secret")
    status, _, body = ask(path)
    assert status == 404
    assert b"hidden" not in body


@pytest.mark.parametrize("path", ["/../secret", "/%2e%2e/secret", "/%00", "/" + "a" * 5000])
def test_nothing_outside_is_served_and_no_name_stops_it(
    ask: Ask, tmp_path: Path, path: str
) -> None:
    (tmp_path / "secret").write_text("hidden")
    assert ask(path)[0] == 404


def test_a_change_is_told_once() -> None:
    stop, states, told = threading.Event(), iter("aabbb"), []

    def state() -> str:
        value = next(states, "")
        if not value:
            stop.set()
        return value or "b"

    watch(state, lambda: told.append(1), stop, every=0.001)
    assert told == [1]
