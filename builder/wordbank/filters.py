"""Which words come into question: what was asked for, and what no word bank offers.

Only single words that a client of this age knows (on our graded list, or things, rated as such by
people and either common or drawn): names, abbreviations and odd words fall out by that. With
`common`, every common word that was rated, with `wide` every rated word at all; both are ranked
down. The index comes in as what this file calls `Words`.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import takewhile
from typing import Protocol

from builder.make import drawings
from builder.phonetics.inventory import Sound, bare, is_vowel
from builder.phonetics.lexicon.function_words import is_function_word
from builder.phonetics.minimal_pairs.words import RARE_ZIPF
from builder.phonetics.position import Occurrence, Position, occurrences
from builder.phonetics.syllables import syllable_counts, syllables
from builder.wordbank.learnt import ADULT, is_for, is_too_childish
from builder.wordbank.norms import MIN_CONCRETENESS, classes, everyday, norm
from builder.wordbank.unsuitable import is_unsuitable

MIN_ZIPF = 2.0  # Zipf: once in ten million words; rarer words are not looked at
WIDE_MIN_ZIPF = 2.7  # Zipf: the same when forms or words that children may not know are asked for
UNSUITABLE = "it is on the list of unsuitable words"
Cluster = tuple[str, ...] | None


class Row(Protocol):
    """A word of the index."""

    @property
    def word(self) -> str: ...  # noqa: D102
    @property
    def phones(self) -> tuple[str, ...]: ...  # noqa: D102
    @property
    def zipf(self) -> float: ...  # noqa: D102
    @property
    def agreed(self) -> bool: ...  # noqa: D102
    @property
    def heteronym(self) -> bool: ...  # noqa: D102
    @property
    def lemma_of(self) -> str: ...  # noqa: D102


class Words(Protocol):
    """What the word bank needs of the index."""

    def all(self) -> Iterator[Row]:
        """Every word, commonest first."""

    def row(self, word: str) -> Row | None:
        """One word."""

    def neighbours(self, phones: tuple[str, ...]) -> tuple[str, ...]:
        """The words that differ in one phone."""


@dataclass(frozen=True, kw_only=True)
class Query:
    """What is asked for.

    cluster:   () the sound alone; None alone or not; else the symbols of the cluster.
    syllables: least and most.
    stress:    of the target's syllable: stressed, unstressed, or "" for either.
    vowels:    one of these stands beside the target; () for any.
    least:     frequency on the Zipf scale.
    without:   sounds that the word must not hold.
    kind:      noun, verb or adjective, among the words that children know; "" for any.
    endings:   also grammatical forms (`cats`).
    common:    also words that children may not know, where they are common and no small words.
    wide:      also words that children may not know, on which sources disagree, small words.
    """

    sound: Sound
    position: Position
    cluster: Cluster = ()
    syllables: tuple[int, int] = (1, 99)
    stress: str = ""
    vowels: tuple[Sound, ...] = ()
    least: float = MIN_ZIPF
    pictured: bool = False
    without: tuple[Sound, ...] = ()
    kind: str = ""
    endings: bool = False
    common: bool = False
    wide: bool = False
    age: int | None = None


@dataclass(frozen=True)
class Candidate:
    """A word that fits. target: the occurrence that was asked for; all: every one in the word."""

    row: Row
    target: Occurrence
    all: tuple[Occurrence, ...]

    @property
    def syllables(self) -> int:
        """How many syllables the word has."""
        return _syllable_count(self.row.phones)


def candidates(words: Words, query: Query) -> Iterator[Candidate]:
    """The words that fit, in no certain order."""
    for row in _rows(words, query):
        if not why_outside(row, query) and not why_unsuited(row, query):
            found = candidate_of(row, query)
            if found is not None:
                yield found


def _rows(words: Words, query: Query) -> Iterator[Row]:
    """The words that hold the sound at all: cheap, since it is asked of tens of thousands."""
    firsts = {phones[0] + stress for phones in query.sound.phones for stress in ("", *"012")}
    found: Iterator[Row]
    if query.wide or query.endings or query.common:
        least = max(query.least, WIDE_MIN_ZIPF if query.wide or query.endings else RARE_ZIPF)
        found = takewhile(lambda row: row.zipf >= least, words.all())
    else:
        found = (row for row in map(words.row, everyday()) if row)
    return (row for row in found if not firsts.isdisjoint(row.phones))


def why_unsuited(row: Row, query: Query) -> str:
    """Why a word is not offered, wherever its sounds stand; "" for one that may be."""
    if not row.word.isascii() or not row.word.isalpha() or len(row.word) < 2:
        return "it is no single plain word"
    if is_unsuitable(row.word, row.lemma_of):
        return UNSUITABLE
    if not knows(row, query.age) and not _let_in(row, query):
        if is_function_word(row.word):
            return "it is a small word, said in phrases (`--wide` offers such words too)"
        return f"{_who(query.age)} may not know it (`--wide` offers such words too)"
    if is_too_childish(row.word, query.age):
        return "it is a small child's word"
    if not row.agreed and not query.wide:
        return "the sources disagree on how it is said (`--wide` offers such words too)"
    return ""


def _who(age: int | None) -> str:
    if age is None:
        return "children"
    return "a client" if age >= ADULT else f"a client of {age}"


def why_outside(row: Row, query: Query) -> str:
    """Why a word is not offered for this query, be it ever so good; "" for one that may be."""
    if row.zipf < query.least:
        return f"it is rarer than Zipf {query.least:g}"
    if row.lemma_of and not query.endings:
        return f"it is a form of '{row.lemma_of}'"
    return ""


def knows(row: Row, age: int | None) -> bool:
    """Whether a client of this age knows the word, or the one of which it is a form: it is on our
    list, or a thing that is common or drawn, and is learned by then."""
    return any(
        (classes(word) or _is_thing(word, row.zipf)) and is_for(word, age)
        for word in (row.word, row.lemma_of)
        if word
    )


def _is_thing(word: str, zipf: float) -> bool:
    rated = norm(word)
    if rated is None or rated.concreteness < MIN_CONCRETENESS or is_function_word(word):
        return False
    return zipf >= RARE_ZIPF or drawings.find(word) is not None


def _let_in(row: Row, query: Query) -> bool:
    """Whether a word that is not of every day comes in by `wide` or `common`: rated by people."""
    rated = any(norm(word) for word in (row.word, row.lemma_of) if word)
    usual = row.zipf >= RARE_ZIPF and not is_function_word(row.word)
    return rated and (query.wide or (query.common and usual))


def candidate_of(row: Row, query: Query) -> Candidate | None:
    """The word with the occurrence that was asked for; None when something does not fit."""
    found = occurrences(row.phones, query.sound)
    there = (o for o in found if query.position in o.positions and _place_fits(row, o, query))
    target = next(there, None)
    if target is None or not _word_fits(row, query):
        return None
    return Candidate(row, target, found)


def _place_fits(row: Row, at: Occurrence, query: Query) -> bool:
    return (
        (query.cluster is None or at.cluster == query.cluster)
        and not (query.sound.kind == "rhotic" and _r_begins_stressed(row.phones, at))
        and (not query.stress or stressed(row.phones, at) is (query.stress == "stressed"))
        and (not query.vowels or any(beside(row.phones, at, v) for v in query.vowels))
    )


def _r_begins_stressed(phones: tuple[str, ...], at: Occurrence) -> bool:
    """Whether the r of a vowel with r begins the stressed syllable: no ear is heard in eraser."""
    return at.stop < len(phones) and phones[at.stop].endswith("1")


def _word_fits(row: Row, query: Query) -> bool:
    low, high = query.syllables
    return (
        low <= _syllable_count(row.phones) <= high
        and not any(occurrences(row.phones, sound) for sound in query.without)
        and (not query.kind or query.kind in classes(row.word))
        and (not query.pictured or drawings.find(row.word) is not None)
    )


def _syllable_count(phones: tuple[str, ...]) -> int:
    """How many syllables: a vowel each, a vowel + r one."""
    return syllable_counts(phones)[0]


def stressed(phones: tuple[str, ...], at: Occurrence) -> bool:
    """Whether the target stands in the syllable with the main stress; a lone syllable has it."""
    spans = syllables(phones)
    span = next((s for s in spans if s[0] <= at.start < s[1]), None)
    if span is None:
        return False
    return len(spans) == 1 or any(phone.endswith("1") for phone in phones[span[0] : span[1]])


def beside(phones: tuple[str, ...], at: Occurrence, vowel: Sound) -> bool:
    """Whether the vowel touches the target: straight before or after it."""
    spans = [(o.start, o.stop) for o in occurrences(phones, vowel)]
    return any(stop == at.start or start == at.stop for start, stop in spans)


def vowels_beside(phones: tuple[str, ...], at: Occurrence) -> tuple[str, ...]:
    """The symbols of the vowels that touch the target."""
    touching = (*phones[max(at.start - 1, 0) : at.start], *phones[at.stop : at.stop + 1])
    return tuple(bare(phone) for phone in touching if is_vowel(phone))
