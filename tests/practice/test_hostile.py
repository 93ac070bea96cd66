"""What is cut, mixed up or forged, its checksums right: one message, in bounded time and memory.

What a record says that cannot be is in `log/test_receive.py`.
"""

from __future__ import annotations

import base64
import re
import time
import tracemalloc
import zlib
from collections.abc import Callable
from typing import Any

import pytest

from builder.practice import unpack as form
from builder.practice.handed_over import read_codes, read_file, read_text
from builder.problems import UsageError
from tests.practice.test_handed_over import EXAMPLE, kept, plain, sent, week
from tests.support.handed_over import of_empty_texts, part, written

__all__ = ["kept", "sent"]  # fixtures

CUT = r"changed|cut|missing|no practice record"
MOST_S = 10  # of processor time, for what no family sends; without bounds it would be minutes
MOST_MEMORY = 20_000_000  # bytes; what it holds is three times as much


def refused(data: bytes, message: str) -> None:
    """It is answered with one short line, soon."""
    began = time.process_time()
    with pytest.raises(UsageError, match=message) as told:
        read_file(data)
    assert time.process_time() - began < MOST_S
    assert "\n" not in str(told.value)
    assert len(str(told.value)) < 200


def boundaries(text: str) -> set[int]:
    """Before, at and after each sign that parts something."""
    at = {found.end() for found in re.finditer(r"[/\n]", text)}
    return {place + by for place in at for by in (-1, 0, 1)} - {len(text), len(text) + 1}


@pytest.mark.parametrize("coding", ["utf-8", "utf-16"])
def test_a_file_that_is_cut_at_any_boundary_is_refused(
    coding: str, sent: dict[str, Any], kept: object
) -> None:
    """Codes one below the other: parts end within it."""
    text = "\n".join(sent["codes"])
    assert read_file(text.encode(coding)) == kept
    places = boundaries(text)
    assert len(places) > 40
    for at in places:
        whole = text[:at].encode(coding)
        for data in (whole, whole[:-1]):  # within a character, too
            with pytest.raises(UsageError, match=CUT):
                read_file(data)


def test_a_saved_message_that_is_cut_at_any_line_is_refused(sent: dict[str, Any]) -> None:
    lines = sent["lines"]
    for number in range(len(lines)):
        with pytest.raises(UsageError, match=CUT):
            read_text("\n".join(["Practice record of heron-07", "", *lines[:number]]))


OTHERS: dict[str, Callable[[dict[str, Any]], dict[str, Any]]] = {
    "another sitting": lambda one: {"id": one["id"][::-1]},
    "another client": lambda _: {"site": "0" * 13},
    "another version": lambda _: {"plan": "ab" * 16},
    "an earlier copy": lambda one: {"trials": one["trials"][:-1], "note": ""},
}


@pytest.mark.parametrize("other", OTHERS)
def test_parts_of_two_are_never_put_together(other: str) -> None:
    first = written(week())["codes"]
    second = written([one | OTHERS[other](one) for one in week()])["codes"]
    assert len(first) == len(second) > 2
    with pytest.raises(UsageError, match=r"part 2 of \d is missing"):
        read_codes([first[0], second[1], *first[2:]])
    # The same under the name of the first: each part is right by itself.
    data, number = second[1].split("/")[4], f"2/{len(first)}"
    renamed = part(b"", number).replace(part(b"").split("/")[1], first[0].split("/")[1])
    head = f"{'/'.join(renamed.split('/')[:4])}/{data}/"
    with pytest.raises(UsageError, match="changed on the way"):
        read_codes([first[0], head + check(head), *first[2:]])


def check(head: str) -> str:
    """The four characters that end a part."""
    return part(head.encode()).split("/")[1][:4]


def short() -> bytes:
    """A message with one try and no text, not deflated: its moment is the 18th byte from behind."""
    one = EXAMPLE | {"trials": [EXAMPLE["trials"][0] | {"ms": 7936}], "tallies": []}
    (data,) = re.findall(r"/([A-Z2-7]+)/[A-Z2-7]{4}$", written([one])["plain"])
    return base64.b32decode(data + "=" * (-len(data) % 8))


def test_a_negative_moment_is_refused() -> None:
    message = short()
    assert read_text(part(message))[0].trials[0].ms == 7936  # 31 times 256
    assert message[-18] == 2 * 31
    forged = message[:-18] + bytes([2 * 31 - 1]) + message[-17:]
    with pytest.raises(UsageError, match=r"trials\.0\.ms"):
        read_text(part(forged))


@pytest.mark.parametrize(
    ("changes", "where"),
    [
        pytest.param({"trials": EXAMPLE["trials"][:1] * 5001}, "trials", id="5,001 tries"),
        pytest.param({"tallies": EXAMPLE["tallies"][:1] * 101}, "tallies", id="101 texts"),
        pytest.param({"note": "x" * 281}, "note", id="a note like a letter"),
        pytest.param({"done": 5001}, "done", id="5,001 planned tries"),
    ],
)
def test_more_than_a_sitting_holds_is_refused(changes: dict[str, Any], where: str) -> None:
    made = written([EXAMPLE | changes])
    assert made["left"] == 0, "packed as any other"
    refused("\n".join(made["lines"]).encode(), where)


TEN_MB = 10_000_000
NESTED = {
    "brackets": b"[" * TEN_MB,
    "objects": b'{"a":' * (TEN_MB // 5),
    "brackets in UTF-16": ("[" * (TEN_MB // 2)).encode("utf-16"),
    "quoted": b"> " * (TEN_MB // 2),
    "beginnings": b"PR1/AAAAAAA/1/2/" * (TEN_MB // 16),
}


@pytest.mark.parametrize("kind", NESTED)
@pytest.mark.parametrize("size", [TEN_MB, 3_900_000], ids=["too long", "as long as may be"])
def test_megabytes_of_nesting_are_no_record(kind: str, size: int) -> None:
    message = "far too long" if size == TEN_MB else CUT
    refused(NESTED[kind][:size], message)


def test_a_bomb_is_not_unpacked() -> None:
    squeezer = zlib.compressobj(9, zlib.DEFLATED, -15)
    zeros = bytes(1_000_000)
    bomb = b"\x01" + b"".join(squeezer.compress(zeros) for _ in range(60)) + squeezer.flush()
    text = part(bomb).encode()
    assert len(text) < 200_000
    tracemalloc.start()
    refused(text, "far too long")
    _, peak = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    assert peak < MOST_MEMORY


def test_many_small_bombs_are_one_large_one(monkeypatch: pytest.MonkeyPatch) -> None:
    bombs = "\n".join(part(of_empty_texts(100_000 - n)) for n in range(5))
    assert len(bombs) < 5_000
    assert read_text(bombs) == ()
    monkeypatch.setattr(form, "MOST_BYTES_OF_ALL", 400_000)
    refused(bombs.encode(), "far too long")


def test_many_messages_take_no_longer_each_than_few() -> None:
    """Of 30,000, each without a sitting: were each looked for among all, it took minutes."""
    message = b"\x00\x01\x01\x04"
    many = "\n".join(
        part(message + n.to_bytes(4, "little") + b"\x00\x00")
        for n in range(0x20202020, 0x20202020 + 30_000)
        if max(n.to_bytes(4, "little")) < 128
    )
    began = time.process_time()
    assert read_text(many) == ()
    assert time.process_time() - began < MOST_S


def test_a_record_quoted_in_a_letter_of_megabytes_is_read() -> None:
    """The bounds stop no family."""
    letter = "“Went well.” [a, {b: c}] " * 100_000
    assert len(read_text(letter + part(plain()) + letter[:1_000_000])) == 1
