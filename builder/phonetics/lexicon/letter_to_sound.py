"""How the embedded voice reads a word that it is given as text: rules, and a list of exceptions.
Only the transcription is asked for, nothing is spoken."""

from __future__ import annotations

from collections.abc import Iterable

from builder import espeak
from builder.phonetics.lexicon.sources import sources

ROLE = "letter-to-sound rules"


def transcribe(words: Iterable[str]) -> list[tuple[str, ...]]:
    """For every word its phonemes in IPA, stress marks before their vowel; () where it has none.

    Raises OSError when the library or its files cannot be read.
    """
    source = sources()[ROLE]
    return espeak.transcribe(words, source.voice, source.files)
