"""Where a sound stands in a word (initial, medial or final, alone or in a cluster), and as which
variant it is said there.

A consonant is initial with no vowel before it in the word, final with none after it, medial
otherwise. A vowel, with or without r, is initial as the first sound of the word, final as the last,
medial otherwise: `earth`, `her`, `bird` (common practice, no source).
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cache, lru_cache
from typing import Literal, NamedTuple

from builder.phonetics.inventory import Sound, bare, is_vowel, sounds, vocalic_r
from builder.phonetics.syllables import syllables
from builder.phonetics.tables import facts, in_full, rows

Position = Literal["initial", "medial", "final"]
Words = tuple[tuple[str, ...], ...]
"""The phones of every word."""
Focus = tuple[int, int, int]
"""A target in words: its word, its first phone, the one past its last."""
POSITIONS: tuple[Position, ...] = ("initial", "medial", "final")
# Where a vowel + r is taught, in order. Common practice, no source.
VOCALIC_POSITIONS: tuple[Position, ...] = ("final", "medial", "initial")


def among_all(words: Words, focus: Focus) -> tuple[int, int]:
    """[first, past) of a target among the phones of all words."""
    word, first, past = focus
    before = sum(map(len, words[:word]))
    return before + first, before + past


@dataclass(frozen=True)
class Occurrence:
    """One target in a word: phones [start, stop), its position(s), its cluster if any.

    positions: one; initial and final for what is alone in its word (`ear`).
    cluster:   the symbols of the consonant group in the same syllable, () for a singleton.
    abuts:     it touches a consonant of the neighboring syllable (the c of `pencil`); an r that
               belongs to its vowel does not count (the c of `parcel`).
    """

    start: int
    stop: int
    positions: tuple[Position, ...]
    cluster: tuple[str, ...] = ()
    abuts: bool = False


@lru_cache(maxsize=1 << 14)
def occurrences(phones: tuple[str, ...], sound: Sound) -> tuple[Occurrence, ...]:
    """Every place where `sound` stands in the transcription of one word, from left to right."""
    return tuple(_occurrence(phones, span) for span in _spans(phones, sound))


def _spans(phones: tuple[str, ...], sound: Sound) -> Iterator[tuple[int, int]]:
    plain = _plain(phones)
    if not any(choice[0] in plain for choice in sound.phones):
        return  # most words are turned away here
    start = 0
    while start < len(plain):
        match = next((c for c in sound.phones if plain[start : start + len(c)] == c), None)
        if match and not _ends_longer(plain[: start + len(match)], sound):
            yield start, start + len(match)
            start += len(match)
        else:
            start += 1


@cache
def _plain(phones: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(map(bare, phones))


def _ends_longer(plain: tuple[str, ...], sound: Sound) -> bool:
    """Whether a vowel + r there is the end of a longer one: the er of `fire`, which is an ire."""
    return any(plain[-len(longer) :] == longer for longer in _longer(sound.symbol))


@cache
def _longer(symbol: str, language: str = "en") -> tuple[tuple[str, ...], ...]:
    """How vowels + r are transcribed that end as this one does."""
    known, family = sounds(language), vocalic_r(language)
    return tuple(
        longer
        for other in family
        if known[symbol] in family and other.symbol != symbol
        for longer in other.phones
        if any(longer[-len(own) :] == own for own in known[symbol].phones)
    )


def _occurrence(phones: tuple[str, ...], span: tuple[int, int]) -> Occurrence:
    start, stop = span
    if is_vowel(phones[start]):
        return Occurrence(start, stop, _places(start > 0, stop < len(phones)))
    places = _places(any(map(is_vowel, phones[:start])), any(map(is_vowel, phones[stop:])))
    return Occurrence(start, stop, places, _cluster(phones, start), _abuts(phones, start))


def _places(before: bool, after: bool) -> tuple[Position, ...]:
    """The positions of what has something that counts before it, after it."""
    if before and after:
        return ("medial",)
    initial: tuple[Position, ...] = () if before else ("initial",)
    return initial if after else (*initial, "final")


def _cluster(phones: tuple[str, ...], at: int) -> tuple[str, ...]:
    """The consonants of the same syllable that touch phone `at`, itself included; () if alone.

    What counts with the vowel beside it (data/*_with_vowels.csv) is left out unless it is the
    target: the r of `fork` and `horse`, the glide of `cube` and `cure`.
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
    left, right = (with_vowels(side).get(phones[at], ()) for side in ("before", "after"))
    before = left and at > 0 and bare(phones[at - 1]) in left
    after = right and at + 1 < len(phones) and bare(phones[at + 1]) in right
    return not (before or after)


@cache
def with_vowels(side: str, language: str = "en") -> dict[str, frozenset[str]]:
    """The consonants that count with the vowel "before" or "after" them, and with which vowels."""
    every = {s.symbol for s in sounds(language).values() if is_vowel(s.symbol)}
    return {
        row["phone"]: frozenset(row["vowels"].split() or every)
        for row in rows("with_vowels", language)
        if row["vowel"] == side
    }


def _abuts(phones: tuple[str, ...], at: int) -> bool:
    spans = syllables(phones)
    edges = {a for a, _ in spans[1:]}
    left = at in edges and _joins(phones, at - 1)
    right = at + 1 in edges and _joins(phones, at + 1)
    return left or right


def stands(phones: tuple[str, ...], sound: Sound, position: Position) -> tuple[Occurrence, ...]:
    """The occurrences of `sound` at `position`."""
    return tuple(o for o in occurrences(phones, sound) if position in o.positions)


def usual_positions(sound: Sound) -> tuple[Position, ...]:
    """Where a sound is practiced unless somebody says otherwise, in order."""
    if sound.kind != "rhotic":
        return POSITIONS[:1]
    begins = sound.symbol in facts()["rhotics that begin words"].split()
    return VOCALIC_POSITIONS if begins else VOCALIC_POSITIONS[:2]


def in_order(positions: Iterable[str], sound: Sound) -> tuple[Position, ...]:
    """Positions in the order in which they are practiced."""
    there = set(positions)
    order = VOCALIC_POSITIONS if sound.kind == "rhotic" else POSITIONS
    return tuple(p for p in order if p in there)


def holds(phones: tuple[str, ...], sound: Sound) -> bool:
    """Whether a word holds a sound that is to be spared: the r of a vowel + r is no consonant r."""
    found = occurrences(phones, sound)
    if sound.kind != "consonant" or not found:
        return bool(found)
    with_r = {
        at for s in vocalic_r() for o in occurrences(phones, s) for at in range(o.start, o.stop)
    }
    return any(o.start not in with_r for o in found)


def cluster_ipa(cluster: tuple[str, ...]) -> str:
    """A cluster in IPA: ("S", "K") gives "sk"."""
    return "".join(sounds()[symbol].ipa for symbol in cluster)


SYLLABIC = "syllabic l"
R_OF_VOWEL = "r of its vowel"
FLAP = "flap"
GLOTTAL = "glottal t"


def variant(phones: tuple[str, ...], at: Occurrence, sound: Sound) -> str:
    """How a sound is said where it stands, when that has a name: of an l or r after its vowel dark
    l, syllabic l, r of its vowel; of a t or d inside the word flap, glottal t; else "". The
    contexts and their source: data/*_variants.csv."""
    found = _variant(phones, at.start, at.stop, sound.symbol)
    return found.name if found else ""


def flap_or_glottal(phones: tuple[str, ...], at: int) -> str:
    """Whether phone `at` is a flap (water, ladder) or a glottal t (button); "" for any other."""
    found = _variant(phones, at, at + 1, phones[at])
    return found.name if found and found.name in (FLAP, GLOTTAL) else ""


def heard_alike(phones: tuple[str, ...]) -> tuple[str, ...]:
    """The phones with every variant that two sounds share written as one of them: a flapped t as
    the d that is heard."""
    found = (_variant(phones, at, at + 1, phone) for at, phone in enumerate(phones))
    return tuple(
        one.heard if one and one.heard else p for one, p in zip(found, phones, strict=True)
    )


class _Variant(NamedTuple):
    """One named variant: the phones to its left and right as patterns, the sound it is heard as."""

    name: str
    before: re.Pattern[str]
    after: re.Pattern[str]
    heard: str


def _variant(phones: tuple[str, ...], start: int, stop: int, symbol: str) -> _Variant | None:
    listed = _variants().get(symbol, ())
    if not listed:
        return None
    before, after = f" {' '.join(phones[:start])}", f" {' '.join(phones[stop:])} "
    return next((v for v in listed if v.before.search(before) and v.after.match(after)), None)


@cache
def _variants(language: str = "en") -> dict[str, tuple[_Variant, ...]]:
    """The variants of each sound that has some, in order: the first that fits holds."""
    found: dict[str, tuple[_Variant, ...]] = {}
    for row in rows("variants", language):
        before = re.compile(f"(?:{in_full(row['before'])})$")
        one = _Variant(row["name"], before, re.compile(in_full(row["after"])), row["heard"])
        found[row["sound"]] = (*found.get(row["sound"], ()), one)
    return found
