"""A small stand-in for the index: rows written in the test, or made of CMUdict and wordfreq."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cache

from wordfreq import zipf_frequency

from builder.phonetics.complexity import neighbour_forms
from builder.phonetics.inventory import bare
from builder.phonetics.lexicon import dictionary
from builder.phonetics.lexicon.dictionary import pronunciations
from builder.wordbank import unsuitable
from builder.wordbank.norms import everyday


@dataclass(frozen=True)
class Row:
    word: str
    phones: tuple[str, ...]
    zipf: float = 4.0
    agreed: bool = True
    heteronym: bool = False
    lemma_of: str = ""


class Few:
    """What the word bank needs of the index, from rows in memory."""

    def __init__(self, rows: Iterable[Row]) -> None:
        self._rows = {row.word: row for row in sorted(rows, key=lambda r: (-r.zipf, r.word))}

    def close(self) -> None:
        """There is nothing to let go."""

    def all(self) -> Iterator[Row]:
        return iter(self._rows.values())

    def row(self, word: str) -> Row | None:
        return self._rows.get(word.lower())

    def neighbours(self, phones: tuple[str, ...]) -> tuple[str, ...]:
        near = neighbour_forms(phones)
        return tuple(r.word for r in self._rows.values() if tuple(map(bare, r.phones)) in near)


def few(*lines: str) -> Few:
    """Rows from lines such as 'key K IY1'."""
    return Few(Row(line.split()[0], tuple(line.split()[1:])) for line in lines)


@cache
def many() -> Few:
    """Every word that may be offered, and the unsuitable ones, as CMUdict says them first."""
    words = sorted({*everyday(), *unsuitable.words()})
    dictionary.load()  # thousands of words are asked for
    said = {word: pronunciations(word) for word in words}
    dictionary.unload()
    return Few(Row(w, said[w][0], zipf_frequency(w, "en")) for w in words if said[w])
