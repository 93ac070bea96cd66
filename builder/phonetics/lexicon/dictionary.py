"""How words are pronounced: CMUdict, every form it holds, first form first.

The dictionary's file is read once as bytes and a word is looked up in it by bisection, without an
index of its 135,000 lines; importing this module reads nothing.
"""

from __future__ import annotations

import unicodedata
from bisect import bisect_left
from collections.abc import Iterator
from functools import cache, lru_cache

from builder.phonetics.lexicon.sources import file

ROLE = "dictionary"
_loaded: dict[str, list[tuple[str, ...]]] = {}  # the whole dictionary, for those who ask for many
SCAN_BYTES = 4096  # bytes; the file is sorted but for a few words, which stand within a few lines


@cache
def _lines() -> bytes:
    """The dictionary, each of its lines between line ends. The package itself is not imported:
    it asks for its own version, which costs more than the file."""
    return b"\n" + file(ROLE).read_bytes().strip() + b"\n"


@lru_cache(maxsize=4096)
def pronunciations(word: str) -> tuple[tuple[str, ...], ...]:
    """Every pronunciation of one word as ARPABET phones with stress; () for an unknown word.

    The dictionary is written without accents: `café` is looked up as `cafe`.
    """
    plain = word.lower().replace("’", "'")
    if plain.isascii():
        return _known(plain)
    folded = unicodedata.normalize("NFKD", plain).encode("ascii", "ignore").decode()
    return _known(plain) or (_known(folded) if len(folded) >= len(plain) else ())


def _known(word: str) -> tuple[tuple[str, ...], ...]:
    key = word.encode(errors="replace")
    if not key or b"(" in key or b"#" in key:
        return ()
    if _loaded:
        return tuple(_loaded.get(word, ()))
    return tuple(_forms(_lines(), key))


def _forms(lines: bytes, key: bytes) -> Iterator[tuple[str, ...]]:
    """The word's lines stand one after the other: `a AH0`, `a(2) EY1`."""
    at = _find(lines, key)
    while at >= 0 and lines.startswith((key + b" ", key + b"("), at + 1):
        end = lines.index(b"\n", at + 1)
        yield tuple(lines[at + 1 : end].partition(b"#")[0].decode().split()[1:])
        at = end


def _find(lines: bytes, key: bytes) -> int:
    """Where the line end before the word's first line stands; -1 for an unknown word."""
    start = b"\n" + key + b" "
    at = bisect_left(range(len(lines) - 1), key, key=lambda at: _word(lines, at))
    near = lines.find(start, max(0, at - SCAN_BYTES), at + SCAN_BYTES)
    return near if near >= 0 else lines.find(start)


def _word(lines: bytes, at: int) -> bytes:
    """The word of the line in which byte `at` stands; a line end belongs to the line after it."""
    start = lines.rfind(b"\n", 0, at + 1) + 1
    return lines[start : lines.index(b" ", start)].partition(b"(")[0]


def load() -> dict[str, list[tuple[str, ...]]]:
    """Every word with its forms; from now on words are looked up in them."""
    if not _loaded:
        for line in _lines().strip().decode().splitlines():
            word, *phones = line.partition("#")[0].split()
            _loaded.setdefault(word.partition("(")[0], []).append(tuple(phones))
    return _loaded


def unload() -> None:
    """Give the memory back."""
    _loaded.clear()
    _lines.cache_clear()
