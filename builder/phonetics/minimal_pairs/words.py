"""The words that may make pairs: common enough, no forms of others, one for each pronunciation."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from typing import Protocol

from builder.phonetics.contrast import Phones

# Zipf: log10 of occurrences in 1,000,000,000 words. A word below once in a million words is rare
# (van Heuven et al. 2014, Quarterly Journal of Experimental Psychology 67, 1176-1190).
RARE_ZIPF = 3.0

Predicate = Callable[[str], bool]


class IndexedWord(Protocol):
    """What is asked of a word of the index: its commonest reading and its Zipf frequency."""

    @property
    def word(self) -> str:
        """As it is written."""

    @property
    def phones(self) -> Phones:
        """ARPABET with stress."""

    @property
    def zipf(self) -> float:
        """Its frequency, 0 when unknown."""

    @property
    def heteronym(self) -> bool:
        """Whether it is read in two ways."""

    @property
    def lemma_of(self) -> str:
        """The word of which it is a grammatical form, "" when of none."""


@dataclass(frozen=True)
class FurtherReading:
    """One word in one of its readings."""

    word: str
    phones: Phones
    zipf: float
    heteronym: bool
    lemma_of: str = ""


def offerable(
    words: Iterable[IndexedWord],
    fit: Callable[[IndexedWord], bool],
    readings: Callable[[str], tuple[Phones, ...]],
) -> Iterator[IndexedWord]:
    """The words that may be offered, those that are read in two ways once for each."""
    for word in itertools.takewhile(lambda word: word.zipf >= RARE_ZIPF, words):
        if word.lemma_of or not word.word.isalpha() or not fit(word):
            continue
        yield word
        for phones in readings(word.word) if word.heteronym else ():
            if phones != word.phones:
                yield FurtherReading(word.word, phones, word.zipf, True)


def best_by_pronunciation(
    words: Iterable[IndexedWord],
    pictured: Predicate,
    familiar: Predicate,
    learnt: Callable[[str], float],
) -> dict[Phones, IndexedWord]:
    """One word for every pronunciation: known, pictured, read in one way, learned early, common, in
    this order."""
    best: dict[Phones, IndexedWord] = {}

    def worth(word: IndexedWord) -> tuple[bool, bool, bool, float, float]:
        name = word.word
        one_way = not word.heteronym
        return familiar(name), pictured(name), one_way, -learnt(name), word.zipf

    for word in words:
        known = best.get(word.phones)
        if known is None or worth(word) > worth(known):
            best[word.phones] = word
    return best
