from __future__ import annotations

from email.message import Message

import pytest

from builder.recordings.page.access import SECRET_HEADER, Access


def headers(**given: str) -> Message:
    message = Message()
    for name, value in given.items():
        message[name] = value
    return message


def test_the_key_opens_once() -> None:
    access = Access(8000)
    key = access.address.partition("#")[2]
    assert len(key) >= 32
    assert access.enter(key[:-1]) == ""
    secret = access.enter(key)
    assert secret
    assert secret != key
    assert access.enter(key) == ""
    assert access.enter("") == Access(8000).enter("") == ""


def test_two_servers_share_nothing() -> None:
    assert Access(8000).address != Access(8000).address


def test_a_window_of_an_earlier_page_goes_on_by_its_secret_not_by_its_key() -> None:
    before = Access(8000, "a secret")
    key = before.address.partition("#")[2]
    assert before.enter(key) == "a secret"
    after = Access(8000, "a secret")
    assert after.carries_secret(headers(**{SECRET_HEADER: "a secret"}))
    assert after.enter(key) == ""


def test_the_secret_is_known_by_its_header() -> None:
    access = Access(8000)
    secret = access.enter(access.address.partition("#")[2])
    assert access.carries_secret(headers(**{SECRET_HEADER: secret}))
    for other in (
        {},
        {SECRET_HEADER: ""},
        {SECRET_HEADER: secret + "x"},
        {SECRET_HEADER: "é"},
        {"Cookie": secret},
    ):
        assert not access.carries_secret(headers(**other))


@pytest.mark.parametrize(
    ("writes", "host", "origin", "welcome"),
    [
        (False, "127.0.0.1:8000", "", True),
        (True, "127.0.0.1:8000", "http://127.0.0.1:8000", True),
        (True, "127.0.0.1:8000", "", False),
        (True, "127.0.0.1:8000", "null", False),
        (True, "127.0.0.1:8000", "https://127.0.0.1:8000", False),
        (True, "127.0.0.1:8000", "http://127.0.0.1:8001", False),
        (True, "127.0.0.1:8000", "http://evil.example", False),
        (False, "127.0.0.1:8000", "http://evil.example", False),
        (False, "evil.example:8000", "", False),
        (False, "evil.example", "", False),
        (False, "127.0.0.1", "", False),
        (True, "evil.example:8000", "http://evil.example:8000", False),
    ],
)
def test_foreign_pages_are_recognised_by_host_and_origin(
    writes: bool, host: str, origin: str, welcome: bool
) -> None:
    given = {"Host": host} | ({"Origin": origin} if origin else {})
    assert (Access(8000).why_refused(headers(**given), writes=writes) == "") is welcome


def test_no_host_or_two_are_refused() -> None:
    twice = headers(Host="127.0.0.1:8000")
    twice["Host"] = "127.0.0.1:8000"
    assert Access(8000).why_refused(headers(), writes=False)
    assert Access(8000).why_refused(twice, writes=False)


def test_the_usual_port_is_not_named() -> None:
    # RFC 9110, 4.2.1 and 7.2: browsers leave the default port of http out of Host and Origin.
    assert (
        Access(80).why_refused(headers(Host="127.0.0.1", Origin="http://127.0.0.1"), writes=True)
        == ""
    )
