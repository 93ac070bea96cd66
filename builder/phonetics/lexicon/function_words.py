"""The small words that hold a sentence together (data/*_function_words.txt)."""

from __future__ import annotations

from functools import cache

from builder.phonetics.inventory import is_vowel
from builder.phonetics.lexicon.allophones import Phones
from builder.phonetics.tables import lines, rows


@cache
def function_words(language: str = "en") -> frozenset[str]:
    """All of them, in lower case, with a straight apostrophe."""
    text = lines("function_words.txt", language)
    return frozenset(word for line in text for word in line.lower().split())


def is_function_word(word: str) -> bool:
    """Whether a word is one of them, however it is written."""
    return word.lower().replace("’", "'") in function_words()


def article(word: str, after: Phones) -> Phones:
    """How an article is said before the phones of the next word; () for other words."""
    if not after:
        return ()
    return _articles().get((word.lower(), "vowel" if is_vowel(after[0]) else "consonant"), ())


@cache
def _articles(language: str = "en") -> dict[tuple[str, str], Phones]:
    table = rows("articles", language)
    return {(row["word"], row["before"]): tuple(row["phones"].split()) for row in table}
