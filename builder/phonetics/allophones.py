"""One alphabet for all sources: their signs in CMUdict's symbols (data/*_allophones.csv), and what
counts as the same when two transcriptions are compared."""

from __future__ import annotations

import csv
import re
from collections.abc import Iterable
from functools import cache, lru_cache
from importlib.resources import files

from builder.phonetics.inventory import STRESS_MARKS, is_vowel
from builder.phonetics.spelling import target_letters

Phones = tuple[str, ...]

FLAP = "T|D"
# Vowels that many speakers do not tell apart: before r, and elsewhere.
BEFORE_R = {"AE": "EH", "EY": "EH", "IY": "IH", "OW": "AO", "UW": "UH"}
MERGED = {"AO": "AA"}

# In text as " K AE1 T ". A vowel of CMUdict is two letters, the first a vowel letter, and a digit.
_VOWEL = r"[AEIOU][A-Z]\d"
_STRESSED = r"[AEIOU][A-Z][12]"
_PALATAL = r"(?:[CJSZ]H|Y)"
_GIVEN = re.compile(rf" ER0(?: R)*(?= {_STRESSED})")
_TWICE = re.compile(r" (ER\d)(?: R)+(?= )")
_TSH = re.compile("n(?:ti|ci|si|sci|te)[aeo]")
_ALIKE = (
    (re.compile(r"( [B-DF-HJ-NP-TV-Z]H?)(?=\1 )"), ""),  # a doubled consonant (bookcase)
    (re.compile(r" HH(?= W )"), ""),  # whale
    (re.compile(r" N(?= [KG] )"), " NG"),  # income
    (re.compile(rf"(?<= {_VOWEL}) ER\d(?= )"), " R"),  # fire
    (re.compile(r" AH\d R(?= [AEIOU][A-Z]0 )"), " ER0"),  # battery
    (re.compile(rf"( {_PALATAL}) AH\d W(?= {_VOWEL} )"), r"\1 UW0"),  # situation
    (re.compile(r"( [CJSZ]H) Y(?= U)"), r"\1"),  # issue
)
_MAY_BE_ALIKE = re.compile(
    rf"( [B-DF-HJ-NP-TV-Z]H?)\1 | HH W | N [KG] |{_VOWEL} ER| AH\d R |{_PALATAL} AH\d W |H Y U"
)  # most words have nothing of all this
_ANY_VOWEL = re.compile(r"(?: (?!ER)[AEIOU][A-Z]\d)+(?= )")
_REDUCED = re.compile(r" (?:IH|UH)0(?= )")
_STRESS = re.compile(r"\d")


@cache
def signs(source: str, allophones: bool = True, language: str = "en") -> dict[str, Phones]:
    """The phones of every sign of a source; without `allophones` each sign by itself."""
    path = files("builder.phonetics").joinpath(f"data/{language}_allophones.csv")
    lines = path.read_text(encoding="utf-8").splitlines()
    rows = csv.DictReader(line for line in lines if not line.startswith("#"))
    return {
        row["sign"]: tuple(((allophones and row["phones"]) or row["plain"]).split())
        for row in rows
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

    A flap is written as the letters have it: t in `water`, d in `ladder`. A t that comes by itself
    between n and sh is left out (`attention`). An unstressed vowel + r gives its r to a stressed
    vowel: `giraffe` has a consonant r, JH AH0 R AE1 F. Elsewhere vowel + r stays one (`battery`).
    """
    if "CH" in phones and _TSH.search(word):
        phones = tuple(" ".join(phones).replace("N CH", "N SH").split())
    if FLAP in phones:
        phones = _with_flaps(word, phones)
    text = f" {' '.join(phones)} "
    if " ER" not in text:
        return phones
    return tuple(_TWICE.sub(r" \1", _GIVEN.sub(" AH0 R", text)).split())


def _with_flaps(word: str, phones: Phones) -> Phones:
    as_t, as_d = (tuple(one if p == FLAP else p for p in phones) for one in "TD")
    if "d" not in word or "t" not in word:
        return as_d if "d" in word else as_t
    return tuple(
        _flap(word, as_t, at) if phone == FLAP else phone for at, phone in enumerate(phones)
    )


def _flap(word: str, phones: Phones, at: int) -> str:
    letters = "".join(text for text, on in target_letters(word, phones, at, at + 1) if on).lower()
    return "D" if "d" in letters and "t" not in letters else "T"


@lru_cache(maxsize=8192)
def _broad(phones: Phones) -> str:
    text = f" {' '.join(phones)} "
    if _MAY_BE_ALIKE.search(text):
        for pattern, new in _ALIKE:
            text = pattern.sub(new, text)
    return text


@lru_cache(maxsize=8192)
def skeleton(phones: Phones) -> str:
    """The consonants and vowels + r in their order, every run of other vowels as one V: what must
    be the same for two sources to agree. w counts for hw (`whale`), ŋ for n before k and g, a
    vowel + ɚ as vowel + r (`fire`), ɚ for ə + r before an unstressed vowel (`battery`), u for
    ə + w after a palatal (`situation`), one consonant for a doubled one."""
    return _STRESS.sub("", _ANY_VOWEL.sub(" V", _broad(phones))).strip()


@lru_cache(maxsize=8192)
def broad(phones: Phones) -> Phones:
    """The phones that count for two sources: as in `skeleton`, and vowels without stress, the
    reduced ones and those that many speakers do not tell apart as one."""
    plain = _STRESS.sub("", _REDUCED.sub(" AH0", _broad(phones))).split()
    return tuple(
        (BEFORE_R if after in ("R", "ER") else MERGED).get(phone, phone)
        for phone, after in zip(plain, [*plain[1:], ""], strict=True)
    )


def unreduced(phones: Phones) -> str:
    """The phones with every reduced vowel written AH0."""
    return _REDUCED.sub(" AH0", f" {' '.join(phones)} ")
