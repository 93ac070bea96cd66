"""A text to read aloud or to tell again: its words as they are said, and every target in it.

Words are taken in their best-founded reading: nobody has said that a word of a text is there for
its target, so no other reading is chosen for its sake.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import lru_cache

from builder.phonetics.inventory import Sound
from builder.phonetics.lexicon.readings import entry
from builder.phonetics.position import Occurrence, Position, occurrences
from builder.phonetics.spelling import fits, target_letters

WORD = re.compile(r"[^\W_]+(?:['’][^\W_]+)*")
Parts = tuple[tuple[str, bool], ...]


@dataclass(frozen=True)
class PassageWord:
    """One word: letters from `begin` on; phones () where its pronunciation is not known."""

    text: str
    begin: int
    phones: tuple[str, ...]
    guessed: bool
    heteronym: bool


@dataclass(frozen=True)
class PassageTarget:
    """One target, by its word and its place in it."""

    word: PassageWord
    at: Occurrence


@dataclass(frozen=True)
class Places:
    """Where targets count. clusters: () is the sound alone; None: in any cluster and alone."""

    positions: tuple[Position, ...]
    clusters: frozenset[tuple[str, ...]] | None

    def hold(self, found: Occurrence) -> bool:
        """Whether an occurrence counts."""
        known = self.clusters is None or found.cluster in self.clusters
        return known and any(position in self.positions for position in found.positions)


@lru_cache(maxsize=64)
def words_of_passage(text: str) -> tuple[PassageWord, ...]:
    """Every word of a text, in its order."""
    return tuple(_word(found[0], found.start()) for found in WORD.finditer(text))


def _word(text: str, begin: int) -> PassageWord:
    known = entry(text)
    phones = known.readings[0].phones if known.readings else ()
    return PassageWord(text, begin, phones, known.guessed, known.heteronym)


def targets_in(text: str, sound: Sound) -> tuple[PassageTarget, ...]:
    """Every place of the sound in a text, in its order, whether it counts or not."""
    return tuple(
        PassageTarget(word, found)
        for word in words_of_passage(text)
        for found in occurrences(word.phones, sound)
    )


def counted(text: str, sound: Sound, places: Places) -> tuple[PassageTarget, ...]:
    """The targets that count."""
    return tuple(target for target in targets_in(text, sound) if places.hold(target.at))


def per_word(text: str, targets: Iterable[PassageTarget]) -> tuple[int, ...]:
    """How many of the targets lie in each word of a text."""
    found = Counter(target.word.begin for target in targets)
    return tuple(found[word.begin] for word in words_of_passage(text))


def uncertain_words(text: str, sound: Sound) -> tuple[str, ...]:
    """Words of which one of two meanings has more or other targets: `use`, `close` for /s/."""
    found = (word for word in words_of_passage(text) if word.heteronym)
    return tuple(dict.fromkeys(word.text.lower() for word in found if _differs(word.text, sound)))


def _differs(text: str, sound: Sound) -> bool:
    readings = (one for one in entry(text).readings if len(one.sources) > 1)
    return len({_places_of(one.phones, sound) for one in readings}) > 1


def _places_of(
    phones: tuple[str, ...], sound: Sound
) -> tuple[tuple[tuple[Position, ...], tuple[str, ...]], ...]:
    return tuple((found.positions, found.cluster) for found in occurrences(phones, sound))


def marked(text: str, targets: Iterable[PassageTarget]) -> tuple[Parts, ...]:
    """The text by paragraphs, each in parts, True where letters spell a target that is given.

    Where the letters cannot be told, the whole word is set off: what counts is always to be seen.
    """
    letters = sorted({at for target in targets for at in _letters(target)})
    begin = 0
    paragraphs = []
    for line in text.split("\n"):
        if line.strip():
            here = [at - begin for at in letters if begin <= at < begin + len(line)]
            paragraphs.append(tuple(_cut(line, here)))
        begin += len(line) + 1
    return tuple(paragraphs)


def _letters(target: PassageTarget) -> Iterator[int]:
    """The places in the text of the letters of one target."""
    word, at = target.word, target.word.begin
    if not fits(word.text, word.phones):
        yield from range(at, at + len(word.text))
        return
    for part, spells in target_letters(word.text, word.phones, target.at.start, target.at.stop):
        if spells:
            yield from range(at, at + len(part))
        at += len(part)


def _cut(line: str, letters: list[int]) -> Iterator[tuple[str, bool]]:
    there, begin = set(letters), 0
    for at in range(1, len(line) + 1):
        if at == len(line) or (at in there) != (begin in there):
            yield line[begin:at], begin in there
            begin = at
