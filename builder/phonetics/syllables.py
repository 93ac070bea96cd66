"""Syllables by maximal onset: consonants go to the right-hand vowel as long as they may begin
a word. Source of the rule and of the onsets: data/*_onsets.txt."""

from __future__ import annotations

from functools import cache
from itertools import pairwise

from builder.phonetics.inventory import bare, is_vowel, sounds
from builder.phonetics.tables import lines

NOT_ONSET = "not"  # at the start of a line: consonants that alone may not begin a syllable


@cache
def onsets(language: str = "en") -> frozenset[tuple[str, ...]]:
    """The groups of two or more consonants that may begin a syllable."""
    groups = (tuple(line.split()) for line in lines("onsets.txt", language))
    return frozenset(group for group in groups if group[0] != NOT_ONSET)


@cache
def _never_onsets(language: str = "en") -> frozenset[tuple[str, ...]]:
    """The single consonants that may not begin a syllable."""
    groups = (tuple(line.split()) for line in lines("onsets.txt", language))
    return frozenset((symbol,) for group in groups if group[0] == NOT_ONSET for symbol in group[1:])


def may_begin(group: tuple[str, ...]) -> bool:
    """Whether a group of consonants may begin a syllable."""
    if len(group) <= 1:
        return group not in _never_onsets()
    return group in onsets()


@cache
def syllables(phones: tuple[str, ...]) -> tuple[tuple[int, int], ...]:
    """The syllables of a word as spans [start, stop) over its phones; () without a vowel."""
    nuclei = [i for i, phone in enumerate(phones) if is_vowel(phone)]
    if not nuclei:
        return ()
    starts = [0]
    for left, right in zip(nuclei, nuclei[1:], strict=False):
        cut = left + 1
        while not may_begin(phones[cut:right]):
            cut += 1
        starts.append(cut)
    return tuple(zip(starts, [*starts[1:], len(phones)], strict=True))


def syllable_counts(phones: tuple[str, ...]) -> tuple[int, ...]:
    """How many syllables a word may be said to have: one count, or two for `fire`, whose vowel + r
    dictionaries write as two vowels and most people say as one."""
    most = len(syllables(phones))
    drawn = sum(pair in _vowel_pairs() for pair in pairwise(map(bare, phones)))
    return (most - drawn, most) if drawn else (most,)


@cache
def _vowel_pairs(language: str = "en") -> frozenset[tuple[str, ...]]:
    """The vowels + r that are written as two vowels: AY ER."""
    ways = (way for sound in sounds(language).values() for way in sound.phones)
    return frozenset(way for way in ways if len(way) == 2 and all(map(is_vowel, way)))
