"""Where a side of a contrast stands in a word, and what stands around it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from builder.phonetics.contrast import ContrastSide, Phones, belongs_to_vowel, one_apart
from builder.phonetics.inventory import bare, is_vowel
from builder.phonetics.minimal_pairs.words import IndexedWord
from builder.phonetics.position import Position, occurrences


@dataclass(frozen=True)
class SidePlace:
    """Where a side stands in a word: phones [start, stop)."""

    word: IndexedWord
    start: int
    stop: int
    positions: tuple[Position, ...]
    cluster: bool

    @property
    def left(self) -> Phones:
        """What comes before it."""
        return self.word.phones[: self.start]

    @property
    def right(self) -> Phones:
        """What comes after it."""
        return self.word.phones[self.stop :]


def places_of(word: IndexedWord, side: ContrastSide) -> Iterator[SidePlace]:
    """Every place of a side in a word: a single sound anywhere, a cluster whole."""
    first, group = side.sounds[0], len(side.sounds) > 1
    for found in occurrences(word.phones, first):
        if first.kind == "consonant" and belongs_to_vowel(word.phones, found.start):
            continue  # car holds a vowel with r, no consonant r
        if group and found.cluster != side.choices[0]:
            continue
        if group and word.phones[found.start : found.start + len(side.sounds)] != side.choices[0]:
            continue
        stop = found.start + len(side.sounds) if group else found.stop
        yield SidePlace(word, found.start, stop, found.positions, bool(found.cluster) and not group)


def in_cluster(word: IndexedWord, at: int, side: ContrastSide) -> bool:
    """Whether more consonants stand around a side than are its own."""
    own = side.choices[0] if len(side.sounds) > 1 else ()
    return any(
        found.cluster != own
        for sound in side.sounds[:1]
        for found in occurrences(word.phones, sound)
        if found.start == at
    )


def stressed_as(choice: Phones, place: SidePlace) -> Phones:
    """The phones of the other side, a vowel with the stress of the one it stands for."""
    digits = [phone[-1] for phone in place.word.phones[place.start : place.stop] if is_vowel(phone)]
    return tuple(phone + digits[0] if is_vowel(phone) and digits else phone for phone in choice)


def surroundings(place: SidePlace) -> tuple[Position, Phones, Phones]:
    """Its position, and the phones that touch it on either side."""
    return place.positions[0], place.left[-1:], place.right[:1]


def one_more_difference(here: SidePlace, there: SidePlace) -> bool:
    """One more difference, on one side; what touches the contrast is the same already."""
    if here.left == there.left:
        return one_apart(_plain(here.right), _plain(there.right))
    return here.right == there.right and one_apart(_plain(here.left), _plain(there.left))


def _plain(phones: Phones) -> Phones:
    return tuple(map(bare, phones))
