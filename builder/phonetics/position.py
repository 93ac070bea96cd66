"""Where a sound stands in a word: initial, medial or final, alone or in a cluster.

initial: no vowel before it in the word; final: no vowel after it; medial: otherwise.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from builder.phonetics.inventory import Sound, bare, is_vowel, sounds
from builder.phonetics.syllables import syllables

Position = Literal["initial", "medial", "final"]
POSITIONS: tuple[Position, ...] = ("initial", "medial", "final")


@dataclass(frozen=True)
class Occurrence:
    """One target in a word: phones [start, stop), its position(s), its cluster if any.

    positions: one; two only in a word without another vowel (`ear` holds the vowel + r alone).
    cluster:   the symbols of the consonant group in the same syllable, () for a singleton.
    abuts:     it touches a consonant of the neighbouring syllable (the c of `pencil`).
    """

    start: int
    stop: int
    positions: tuple[Position, ...]
    cluster: tuple[str, ...] = ()
    abuts: bool = False


def occurrences(phones: tuple[str, ...], sound: Sound) -> tuple[Occurrence, ...]:
    """Every place where `sound` stands in the transcription of one word, from left to right."""
    return tuple(_occurrence(phones, span) for span in _spans(phones, sound))


def _spans(phones: tuple[str, ...], sound: Sound) -> Iterator[tuple[int, int]]:
    plain = tuple(bare(p) for p in phones)
    start = 0
    while start < len(plain):
        match = next((c for c in sound.phones if plain[start : start + len(c)] == c), None)
        if match:
            yield start, start + len(match)
        start += len(match) if match else 1


def _occurrence(phones: tuple[str, ...], span: tuple[int, int]) -> Occurrence:
    start, stop = span
    before = any(map(is_vowel, phones[:start]))
    after = any(map(is_vowel, phones[stop:]))
    positions: list[Position] = []
    if not before:
        positions.append("initial")
    if not after:
        positions.append("final")
    vowel = is_vowel(phones[start])
    if not vowel and len(positions) == 2:
        positions = []  # a consonant in a word without a vowel stands nowhere
    group = () if vowel else _cluster(phones, start)
    return Occurrence(
        start, stop, tuple(positions) or ("medial",), group, not vowel and _abuts(phones, start)
    )


def _cluster(phones: tuple[str, ...], at: int) -> tuple[str, ...]:
    """The consonants of the same syllable that touch phone `at`, itself included; () if alone.

    An r straight after its vowel belongs to the vowel (`fork`, `horse`: vowel + r), and the
    glide of /ju/ to the vowel that follows (`cube`), unless they are the target themselves.
    """
    span = next(((a, b) for a, b in syllables(phones) if a <= at < b), None)
    if span is None:
        return ()
    low = high = at
    while low > span[0] and _joins(phones, low - 1):
        low -= 1
    while high + 1 < span[1] and _joins(phones, high + 1):
        high += 1
    group = tuple(phones[low : high + 1])
    return group if len(group) > 1 else ()


def _joins(phones: tuple[str, ...], at: int) -> bool:
    if is_vowel(phones[at]):
        return False
    if phones[at] == "R" and at > 0 and is_vowel(phones[at - 1]):
        return False
    return not (phones[at] == "Y" and bare(phones[at + 1] if at + 1 < len(phones) else "") == "UW")


def _abuts(phones: tuple[str, ...], at: int) -> bool:
    spans = syllables(phones)
    edges = {a for a, _ in spans[1:]}
    left = at in edges and not is_vowel(phones[at - 1])
    right = at + 1 in edges and not is_vowel(phones[at + 1])
    return left or right


def stands(phones: tuple[str, ...], sound: Sound, position: Position) -> tuple[Occurrence, ...]:
    """The occurrences of `sound` at `position`."""
    return tuple(o for o in occurrences(phones, sound) if position in o.positions)


def cluster_ipa(cluster: tuple[str, ...]) -> str:
    """A cluster in IPA: ("S", "K") gives "sk"."""
    return "".join(sounds()[symbol].ipa for symbol in cluster)
