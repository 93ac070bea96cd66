"""Lines to put around a practised word, from the wording file, and their filling in: articles,
plurals, verbs that agree, and the company that a verb or an adjective keeps."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any, Literal

import yaml

from builder.drafting.word_kinds import (
    NUMBERS,
    SIZES,
    Age,
    PractisedWord,
    company_of,
    kinds_of,
    noun,
)
from builder.phonetics.inventory import is_vowel
from builder.phonetics.lexicon.dictionary import pronunciations
from builder.program_file.pronounce import words_of
from builder.text.templates import folder

Longer = Literal["phrase", "sentence"]
AGES: tuple[Age, ...] = ("small", "school", "adult")
AGREEMENT = re.compile(r"\[([^|\]]*)\|([^\]]*)\]")  # [is|are]
SLOT = re.compile(r"\{(noun|nouns|Noun|word|with)\}")
READY = ("{phrase}", "{sentence}")  # whole lines of small words


@dataclass(frozen=True)
class Frame:
    """A line with a place for a word.

    of:    classes of noun, or kinds of other words, with which it is natural; ages: for whom.
    only:  of these numbers and sizes.
    order: how far it stands back among the lines for the same words.
    """

    text: str
    of: frozenset[str]
    ages: frozenset[Age]
    only: frozenset[str]
    order: int

    def takes(self, word: PractisedWord, age: Age) -> bool:
        """Whether it is natural with this word for a client of this age."""
        if age not in self.ages or not self.of & (word.kinds or {"unknown"}):
            return False
        if any(wanted and not wanted & word.kinds for wanted in self._counts()):
            return False
        return bool(word.plural) if "{nouns}" in self.text else True

    def _counts(self) -> tuple[frozenset[str], ...]:
        return self.only & {*NUMBERS}, self.only & {*SIZES}

    def fill(self, word: PractisedWord, age: Age) -> Iterator[str]:
        """The lines with the word in them, as they are said: "Here are the scissors."; for a word
        that is no noun one with each company that it keeps."""
        for company in _companies(word, age, self.text):
            yield self._filled(word, company)

    def _filled(self, word: PractisedWord, company: str) -> str:
        if self.text in READY:
            return company
        single = _is_single(word, company) and "{nouns}" not in self.text
        text = AGREEMENT.sub(r"\1" if single else r"\2", self.text)
        parts = {
            "noun": word.text,
            "nouns": word.plural,
            "Noun": word.text.capitalize(),
            "word": word.text,
            "with": company,
        }
        text = SLOT.sub(lambda slot: parts[slot[1]], text)
        text = re.sub(r" +(?=[.?!]|$)| (?= )", "", text)
        before, found, after = text.partition("{a} ")
        if found:
            text = f"{before}{_article(word, company, after)} {after}"
        return text[:1].upper() + text[1:] if text.endswith((".", "!", "?")) else text


def _companies(word: PractisedWord, age: Age, text: str) -> tuple[str, ...]:
    kind = next(iter(word.kinds - {"noun"}), "")
    if "noun" in word.kinds or not word.kinds:
        return ("",)
    first, second = company_of(kind)[word.text.lower()]
    if kind == "ready":
        return first if text == READY[0] else second
    return (*second, *first) if age == "adult" else first


def _is_single(word: PractisedWord, company: str) -> bool:
    found = None if "noun" in word.kinds else noun(company)
    return found.single if found else word.single


def _article(word: PractisedWord, company: str, after: str) -> str:
    """Before what is counted `a` or `an`, by how the next word begins; some, the."""
    kinds = word.kinds if "noun" in word.kinds else kinds_of(company)
    if "counted" not in kinds:
        return "the" if "only" in kinds else "some"
    following = words_of(after)[0].lower()
    phones = word.said.get(following) or next(iter(pronunciations(following)), ())
    return "an" if phones and is_vowel(phones[0]) else "a"


@cache
def frames(level: Longer, language: str = "en") -> tuple[Frame, ...]:
    """All lines of a level."""
    return tuple(
        Frame(
            text,
            frozenset(group["of"].split()),
            frozenset(age for age in AGES if age in group.get("for", " ".join(AGES)).split()),
            frozenset(group.get("only", "").split()),
            int(group.get("after", 0)) + order,
        )
        for group in _file(language)[level]
        for order, text in enumerate(group["lines"])
    )


@cache
def _file(language: str) -> Mapping[str, Any]:
    text = (folder() / "wording" / f"{language}_drafts.yaml").read_text(encoding="utf-8")
    loader = getattr(yaml, "CBaseLoader", yaml.BaseLoader)
    data: Mapping[str, Any] = yaml.load(text, Loader=loader)
    return data
