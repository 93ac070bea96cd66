"""Grammatical endings (cats, walked, dogs, running): of which word a form may be, by its letters,
and how it is then read. What may be is tried; only the pronunciation proves it."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from typing import Literal

from builder.phonetics.allophones import Phones
from builder.phonetics.inventory import bare

Ending = Literal["s", "d", "ing"]

HISSING = ("S", "Z", "SH", "ZH", "CH", "JH")
VOICELESS = ("P", "T", "K", "F", "TH")
SHORTEST = 2  # letters of a base
CLOSED = re.compile("(?:^|[^aeiou])[aeiouy][^aeiouwxy]$")  # hop: hoping is of hope
DOUBLED = re.compile(r"([b-df-hj-np-tv-z])\1$")
VOWEL_LETTER = re.compile("[aeiouy]")


def bases(word: str) -> Iterator[tuple[str, Ending]]:
    """Every (word, ending) of which `word` may be a form by its letters, the likeliest first."""
    for ending, found in (("s", _of_s(word)), ("d", _of_ed(word)), ("ing", _of_ing(word))):
        for base in dict.fromkeys(found):
            if len(base) >= SHORTEST and VOWEL_LETTER.search(base):
                yield base, ending  # type: ignore[misc]


def _of_s(word: str) -> Iterator[str]:
    if word.endswith("'s"):
        yield word[:-2]
    elif word.endswith("s") and not word.endswith(("ss", "us", "is", "'s")):
        if word.endswith("ies") and len(word) > 4:
            yield word[:-3] + "y"
        yield word[:-1]
        if re.search("(?:[sxzo]|[cs]h)es$", word):
            yield word[:-2]


def _of_ed(word: str) -> Iterator[str]:
    if not word.endswith("ed"):
        return
    if word.endswith("ied"):
        yield word[:-3] + "y"
    yield word[:-1]
    yield from _stems(word[:-2])


def _of_ing(word: str) -> Iterator[str]:
    if not word.endswith("ing"):
        return
    stem = word[:-3]
    if stem.endswith("y"):
        yield stem[:-1] + "ie"
    if CLOSED.search(stem):
        yield stem + "e"
    yield from _stems(stem)
    yield stem + "e"


def _stems(stem: str) -> Iterator[str]:
    yield stem
    if DOUBLED.search(stem):
        yield stem[:-1]
    if stem.endswith("ck"):
        yield stem[:-1]


def with_ending(phones: Phones, ending: Ending) -> Phones:
    """The form's pronunciation: cat + s is K AE1 T S, dog + s ends in Z, want + ed in IH0 D."""
    last = bare(phones[-1]) if phones else ""
    if ending == "ing":
        return (*phones, "IH0", "NG")
    if ending == "s":
        return (
            *phones,
            *(("IH0", "Z") if last in HISSING else ("S",) if last in VOICELESS else ("Z",)),
        )
    if last in ("T", "D"):
        return (*phones, "IH0", "D")
    return (*phones, "T" if last in (*VOICELESS, "S", "SH", "CH") else "D")


def formed(
    word: str, readings: Callable[[str], tuple[tuple[str, Phones], ...]]
) -> tuple[tuple[str, Phones], ...]:
    """The readings of a form, from those of the first base that is known; () for none."""
    for base, ending in bases(word):
        if known := readings(base):
            return tuple((use, with_ending(phones, ending)) for use, phones in known if phones)
    return ()
