"""How hard a word is to say: Word Complexity Measure, whole-word score; what is a phone away.

What the papers leave open is decided here. h is no fricative. A cluster is two or more consonants
side by side in one syllable, counted once, by maximal onset. An r or j that is written as a
consonant counts as one: `star` ends in a consonant, `fork` and `music` hold a cluster.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from itertools import groupby

from builder.phonetics.inventory import bare, is_vowel, sounds
from builder.phonetics.syllables import syllables

BREATH_PLACE = "glottal"  # h: only breath
FRICTION_MANNERS = ("fricative", "affricate")


@dataclass(frozen=True)
class Point:
    """One point of complexity: for what, and on which phones [start, stop)."""

    rule: str
    start: int
    stop: int


def complexity(phones: tuple[str, ...]) -> int:
    """Word Complexity Measure (Stoel-Gammon 2010, Clinical Linguistics & Phonetics 24, 271-282)."""
    return len(complexity_points(phones))


@lru_cache(maxsize=4096)
def complexity_points(phones: tuple[str, ...]) -> tuple[Point, ...]:
    """Every point of the Word Complexity Measure: word pattern, syllables, sounds in order."""
    return (*_pattern(phones), *_structure(phones), *_sounds(phones))


def _pattern(phones: tuple[str, ...]) -> Iterator[Point]:
    spans = syllables(phones)
    if len(spans) > 2:
        yield Point("more than two syllables", 0, len(phones))
    main = next((i for i, phone in enumerate(phones) if phone.endswith("1")), None)
    if main is not None and main >= spans[0][1]:
        yield Point("main stress not on the first syllable", main, main + 1)


def _structure(phones: tuple[str, ...]) -> Iterator[Point]:
    if phones and not is_vowel(phones[-1]):
        yield Point("ends in a consonant", len(phones) - 1, len(phones))
    for start, stop in syllables(phones):
        for vowel, group in groupby(range(start, stop), key=lambda i: is_vowel(phones[i])):
            places = list(group)
            if not vowel and len(places) > 1:
                yield Point("cluster", places[0], places[-1] + 1)


def _sounds(phones: tuple[str, ...]) -> Iterator[Point]:
    for at, phone in enumerate(phones):
        sound = sounds()[bare(phone)]
        if sound.place == "velar":
            yield Point("velar", at, at + 1)
        if sound.manner == "liquid" or sound.kind == "rhotic":
            yield Point("liquid or r-colored vowel", at, at + 1)
        if sound.manner in FRICTION_MANNERS and sound.place != BREATH_PLACE:
            yield Point("fricative or affricate", at, at + 1)
            if sound.voiced:
                yield Point("and voiced", at, at + 1)


def target_score(phones: tuple[str, ...]) -> int:
    """Whole-word score of the adult form: its segments + its consonants.

    Ingram 2002, Journal of Child Language 29, 713-733.
    """
    return len(phones) + len(_consonants(phones))


def _consonants(phones: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(phone for phone in phones if not is_vowel(phone))


def neighbour_forms(phones: tuple[str, ...]) -> frozenset[tuple[str, ...]]:
    """Every sequence of phones that is one phone away: put in, taken away or replaced. Stress is no
    difference, and stands in none of them. Luce & Pisoni 1998, Ear & Hearing 19, 1-36."""
    plain = tuple(map(bare, phones))
    symbols = [(s.symbol,) for s in sounds().values() if len(s.phones[0]) == 1]
    found = set()
    for at in range(len(plain) + 1):
        before, here, after = plain[:at], plain[at:], plain[at + 1 :]
        found |= {(*before, *new, *here) for new in symbols}
        if here:
            found |= {(*before, *new, *after) for new in [(), *symbols]}
    return frozenset(found - {plain, ()})
