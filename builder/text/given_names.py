"""Given names: whether a word is one, and whether it is a common word as well (rose, mark)."""

from __future__ import annotations

from functools import cache
from pathlib import Path

FILE = Path(__file__).parent / "data" / "en_given_names.txt"  # its source stands in it


def is_given_name(word: str) -> bool:
    """Whether a word, in any case, is a given name and not also a common word."""
    return word.lower() in _names()["name"]


def is_name_and_word(word: str) -> bool:
    """Whether a word is a given name that is also in common lower-case use."""
    return word.lower() in _names()["word"]


@cache
def _names() -> dict[str, frozenset[str]]:
    """The names by kind: name, word."""
    found: dict[str, list[str]] = {"name": [], "word": []}
    for line in FILE.read_text("utf-8").splitlines():
        if not line.startswith("#"):
            head, _, names = line.partition(":")
            found[head.split()[0]] += names.split()
    return {kind: frozenset(names) for kind, names in found.items()}
