"""The small words that hold a sentence together (data/*_function_words.txt)."""

from __future__ import annotations

from functools import cache

from builder.phonetics.tables import lines


@cache
def function_words(language: str = "en") -> frozenset[str]:
    """All of them, in lower case, with a straight apostrophe."""
    text = lines("function_words.txt", language)
    return frozenset(word for line in text for word in line.lower().split())


def is_function_word(word: str) -> bool:
    """Whether a word is one of them, however it is written."""
    return word.lower().replace("’", "'") in function_words()
