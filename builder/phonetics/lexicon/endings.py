"""Grammatical endings (cats, walked, dogs, running): of which word a form may be, by its letters,
and how it is then read. What may be is tried; only the pronunciation proves it.

The rules are data (data/*_endings.csv for the letters, data/*_ending_sounds.csv for the sounds).
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from functools import cache
from typing import NamedTuple

from builder.phonetics.inventory import bare
from builder.phonetics.lexicon.allophones import Phones
from builder.phonetics.tables import facts, rows

SHORTEST = 2  # letters of a base


class Letters(NamedTuple):
    """One rule of spelling: cut off `letters`; what is left must be `stem`; put on `on`."""

    letters: str
    stem: re.Pattern[str]
    on: str


class Said(NamedTuple):
    """One rule of speech: after one of the sounds `after` (of any, if empty) leave out `off`, say
    `phones`; `also`: beside the usual way."""

    after: frozenset[str]
    off: Phones
    phones: Phones
    also: bool


@cache
def _by_letters(language: str = "en") -> dict[str, tuple[Letters, ...]]:
    """The rules of spelling of every ending, the likeliest first."""
    found: dict[str, tuple[Letters, ...]] = {}
    for row in rows("endings", language):
        rule = Letters(row["letters"], re.compile(row["stem"] or ".*", re.DOTALL), row["on"])
        found[row["ending"]] = (*found.get(row["ending"], ()), rule)
    return found


@cache
def _by_sound(language: str = "en") -> dict[str, tuple[Said, ...]]:
    """The rules of speech of every ending; of the usual ones the first that fits counts."""
    found: dict[str, tuple[Said, ...]] = {}
    for row in rows("ending_sounds", language):
        after, off, phones = (tuple(row[key].split()) for key in ("after", "off", "phones"))
        rule = Said(frozenset(after), off, phones, row["also"] == "yes")
        found[row["ending"]] = (*found.get(row["ending"], ()), rule)
    return found


@cache
def _vowel_letter(language: str = "en") -> re.Pattern[str]:
    return re.compile(f"[{facts(language)['vowel letters']}]")


@cache
def _all_letters(language: str = "en") -> tuple[str, ...]:
    return tuple({rule.letters for rules in _by_letters(language).values() for rule in rules})


def bases(word: str) -> Iterator[tuple[str, str]]:
    """Every (word, ending) of which `word` may be a form by its letters, the likeliest first."""
    if not word.endswith(_all_letters()):
        return
    for ending, rules in _by_letters().items():
        for base in dict.fromkeys(_cut(word, rules)):
            if len(base) >= SHORTEST and _vowel_letter().search(base):
                yield base, ending


def _cut(word: str, rules: tuple[Letters, ...]) -> Iterator[str]:
    for letters, stem, on in rules:
        if word.endswith(letters) and (found := stem.fullmatch(word[: -len(letters)])):
            yield found[min(1, stem.groups)] + on


def with_ending(phones: Phones, ending: str) -> Phones:
    """The form's pronunciation: cat + s is K AE1 T S, dog + s ends in Z, want + ed in IH0 D."""
    return next(_forms(phones, ending, also=False), phones)


def forms(phones: Phones, ending: str) -> Iterator[Phones]:
    """Every pronunciation of the form, the usual one first."""
    yield with_ending(phones, ending)
    yield from _forms(phones, ending, also=True)


def _forms(phones: Phones, ending: str, also: bool) -> Iterator[Phones]:
    last = bare(phones[-1]) if phones else ""
    for rule in _by_sound()[ending]:
        stem = len(phones) - len(rule.off)
        fits = not rule.after or last in rule.after
        if rule.also == also and fits and phones[stem:] == rule.off:
            yield phones[:stem] + rule.phones


def formed(
    word: str, readings: Callable[[str], tuple[tuple[str, Phones], ...]]
) -> tuple[tuple[str, Phones], ...]:
    """The readings of a form, from those of the first base that is known; () for none."""
    for base, ending in bases(word):
        if known := readings(base):
            return tuple((use, with_ending(phones, ending)) for use, phones in known if phones)
    return ()
