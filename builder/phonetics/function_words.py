"""The small words that hold a sentence together (data/*_function_words.txt)."""

from __future__ import annotations

from functools import cache
from importlib.resources import files


@cache
def function_words(language: str = "en") -> frozenset[str]:
    """All of them, in lower case, with a straight apostrophe."""
    path = files("builder.phonetics").joinpath(f"data/{language}_function_words.txt")
    lines = path.read_text(encoding="utf-8").splitlines()
    words = (line.lower().split() for line in lines if not line.startswith("#"))
    return frozenset(word for line in words for word in line)


def is_function_word(word: str) -> bool:
    """Whether a word is one of them, however it is written."""
    return word.lower().replace("’", "'") in function_words()
