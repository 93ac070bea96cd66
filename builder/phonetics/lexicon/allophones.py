"""One alphabet for all sources: their signs in CMUdict's symbols (data/*_allophones.csv), and what
counts as the same when two transcriptions are compared (rewrites.py, data/*_merged.csv).
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import cache, lru_cache

from builder.phonetics.inventory import STRESS_MARKS, is_vowel
from builder.phonetics.lexicon.rewrites import rewritten
from builder.phonetics.spelling import target_letters
from builder.phonetics.tables import rows

Phones = tuple[str, ...]

OR = "|"  # between phones of which the letters of the word tell which one it is
_STRESS = re.compile(r"\d")


@cache
def merged(language: str = "en") -> dict[str, dict[str, str]]:
    """The vowels that count as another: before each phone where they do, under "" elsewhere."""
    found: dict[str, dict[str, str]] = {"": {}}
    for row in rows("merged", language):
        for before in row["before"].split() or [""]:
            found.setdefault(before, {})[row["phone"]] = row["same"]
    return found


@cache
def signs(source: str, allophones: bool = True, language: str = "en") -> dict[str, Phones]:
    """The phones of every sign of a source; without `allophones` each sign by itself."""
    return {
        row["sign"]: tuple(((allophones and row["phones"]) or row["plain"]).split())
        for row in rows("allophones", language)
        if row["source"] == source
    }


def phones_of(source: str, word: str, ipa: str | Iterable[str], allophones: bool = True) -> Phones:
    """A source's transcription of `word` as phones with stress: text in IPA, or its phonemes one
    by one. A sign that is not in the table is left out; without `allophones` it stays as it is."""
    parts = _cutter(source).findall(ipa) if isinstance(ipa, str) else ipa
    found = [phone for part in parts for phone in _phones(source, part, allophones)]
    return settled(word, tuple(found)) if allophones else tuple(found)


@cache
def _cutter(source: str) -> re.Pattern[str]:
    longest_first = sorted(signs(source), key=len, reverse=True)
    marks = "".join(STRESS_MARKS)
    return re.compile(f"[{marks}]?(?:" + "|".join(map(re.escape, longest_first)) + "|.)")


@lru_cache(maxsize=1024)
def _phones(source: str, part: str, allophones: bool) -> Phones:
    """The phones of one phoneme, with the stress that is marked before it."""
    sign = part.lstrip("".join(STRESS_MARKS))
    stress = STRESS_MARKS[part[0]] if sign != part else "0"
    table = signs(source, allophones)
    pieces = [sign] if sign in table else _cutter(source).findall(sign)
    found = []
    for phone in (p for piece in pieces for p in table.get(piece, () if allophones else (piece,))):
        vowel = is_vowel(phone)
        found.append(phone + stress if vowel else phone)
        stress = "0" if vowel else stress
    return tuple(found)


def settled(word: str, phones: Phones) -> Phones:
    """A transcription as this tool writes it, whosever it is.

    A flap is written as the letters have it: t in `water`, d in `ladder`. The rest are rules: a t
    that comes by itself between n and sh is left out (`attention`). An unstressed vowel + r gives
    its r to a stressed vowel: `giraffe` has a consonant r. Elsewhere vowel + r stays one
    (`battery`).
    """
    phones = _told_by_letters(word, phones)
    text = f" {' '.join(phones)} "
    new = rewritten("settled", text, word)
    return phones if new == text else tuple(new.split())


@cache
def _open(language: str = "en") -> frozenset[str]:
    """The phones of the sources that are one or the other by the letters of the word."""
    table = rows("allophones", language)
    return frozenset(p for row in table for p in row["phones"].split() if OR in p)


def _told_by_letters(word: str, phones: Phones) -> Phones:
    """Of each choice of phones the one whose own letter the word has; where it has several, the
    one that is in the letters of this sound; else the first."""
    if _open().isdisjoint(phones):
        return phones
    plain = tuple(_told(phone, word)[0] for phone in phones)
    return tuple(
        _told(phone, _letters(word, plain, at))[0] if len(_told(phone, word)) > 1 else plain[at]
        for at, phone in enumerate(phones)
    )


def _letters(word: str, phones: Phones, at: int) -> str:
    return "".join(text for text, on in target_letters(word, phones, at, at + 1) if on).lower()


def _told(phone: str, letters: str) -> list[str]:
    """What a phone may be by these letters: of a choice, what is among them, else the first."""
    choices = phone.split(OR)
    return [one for one in choices if one.lower() in letters] or choices[:1]


@lru_cache(maxsize=8192)
def _broad(phones: Phones) -> str:
    return rewritten("alike", f" {' '.join(phones)} ")


@lru_cache(maxsize=8192)
def skeleton(phones: Phones) -> str:
    """The consonants and vowels + r in their order, every run of other vowels as one V: what must
    be the same for two sources to agree. w counts for hw (`whale`), ŋ for n before k and g, a
    vowel + ɚ as vowel + r (`fire`), ɚ for ə + r before an unstressed vowel (`battery`), u for
    ə + w after a palatal (`situation`), one consonant for a doubled one."""
    return _STRESS.sub("", rewritten("vowels", _broad(phones))).strip()


@lru_cache(maxsize=8192)
def broad(phones: Phones) -> Phones:
    """The phones that count for two sources: as in `skeleton`, and vowels without stress, the
    reduced ones and those that many speakers do not tell apart as one."""
    plain = _STRESS.sub("", rewritten("reduced", _broad(phones))).split()
    same = merged()
    return tuple(
        same.get(after, same[""]).get(phone, phone)
        for phone, after in zip(plain, [*plain[1:], ""], strict=True)
    )


def unreduced(phones: Phones) -> str:
    """The phones with every reduced vowel written as the same one."""
    return rewritten("reduced", f" {' '.join(phones)} ")
