"""How a word is read, on whose word: CMUdict, the tagged dictionary and the rules of the embedded
voice, each an independent source, set side by side.

The rule. Readings are alike when their consonants and vowels + r stand in the same places (the
skeleton of allophones.py). The best-founded one is the one that most sources hold; among equals the
one that more of them put first, then the tagged dictionary's before CMUdict's. It is written as
CMUdict writes it where CMUdict holds it. What stands in data/*_corrections.csv goes before all,
each with its reason. The rules are asked only where the lexicons do not put the same reading first:
where both do, the rules were wrong or heard a variant (the 89 such words among the 5,000 commonest
were read one by one). A word in no lexicon is read by the rules alone: a guess.
"""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from functools import cache, lru_cache
from typing import NamedTuple

from builder.phonetics.inventory import Sound, sounds
from builder.phonetics.lexicon import dictionary, endings, letter_to_sound, tagged_dictionary
from builder.phonetics.lexicon.allophones import (
    Phones,
    broad,
    merged,
    phones_of,
    settled,
    skeleton,
    unreduced,
)
from builder.phonetics.position import Position, occurrences
from builder.phonetics.tables import facts, rows

CORRECTIONS, CMUDICT, TAGGED, LETTER_TO_SOUND = (
    "corrections",
    "cmudict",
    "tagged dictionary",
    "letter-to-sound rules",
)
WRITING_ORDER = (CORRECTIONS, CMUDICT, TAGGED, LETTER_TO_SOUND)  # whose transcription is taken
TRUST_ORDER = (
    CORRECTIONS,
    TAGGED,
    CMUDICT,
    LETTER_TO_SOUND,
)  # only where as many sources hold either
LEXICONS = frozenset((CMUDICT, TAGGED))
MAX_LETTERS = 40  # letters; what is longer is no word


@dataclass(frozen=True)
class Reading:
    """One way to read a word.

    phones:  ARPABET with stress, as CMUdict writes it.
    sources: who holds it, out of corrections, cmudict, tagged dictionary, letter-to-sound
             rules ("program" for the
             pronunciation that a program file gives).
    use:     of a heteronym, the part of speech that is read so, as in "noun"; "" where it is not
             told or is the usual one.
    """

    phones: Phones
    sources: tuple[str, ...]
    use: str = ""


@dataclass(frozen=True)
class Entry:
    """All readings of a word.

    readings:  best-founded first; () for text that is no word.
    heteronym: read in two ways with two meanings, by the tagged dictionary.
    guessed:   in no lexicon: read by the rules of the embedded voice.
    said:      what each source says, as it says it (but in these symbols).
    """

    word: str
    readings: tuple[Reading, ...]
    heteronym: bool = False
    guessed: bool = False
    said: tuple[tuple[str, tuple[Phones, ...]], ...] = ()


class _Form(NamedTuple):
    source: str
    phones: Phones
    use: str = ""
    rank: int = 0  # among the forms of its source


@lru_cache(maxsize=8192)
def entry(word: str) -> Entry:
    """All readings of a word, whatever its capitals. Raises OSError when a source is not there."""
    key = folded(word)
    if not may_be_word(key):
        return Entry(word, ())
    settled_by_hand = _corrected(key)
    known = [*_cmudict(key), *_tagged(key)]
    ruled = [] if _lexicons_agree(known) else _by_letter_to_sound(key)
    forms = [*settled_by_hand, *known, *ruled]
    guessed = not known and not settled_by_hand
    return Entry(
        word,
        _readings(forms),
        heteronym=_is_heteronym(known) or len(settled_by_hand) > 1,
        guessed=guessed and bool(forms),
        said=_said(forms),
    )


def _lexicons_agree(known: list[_Form]) -> bool:
    """Whether both lexicons know the word and put the same skeleton first."""
    first = [skeleton(form.phones) for form in known if form.rank == 0]
    return len(first) == len(LEXICONS) and first[0] == first[1]


def _is_heteronym(known: list[_Form]) -> bool:
    """Whether the tagged dictionary has the word read in two ways by its part of speech."""
    if known[-1:] and not known[-1].use:  # the usual reading comes first
        return False
    return len({broad(f.phones) for f in known if f.source == TAGGED}) > 1


def may_be_word(key: str) -> bool:
    """Whether folded text is written as the words of the language are."""
    return len(key) <= MAX_LETTERS and _word().fullmatch(key) is not None


@cache
def _word(language: str = "en") -> re.Pattern[str]:
    return re.compile(facts(language)["word"])


def folded(word: str) -> str:
    """Lower case, without accents, with the plain apostrophe."""
    text = word.strip().lower()
    if text.isascii():
        return text
    text = unicodedata.normalize("NFKD", text.replace("’", "'"))
    return "".join(sign for sign in text if not unicodedata.combining(sign))


def _by_letter_to_sound(key: str) -> list[_Form]:
    """Letters without a vowel are spelled out by the rules, and no one reads them so."""
    if not any(letter in key for letter in facts()["vowel letters"]):
        return []
    (ipa,) = letter_to_sound.transcribe((key,))
    return [_Form(LETTER_TO_SOUND, phones_of(LETTER_TO_SOUND, key, ipa))] if ipa else []


def _corrected(key: str) -> list[_Form]:
    rows = corrections().get(key, ())
    return [_Form(CORRECTIONS, phones, use, rank) for rank, (phones, use) in enumerate(rows)]


@cache
def corrections(language: str = "en") -> dict[str, tuple[tuple[Phones, str], ...]]:
    """The (phones, use) of each word that is settled by hand; the reasons stand in the table."""
    found: dict[str, tuple[tuple[Phones, str], ...]] = {}
    for row in rows("corrections", language):
        settled = (tuple(row["phones"].split()), row["use"])
        found[row["word"]] = (*found.get(row["word"], ()), settled)
    return found


def _cmudict(key: str) -> list[_Form]:
    forms = dict.fromkeys(settled(key, form) for form in dictionary.pronunciations(key))
    return [_Form(CMUDICT, phones, "", rank) for rank, phones in enumerate(forms)]


def _tagged(key: str) -> list[_Form]:
    """The word's own readings, else those of the word of which it is a grammatical form."""
    forms = _of_tagged(key) or endings.formed(key, _of_tagged)
    return [_Form(TAGGED, phones, use, rank) for rank, (use, phones) in enumerate(forms)]


def _of_tagged(word: str) -> tuple[tuple[str, Phones], ...]:
    return tuple(
        (use, phones_of(TAGGED, word, ipa)) for use, ipa in tagged_dictionary.readings(word)
    )


def _said(forms: list[_Form]) -> tuple[tuple[str, tuple[Phones, ...]], ...]:
    said: dict[str, tuple[Phones, ...]] = {}
    for form in forms:
        if form.source != CORRECTIONS:
            said[form.source] = (*said.get(form.source, ()), form.phones)
    return tuple(said.items())


def _readings(forms: list[_Form]) -> tuple[Reading, ...]:
    """The readings, best-founded first. Where a lexicon knows the word, the rules only lend their
    support and have no reading of their own."""
    alike: dict[str, list[_Form]] = {}
    for form in forms:
        alike.setdefault(skeleton(form.phones), []).append(form)
    groups = list(alike.values())
    if len(groups) > 1:
        groups = [g for g in groups if any(f.source != LETTER_TO_SOUND for f in g)]
        groups.sort(key=_support)
    return tuple(reading for group in groups for reading in _written(group))


def _support(group: list[_Form]) -> tuple[bool, int, int, int, int]:
    """Smaller is better founded: see the rule at the head of this module."""
    sources = {form.source for form in group}
    first = {form.source for form in group if form.rank == 0}
    return (
        CORRECTIONS not in sources,
        -len(sources - {CORRECTIONS}),
        -len(first),
        min((TRUST_ORDER.index(source) for source in first), default=len(TRUST_ORDER)),
        min(form.rank for form in group),
    )


def _written(group: list[_Form]) -> list[Reading]:
    """The readings of one skeleton: CMUdict's forms, and what differs from them in its vowels by
    the tagged dictionary's own account of a heteronym."""
    group.sort(key=_writing_rank)
    if not any(f.use or f.rank for f in group):
        return [_reading(group)]
    leads: list[list[_Form]] = []
    for form in group:
        alike = next((lead for lead in leads if _alike(lead[0], form)), None)
        if alike:
            alike.append(form)
        elif not leads or form.source == CMUDICT or form.use:
            leads.append([form])
        else:
            leads[0].append(form)
    return [_reading(forms) for forms in sorted(leads, key=_support)]


def _writing_rank(form: _Form) -> tuple[int, int]:
    return WRITING_ORDER.index(form.source), form.rank


def _alike(one: _Form, other: _Form) -> bool:
    """Whether two forms are one reading: CMUdict's differ in more than an unstressed vowel."""
    if one.source == other.source == CMUDICT:
        return unreduced(one.phones) == unreduced(other.phones)
    return broad(one.phones) == broad(other.phones)


def _reading(forms: list[_Form]) -> Reading:
    sources = {form.source for form in forms}
    use = next((form.use for form in forms if form.use), "")
    return Reading(forms[0].phones, tuple(s for s in TRUST_ORDER if s in sources), use)


def agreed(entry: Entry, sound: Sound) -> bool:
    """Whether every source that knows the word has the sound at the same places (positions and
    clusters, left to right) as the best-founded reading. A source with several readings has them
    where one of its readings does. The rules count where a lexicon is silent or the two differ."""
    if not entry.readings:
        return True
    best = _places(entry.readings[0].phones, sound)
    return all(any(_places(p, sound) == best for p in forms) for _, forms in entry.said)


def contested(entry: Entry, sound: Sound, phones: Phones, position: Position) -> bool:
    """Whether a lexicon that knows the word has the sound in no reading at this position, where
    the pronunciation `phones` has it. What is settled by hand is contested only in another one."""
    best = entry.readings[:1]
    if any(CORRECTIONS in reading.sources and reading.phones == phones for reading in best):
        return False
    lexicons = (forms for source, forms in entry.said if source in LEXICONS)
    return any(not any(_is_at(position, p, sound) for p in forms) for forms in lexicons)


def _is_at(position: Position, phones: Phones, sound: Sound) -> bool:
    return any(position in positions for positions, _ in _places(phones, sound))


def agreed_throughout(entry: Entry) -> bool:
    """Whether the sources agree on every consonant and vowel + r."""
    if not entry.readings:
        return True
    best = skeleton(entry.readings[0].phones)
    return all(any(skeleton(phones) == best for phones in forms) for _, forms in entry.said)


@lru_cache(maxsize=8192)
def _places(phones: Phones, sound: Sound) -> tuple[tuple[tuple[str, ...], tuple[str, ...]], ...]:
    same = sounds().get(merged()[""].get(sound.symbol, sound.symbol), sound)
    return tuple((o.positions, o.cluster) for o in occurrences(broad(phones), same))
