"""How hard a word is to say: Word Complexity Measure, whole-word scores, neighbors.

What the papers leave open is decided here. h is no fricative. A cluster is two or more consonants
side by side in one syllable, counted once, by maximal onset. An r or j that is written as a
consonant counts as one: `star` ends in a consonant, `fork` and `music` hold a cluster.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
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


def whole_word_score(said: tuple[str, ...], phones: tuple[str, ...]) -> int:
    """The same of what a child said: segments said + consonants correct.

    Never more segments than the adult word has; consonants are correct where they stand in the
    adult form's order (longest common subsequence).
    """
    correct = _longest_common(_consonants(said), _consonants(phones))
    return min(len(said), len(phones)) + correct


def proximity(said: tuple[str, ...], phones: tuple[str, ...]) -> float:
    """Whole-word proximity: score of what was said / score of the adult form; 0 to 1."""
    return whole_word_score(said, phones) / target_score(phones)


def _consonants(phones: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(phone for phone in phones if not is_vowel(phone))


def _longest_common(one: tuple[str, ...], other: tuple[str, ...]) -> int:
    """Length of the longest common subsequence; row[j]: of what came so far and other[:j]."""
    row = [0] * (len(other) + 1)
    for a in one:
        before = row
        row = [0]
        for j, b in enumerate(other):
            row.append(before[j] + 1 if a == b else max(before[j + 1], row[j]))
    return row[-1]


def is_neighbour(one: tuple[str, ...], other: tuple[str, ...]) -> bool:
    """Whether two words differ by exactly one phone added, removed or replaced; stress is no
    difference. Luce & Pisoni 1998, Ear & Hearing 19, 1-36."""
    a, b = sorted((tuple(map(bare, one)), tuple(map(bare, other))), key=len)
    if a == b or len(b) - len(a) > 1:
        return False
    at = next((i for i, phone in enumerate(a) if phone != b[i]), len(a))
    rest = a[at:] if len(a) < len(b) else a[at + 1 :]
    return rest == b[at + 1 :]


def neighbours_among(
    phones: tuple[str, ...], words: Iterable[tuple[str, tuple[str, ...]]]
) -> tuple[str, ...]:
    """The words of a lexicon of (word, phones) that are neighbors; their number is the density.

    The lexicon decides the figure: leave out names and endings before counting.
    """
    return tuple(word for word, other in words if is_neighbour(phones, other))
