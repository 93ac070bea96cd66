"""What a page hands over, written by its own modules under Node, and parts around any bytes."""

from __future__ import annotations

import atexit
import base64
import binascii
import json
import subprocess
import zlib
from functools import cache
from typing import Any

from tests.support.node import node
from tests.support.places import TESTS

WRITER = TESTS / "support" / "handed_over.mjs"


def written(case: list[dict[str, Any]]) -> dict[str, Any]:
    """What a page hands over of sittings: lines of a message, codes, a message not deflated."""
    process = _writer()
    assert process.stdin
    assert process.stdout
    process.stdin.write(json.dumps(case) + "\n")
    process.stdin.flush()
    made: dict[str, Any] = json.loads(process.stdout.readline())
    return made


@cache
def _writer() -> subprocess.Popen[str]:
    """One Node for all cases of a run, which ends with it."""
    command = [node(), str(WRITER)]
    process = subprocess.Popen(command, text=True, stdin=subprocess.PIPE, stdout=subprocess.PIPE)
    atexit.register(process.communicate)  # the end of its input is its own
    return process


def part(message: bytes, number: str = "1/1") -> str:
    """A part as a page would write it around any bytes."""

    def coded(data: bytes) -> str:
        return base64.b32encode(data).decode().rstrip("=")

    def checksum(data: bytes) -> str:
        return coded(binascii.crc32(data).to_bytes(4, "big"))

    head = f"PR1/{checksum(message)}/{number}/{coded(message)}/"
    return head + checksum(head.encode())[:4]


def deflated(message: bytes) -> bytes:
    squeezer = zlib.compressobj(9, zlib.DEFLATED, -15)
    return b"\x01" + squeezer.compress(message) + squeezer.flush()


def of_empty_texts(number: int) -> bytes:
    """A right message of so many texts, a byte each, and of no sitting: 600 times as small."""
    count = bytes([number & 127 | 128, number >> 7 & 127 | 128, number >> 14])
    return deflated(b"\x01" + count + bytes(number) + b"\x00\x00")
