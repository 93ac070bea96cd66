"""Text of any kind (a pasted mail, a file, what codes hold) -> the messages in it, as bytes.

envelope.js writes them and states the form: PR1/ID/N/OF/DATA/CHECK, base32 (RFC 4648).
"""

from __future__ import annotations

import base64
import binascii
import re
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import count, takewhile

from builder.problems import UsageError

MOST_CHARACTERS = 4_000_000  # of all texts together; a year of practice is some 200,000

# What mail programs put between: white space of any kind, signs of quoting, soft ends of line (=),
# and characters that are not seen.
BETWEEN = re.compile(r"[\s>|=\u00ad\u200b-\u200f\u2060-\u2064\ufeff]+")
BEGIN = r"PR1/([A-Z2-7]{7})/([0-9]{1,2})/([0-9]{1,2})/"
PART = re.compile(BEGIN + "([A-Z2-7]*)/([A-Z2-7]{4})", re.IGNORECASE | re.ASCII)
HEAD = re.compile(f"(?:{BEGIN}|PR1/)", re.IGNORECASE | re.ASCII)


class PartMissingError(UsageError):
    """Not all parts of a message are there; those that are, are right."""


@dataclass(frozen=True)
class _Part:
    message: str
    number: int
    of: int
    data: str


def messages(texts: Iterable[str]) -> tuple[bytes, ...]:
    """Every message that the texts hold between them, in any order, each once.

    Raises UsageError where there is none, or one of them is cut or changed; PartMissingError, which
    is one, where a part is missing.
    """
    parts: dict[str, list[_Part]] = {}
    for text in _bounded(texts):
        for part in _parts(BETWEEN.sub("", text)):
            parts.setdefault(part.message, []).append(part)
    if not parts:
        raise UsageError("There is no practice record in this.")
    return tuple(_joined(name, own) for name, own in parts.items())


def beginning(texts: Iterable[str]) -> bytes:
    """As much of the beginning of one message as its parts hold, unchecked; b"" without the
    first."""
    parts = (part for text in texts for part in _parts(BETWEEN.sub("", text)))
    known = {part.number: part.data for part in parts}
    data = "".join(known[n] for n in takewhile(known.__contains__, count(1)))
    return _decoded(data[: len(data) // 8 * 8]) or b""


def _bounded(texts: Iterable[str]) -> list[str]:
    taken, length = [], 0
    for text in texts:
        length += len(text)
        if length > MOST_CHARACTERS:
            raise UsageError("This is far too long for a practice record.")
        taken.append(text)
    return taken


def _parts(text: str) -> list[_Part]:
    """The parts in a text without anything between. One that is cut does no harm where it stands
    whole elsewhere, as in a mail that quotes another."""
    whole = list(PART.finditer(text))
    good = [_part(match) for match in whole if _is_right(match)]
    known = {(part.message, part.number) for part in good}
    begun = {match.start(): match for match in HEAD.finditer(text)}
    for match in whole:
        if not _is_right(match) and _named(match) not in known:
            raise UsageError(f"{_which(match)} was changed on the way. Ask for it once more.")
        begun.pop(match.start(), None)
    for match in begun.values():
        # Beside a whole part a mere beginning may be a family's own words.
        if _named(match) not in known and (match[1] or not good):
            raise UsageError(f"{_which(match)} is cut. Ask for it once more.")
    return good


def _part(match: re.Match[str]) -> _Part:
    message, number, of, data, _ = match.groups()
    return _Part(message.upper(), int(number), int(of), data.upper())


def _named(match: re.Match[str]) -> tuple[str, int]:
    return (match[1] or "").upper(), int(match[2] or 0)


def _which(match: re.Match[str]) -> str:
    if match[1] is None or int(match[3]) == 1:
        return "The practice record"
    return f"Part {int(match[2])} of {int(match[3])} of the practice record"


def _is_right(match: re.Match[str]) -> bool:
    text = match[0].upper()
    return _sum(text[:-4].encode())[:4] == text[-4:]


def _joined(name: str, parts: list[_Part]) -> bytes:
    own = {(part.number, part.of, part.data) for part in parts}
    by_number = {number: data for number, _, data in own}
    (of, *others) = {of for _, of, _ in own}
    if others or len(by_number) < len(own) or not {*by_number} <= {*range(1, of + 1)}:
        raise UsageError("Parts of this practice record contradict one another.")
    lacking = [str(n) for n in range(1, of + 1) if n not in by_number]
    if lacking:
        raise PartMissingError(
            f"Of this practice record {_listed(lacking)} of {of} "
            f"{'is' if len(lacking) == 1 else 'are'} missing."
        )
    message = _decoded("".join(by_number[n] for n in range(1, of + 1)))
    if message is None or _sum(message) != name:
        raise UsageError("The practice record was changed on the way. Ask for it once more.")
    return message


def _listed(numbers: list[str]) -> str:
    head, last = numbers[:-1], numbers[-1]
    return f"parts {', '.join(head)} and {last}" if head else f"part {last}"


def _decoded(data: str) -> bytes | None:
    try:
        return base64.b32decode(data + "=" * (-len(data) % 8))
    except binascii.Error:
        return None


def _sum(data: bytes) -> str:
    """CRC-32 as 7 characters of base32."""
    return base64.b32encode(binascii.crc32(data).to_bytes(4, "big")).decode().rstrip("=")
