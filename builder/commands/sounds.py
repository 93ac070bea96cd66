"""Sounds, clusters, positions and lists as they are typed on the command line."""

from __future__ import annotations

import re

from builder.phonetics.clusters import parse_cluster
from builder.phonetics.inventory import Sound, UnknownSoundError, parse_sound
from builder.phonetics.position import POSITIONS, Position, in_order, usual_positions
from builder.problems import UsageError


def any_sound_of(text: str) -> Sound:
    """A sound that a client may say instead of another, a vowel too: uh for er."""
    try:
        return parse_sound(text)
    except UnknownSoundError as question:
        raise UsageError(f"{question}.") from None


def sound_of(text: str) -> Sound:
    """A consonant or a vowel + r. Raises UsageError with the question to ask back."""
    sound = any_sound_of(text)
    if sound.kind == "vowel":
        raise UsageError(f"`{text}` is a vowel; programs teach consonants and vowel + r.")
    return sound


def cluster_of(text: str, sound: Sound) -> tuple[str, ...]:
    """The phones of a cluster that holds the sound. Raises UsageError with what to type instead."""
    try:
        return parse_cluster(text, sound)
    except UnknownSoundError as problem:
        raise UsageError(f"{problem}.") from None


def positions_of(text: str, sound: Sound) -> tuple[Position, ...]:
    """`final` or `medial,final` in the order in which they are practiced; "": the usual ones."""
    named = words_of(text) or usual_positions(sound)
    unknown = [name for name in named if name not in POSITIONS]
    if unknown:
        raise UsageError(f"`{unknown[0]}` is not a position. Write initial, medial or final.")
    return in_order(named, sound)


def sounds_of(text: str) -> tuple[Sound, ...]:
    """`r, sh` as sounds. Raises UsageError with the question to ask back."""
    return tuple(map(sound_of, words_of(text)))


def words_of(text: str) -> tuple[str, ...]:
    """`key, cow` as a list; () for nothing. Raises UnicodeEncodeError for what is no text."""
    text.encode()
    return tuple(dict.fromkeys(filter(None, map(str.strip, re.split(r"[,;]", text or "")))))
