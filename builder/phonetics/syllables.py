"""Syllables by maximal onset: consonants go to the right-hand vowel as long as they may begin
a word. Source of the rule and of the onsets: data/en_onsets.txt."""

from __future__ import annotations

from functools import cache
from importlib.resources import files

from builder.phonetics.inventory import is_vowel


@cache
def onsets(language: str = "en") -> frozenset[tuple[str, ...]]:
    """The groups of two or more consonants that may begin a syllable."""
    text = files("builder.phonetics").joinpath(f"data/{language}_onsets.txt").read_text("utf-8")
    lines = (line.strip() for line in text.splitlines())
    return frozenset(tuple(line.split()) for line in lines if line and not line.startswith("#"))


def may_begin(group: tuple[str, ...]) -> bool:
    """Whether a group of consonants may begin a syllable."""
    if len(group) <= 1:
        return group != ("NG",)
    return group in onsets()


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
