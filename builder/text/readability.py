"""How hard a short text is to read: Flesch-Kincaid grade.

Syllables are those of the lexicon; a word that it does not know is counted by its letters.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from builder.phonetics.inventory import is_vowel
from builder.phonetics.lexicon.dictionary import pronunciations

WORD = re.compile(r"[^\W\d_]+(?:['’-][^\W\d_]+)*")
SENTENCE = re.compile(r"[.!?;:]+(?:\s|$)|\n")


@dataclass(frozen=True)
class Counts:
    """What the formula needs."""

    words: int
    sentences: int
    syllables: int


def counts(text: str) -> Counts:
    """Words, sentences and syllables; a colon or semicolon ends a sentence too, as Flesch counts
    (from memory), and a text without an end mark is one sentence."""
    words = words_in(text)
    sentences = sum(1 for part in SENTENCE.split(text) if WORD.search(part))
    return Counts(len(words), sentences, sum(map(syllables_of, words)))


def words_in(text: str) -> list[str]:
    """The words of a text, in their order."""
    return WORD.findall(text)


def grade(number: Counts) -> float:
    """School grade, 0.39 words/sentences + 11.8 syllables/words - 15.59; 0.0 without a word.

    Source: Kincaid, Fishburne, Rogers & Chissom 1975, Research Branch Report 8-75 (US Navy).
    """
    if not number.words:
        return 0.0
    a, b = number.words / number.sentences, number.syllables / number.words
    return 0.39 * a + 11.8 * b - 15.59


def syllables_of(word: str) -> int:
    """Syllables of one word, at least 1; the parts of a hyphened word are counted apart."""
    return sum(_syllables(part) for part in word.split("-") if part)


def _syllables(word: str) -> int:
    plain = word.replace("’", "'")
    forms = pronunciations(plain) or pronunciations(plain.removesuffix("'s"))
    return max(1, sum(map(is_vowel, forms[0]))) if forms else by_letters(plain)


def by_letters(word: str) -> int:
    """Groups of vowel letters, without a silent e, es or ed at the end (an estimate, no source)."""
    plain = re.sub(r"[^a-z]", "", word.lower())
    groups = len(re.findall(r"[aeiouy]+", plain))
    silent = re.search(r"([^aeiouyl]|[aeiouy]l)e$|[^aeiouytd]ed$|[^aeiouyscxzgh]es$", plain)
    return max(1, groups - (1 if silent and groups > 1 else 0))
