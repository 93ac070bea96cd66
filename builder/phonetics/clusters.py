"""Clusters of consonants as they are typed: `kr`, `shr`, `nk` as in pink, or IPA between slashes.

What is spelled otherwise than a single sound is data (data/*_cluster_spellings.csv).
"""

from __future__ import annotations

from functools import cache

from builder.phonetics.inventory import (
    Sound,
    UnknownSoundError,
    is_vowel,
    phones_of_ipa,
    sounds,
    two_sounds,
)
from builder.phonetics.tables import rows


class NotAClusterError(UnknownSoundError):
    """What was typed is not two or more consonants. The message says how to write a cluster."""


def parse_cluster(typed: str, sound: Sound | None = None) -> tuple[str, ...]:
    """The phones of a cluster, which must hold `sound` where that is given: `kr` gives K R.

    Raises UnknownSoundError with the question to ask back; NotAClusterError for anything but two or
    more consonants, and for a cluster without the sound.
    """
    text = typed.strip()
    slashed = len(text) > 2 and text[0] == text[-1] == "/"
    phones = _phones(text if slashed else _in_ipa(text.lower()), typed)
    if sound and sound.symbol not in phones:
        raise NotAClusterError(
            f"`{typed}` is a cluster without /{sound.ipa}/; write one that holds it"
        )
    return phones


def _phones(ipa: str, typed: str) -> tuple[str, ...]:
    try:
        phones = phones_of_ipa(ipa)
    except UnknownSoundError:
        phones = ()
    if len(phones) < 2 or any(map(is_vowel, phones)):
        raise NotAClusterError(
            f"`{typed}` is not a cluster of consonants; write one as in `st`, `kr`"
        )
    return phones


def _in_ipa(text: str) -> str:
    """The cluster in IPA. Letters that could be two consonants are asked back."""
    for letters, ipa in _spellings().items():
        text = text.replace(letters, ipa)
    for letters, choices in _ambiguous().items():
        if letters in text:
            ways = " or ".join(f"`{s.ipa}` as in '{s.example}'" for s in choices)
            raise UnknownSoundError(
                f"`{letters}` could be two sounds: write the cluster with {ways}"
            )
    return text


@cache
def _spellings(language: str = "en") -> dict[str, str]:
    """What is typed by other signs than those of IPA, in the order in which it is replaced."""
    digraphs = {
        sound.typed: sound.ipa
        for sound in sounds(language).values()
        if sound.kind == "consonant" and len(sound.typed) > 1
    }
    return digraphs | {row["typed"]: row["ipa"] for row in rows("cluster_spellings", language)}


@cache
def _ambiguous(language: str = "en") -> dict[str, tuple[Sound, ...]]:
    """What could be two consonants; but j, which is a sign of IPA, is read as one."""
    signs = {sound.ipa for sound in sounds(language).values()}
    return {
        letters: choices
        for letters, choices in two_sounds(language).items()
        if letters not in signs and all(s.kind == "consonant" for s in choices)
    }
