"""Pairs of words for contrast: two words that differ in one sound and in nothing else.

A side of a contrast is a sound, a cluster of consonants, or nothing. Where pairs are few, near
ones join them: words that differ in the contrast and in one more sound, farther away from it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass

from builder.phonetics.contrast import ContrastSide, Phones, check_sides, one_sound_apart
from builder.phonetics.minimal_pairs.side_place import (
    SidePlace,
    in_cluster,
    one_more_difference,
    places_of,
    stressed_as,
    surroundings,
)
from builder.phonetics.minimal_pairs.words import (
    IndexedWord,
    Predicate,
    best_by_pronunciation,
    offerable,
)
from builder.phonetics.position import Position, flap_or_glottal, occurrences

MAX_ZIPF = 5.0  # Zipf; above it a word is no better for practice
MIN_PAIRS = 6  # pairs; when there are fewer, near pairs join them


@dataclass(frozen=True, kw_only=True)
class Pair:
    """Two words, in the order of the sides that were asked for.

    position: where the contrast stands in the first word.
    at:       number of the phone in the first word at which it begins.
    cluster:  it stands among other consonants in one of the words.
    flapped:  the contrast is a flap or a glottal t in one of the words.
    near:     the words differ in one more sound.
    again:    one of the two sounds stands in the pair once more (cake and take, kite and tight).
    pictured, known: how many of the two there is a picture of, and the client knows.
    """

    words: tuple[IndexedWord, IndexedWord]
    position: Position
    at: int
    cluster: bool
    flapped: bool
    near: bool
    again: bool
    pictured: int
    known: int


def pairs(
    one: ContrastSide,
    other: ContrastSide,
    words: Iterable[IndexedWord],
    position: Position | None = None,
    *,
    fit: Callable[[IndexedWord], bool] = lambda word: True,
    pictured: Predicate = lambda word: False,
    known: Predicate = lambda word: False,
    learnt: Callable[[str], float] = lambda word: 0.0,
    readings: Callable[[str], tuple[Phones, ...]] = lambda word: (),
    least: int = MIN_PAIRS,
) -> tuple[Pair, ...]:
    """The pairs of two sides, best first; near ones only when there are fewer than `least`.

    words:    commonest first; rare ones, forms of other words and those not `fit` are left out.
    learnt:   when a word is learned, in years; of words that sound alike the earlier is taken.
    readings: of a word that is read in two ways, all; each may make a pair.
    Order: minimal before near, flaps last, alone before in a cluster; then both words known before
    one or none, neither sound again in the pair, both pictured before one or none, both read in
    one way; then the commoner, by the rarer word of each pair.
    """
    check_sides(one, other)
    finder = _Finder(
        one,
        other,
        position,
        pictured,
        known,
        best_by_pronunciation(offerable(words, fit, readings), pictured, known, learnt),
    )
    found = list(finder.minimal())
    if len(found) < least and len(one.sounds) == len(other.sounds):
        found += finder.near({p.words[i].word for p in found for i in (0, 1)})
    return tuple(sorted(found, key=_rank))


def _rank(pair: Pair) -> tuple[object, ...]:
    first, second = pair.words
    common = min(first.zipf, second.zipf, MAX_ZIPF)
    length = len(first.phones) + len(second.phones)
    last = (pair.near, pair.flapped, pair.cluster)
    two_ways = first.heteronym + second.heteronym
    rest = (-common, length, first.word)
    return (*last, -pair.known, pair.again, -pair.pictured, two_ways, *rest)


@dataclass(frozen=True)
class _Finder:
    one: ContrastSide
    other: ContrastSide
    position: Position | None
    pictured: Predicate
    known: Predicate
    words: Mapping[Phones, IndexedWord]

    def minimal(self) -> Iterator[Pair]:
        """Every word with the longer side, and the word that it becomes with the shorter."""
        turned = len(self.one.sounds) < len(self.other.sounds)
        full, short = (self.other, self.one) if turned else (self.one, self.other)
        for place in self._places(full):
            for choice in short.choices:
                found = self.words.get((*place.left, *stressed_as(choice, place), *place.right))
                if found is None or found.word == place.word.word:
                    continue
                if one_sound_apart(place.word.phones, found.phones) is None:
                    continue  # the r of borrow begins a syllable
                cluster = place.cluster or in_cluster(found, place.start, short)
                if cluster and len(short.sounds) != len(full.sounds):
                    continue  # past and pass show st and s, not t and nothing
                yield self._pair(place, found, cluster, turned, near=False)

    def _places(self, side: ContrastSide) -> Iterator[SidePlace]:
        for word in self.words.values():
            for place in places_of(word, side):
                if self.position is None or self.position in place.positions:
                    yield place

    def _pair(
        self, place: SidePlace, found: IndexedWord, cluster: bool, turned: bool, near: bool
    ) -> Pair:
        both = (found, place.word) if turned else (place.word, found)
        position = self.position or place.positions[0]
        pictured = sum(self.pictured(word.word) for word in both)
        known = sum(self.known(word.word) for word in both)
        return Pair(
            words=both,
            position=position,
            at=place.start,
            cluster=cluster,
            flapped=any(_is_flapped(word, place.start) for word in both),
            near=near,
            again=_again(both, (self.one, self.other)),
            pictured=pictured,
            known=known,
        )

    def near(self, taken: set[str]) -> Iterator[Pair]:
        """Words with one more difference, not beside the contrast; each word is used once."""
        groups: dict[tuple[Position, Phones, Phones], list[SidePlace]] = {}
        for place in self._places(self.other):
            if not place.cluster:
                groups.setdefault(surroundings(place), []).append(place)
        candidates = [
            self._pair(here, there.word, False, False, near=True)
            for here in self._places(self.one)
            if not here.cluster
            for there in groups.get(surroundings(here), ())
            if one_more_difference(here, there)
            and one_sound_apart(here.word.phones, there.word.phones) is None  # flaps are alike
        ]
        for pair in sorted(candidates, key=_rank):
            names = {word.word for word in pair.words}
            if not names & taken:
                taken |= names
                yield pair


def _is_flapped(word: IndexedWord, at: int) -> bool:
    return at < len(word.phones) and bool(flap_or_glottal(word.phones, at))


def _again(
    words: tuple[IndexedWord, IndexedWord], sides: tuple[ContrastSide, ContrastSide]
) -> bool:
    """Whether a word holds its own sound twice, or that of the other; of single sounds only."""
    if any(len(side.sounds) > 1 for side in sides):
        return False
    return any(
        len(occurrences(word.phones, sound)) > (side is own)
        for word, own in zip(words, sides, strict=True)
        for side in sides
        for sound in side.sounds
    )
