"""The two sides of a contrast: a sound, a cluster of consonants, or nothing; and what it means
that two words, or two sides, are one sound apart."""

from __future__ import annotations

import itertools
from dataclasses import dataclass

from builder.phonetics.clusters import NotAClusterError, parse_cluster
from builder.phonetics.features import differing
from builder.phonetics.inventory import (
    Sound,
    UnknownSoundError,
    bare,
    is_vowel,
    parse_sound,
    sounds,
    two_sounds,
)
from builder.phonetics.position import heard_alike, with_vowels

NO_SOUND = "-"
Phones = tuple[str, ...]
Span = tuple[int, int]
NamedSpans = list[tuple[str, Span]]


class ContrastError(ValueError):
    """Two sides that no pair of words can show. The message says why."""


@dataclass(frozen=True)
class ContrastSide:
    """One side of a contrast: the sounds that stand there, none for nothing."""

    sounds: tuple[Sound, ...]

    @property
    def ipa(self) -> str:
        """As in "s", "sp", or "∅" for nothing."""
        return "".join(sound.ipa for sound in self.sounds) or "∅"

    @property
    def choices(self) -> tuple[Phones, ...]:
        """Every way a transcription writes it, without stress: ("S", "P")."""
        ways = itertools.product(*(sound.phones for sound in self.sounds))
        return tuple(tuple(itertools.chain.from_iterable(way)) for way in ways)


def parse_side(typed: str) -> ContrastSide:
    """A side as typed: a sound, a cluster (`sp`), or `-`. Raises UnknownSoundError."""
    if typed.strip() == NO_SOUND:
        return ContrastSide(())
    try:
        return ContrastSide((parse_sound(typed),))
    except UnknownSoundError as no_sound:
        if typed.strip().lower() in two_sounds():
            raise
        try:
            return ContrastSide(tuple(sounds()[phone] for phone in parse_cluster(typed)))
        except NotAClusterError:
            raise no_sound from None


def check_sides(one: ContrastSide, other: ContrastSide) -> None:
    """Raises ContrastError when the sides are the same or more than one sound apart."""
    if one == other:
        raise ContrastError(f"/{one.ipa}/ against itself is no contrast")
    if not one_apart(one.sounds, other.sounds):
        raise ContrastError(
            f"/{one.ipa}/ and /{other.ipa}/ differ in more than one sound, so no pair of words "
            "can differ in one sound only"
        )
    kinds = {sound.kind == "consonant" for sound in (*one.sounds, *other.sounds)}
    if len(kinds) > 1:
        raise ContrastError("a consonant never stands in the place of a vowel")


def one_apart(one: tuple[object, ...], other: tuple[object, ...]) -> bool:
    """Whether two rows differ by exactly one entry added, removed or replaced."""
    if len(one) > len(other):
        one, other = other, one
    if len(other) - len(one) > 1:
        return False
    at = next((i for i, (a, b) in enumerate(zip(one, other, strict=False)) if a != b), len(one))
    rest = at + 1 if len(one) == len(other) else at
    return one != other and one[rest:] == other[at + 1 :]


def one_sound_apart(one: Phones, other: Phones) -> tuple[Span, Span] | None:
    """The phones [start, stop) in which two words differ, when they do so in exactly one sound.

    Stress does not count. A vowel with the r of its syllable may count as one sound: bird, bard.
    A flapped t is a flapped d: latter and ladder do not differ.
    """
    one, other = heard_alike(one), heard_alike(other)
    found = (
        _spans_apart(cut(one), cut(other), len(one), len(other))
        for cut in (_phone_by_phone, _sound_by_sound)
    )
    return next(filter(None, found), None) if one and other else None


def _spans_apart(
    here: NamedSpans, there: NamedSpans, length: int, other: int
) -> tuple[Span, Span] | None:
    names, others = tuple(name for name, _ in here), tuple(name for name, _ in there)
    if not one_apart(names, others):
        return None
    both = enumerate(zip(names, others, strict=False))
    at = next((i for i, (a, b) in both if a != b), min(len(names), len(others)))
    longer = len(names) - len(others)
    return _span_at(here, at, longer >= 0, length), _span_at(there, at, longer <= 0, other)


def _phone_by_phone(phones: Phones) -> NamedSpans:
    return [(bare(phone), (at, at + 1)) for at, phone in enumerate(phones)]


def _sound_by_sound(phones: Phones) -> NamedSpans:
    """The sounds of a word with their phones, an r that belongs to its vowel in one with it."""
    found: NamedSpans = []
    for at, phone in enumerate(phones):
        if belongs_to_vowel(phones, at):
            found[-1] = (f"{found[-1][0]} {phone}", (at - 1, at + 1))
        else:
            found.append((bare(phone), (at, at + 1)))
    return found


def belongs_to_vowel(phones: Phones, at: int) -> bool:
    """Whether phone `at` is an r after a vowel in its syllable: that of car, not of carrot."""
    vowels = with_vowels("before").get(phones[at], ())
    before = at > 0 and bare(phones[at - 1]) in vowels
    after = at + 1 < len(phones) and is_vowel(phones[at + 1])
    return before and not after


def _span_at(found: NamedSpans, at: int, there: bool, end: int) -> Span:
    """The phones of sound `at`; where it has no counterpart, an empty span before it."""
    if at >= len(found):
        return (end, end)
    start, stop = found[at][1]
    return (start, stop if there else start)


def feature_names(one: ContrastSide, other: ContrastSide) -> tuple[str, ...] | None:
    """The features in which two single sounds differ; None where a sound stands against none."""
    changed = [(a, b) for a, b in zip(one.sounds, other.sounds, strict=False) if a != b]
    if len(one.sounds) != len(other.sounds) or len(changed) != 1:
        return None
    return differing(*changed[0])
