"""Lines to put around a practiced word, from the wording file, and their filling in: articles,
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
    OTHERS,
    SIZES,
    Age,
    PractisedWord,
    company_of,
    kinds_of,
)
from builder.phonetics.inventory import is_vowel
from builder.phonetics.lexicon.dictionary import pronunciations
from builder.program_file.pronounce import words_of
from builder.text.templates import folder

Longer = Literal["phrase", "sentence"]
AGES: tuple[Age, ...] = ("small", "school", "adult")
AGREEMENT = re.compile(r"\[([^|\]]*)\|([^\]]*)\]")  # [is|are]
SLOT = re.compile(r"\{(noun|nouns|Noun|word|with|other)\}")
OWNER = re.compile(r"\{(noun|with|other)\}")  # whose article it is
ARTICLE = "{a} "
NOT_BESIDE = {
    "me": {"i", "we", "me", "let"},
    "you": {"you", "please"},
    "my": {"we", "they", "he", "you", "please"},
}
READY = ("{phrase}", "{sentence}")  # whole lines of small words


@dataclass(frozen=True)
class Frame:
    """A line with a place for a word.

    of:    classes of noun, or kinds of other words, with which it is natural; ages: for whom.
    only:  of these numbers and sizes.
    order: how far it stands back among the lines for the same words.
    other: classes of a second noun; empty in a line for one.
    """

    text: str
    of: frozenset[str]
    ages: frozenset[Age]
    only: frozenset[str]
    order: int
    other: frozenset[str] = frozenset()

    def takes(self, word: PractisedWord, age: Age) -> bool:
        """Whether it is natural with this word for a client of this age."""
        if age not in self.ages or not self.of & word.kinds:
            return False
        if any(wanted and not wanted & word.kinds for wanted in self._counts()):
            return False
        return bool(word.plural) if "{nouns}" in self.text else True

    def _counts(self) -> tuple[frozenset[str], ...]:
        return self.only & {*NUMBERS}, self.only & {*SIZES}

    def fill(self, word: PractisedWord, age: Age) -> Iterator[str]:
        """The lines with the word in them, as they are said: "Here are the scissors."; for a word
        that is no noun one with each company that it keeps."""
        for company in _companies(word, age, self):
            if _agrees(self.text, company):
                yield company if self.text in READY else self._filled(word, company)

    def _filled(self, word: PractisedWord, company: str) -> str:
        parts = {
            "noun": word.text,
            "nouns": word.plural,
            "Noun": word.text.capitalize(),
            "word": word.text,
            "with": company,
        }
        kinds = {"noun": word.kinds, "with": kinds_of(company)}
        single = "plural" not in kinds["noun" if "noun" in word.kinds else "with"]
        return _said(self.text, parts, kinds, single and "{nouns}" not in self.text)

    def takes_both(self, word: PractisedWord, other: PractisedWord, age: Age) -> bool:
        """Whether a line for two is natural with these nouns."""
        wanted = word.kinds & self.of if "same" in self.other else self.other
        return self.takes(word, age) and bool(wanted & other.kinds) and word.text != other.text

    def fill_both(self, word: PractisedWord, other: PractisedWord) -> str:
        """The line with both nouns in it: "I see a cow and an egg."."""
        parts = {"noun": word.text, "other": other.text}
        return _said(self.text, parts, {"noun": word.kinds, "other": other.kinds}, word.single)


def _said(
    line: str, parts: Mapping[str, str], kinds: Mapping[str, frozenset[str]], single: bool
) -> str:
    """The line with its parts; what it says of its noun in the singular or plural."""
    line = AGREEMENT.sub(r"\1" if single else r"\2", line)
    text, *rest = [SLOT.sub(lambda slot: parts[slot[1]], one) for one in line.split(ARTICLE)]
    for piece, filled in zip(line.split(ARTICLE)[1:], rest, strict=True):
        owner = OWNER.search(piece)
        text += f"{_article(kinds[owner[1]] if owner else frozenset(), filled)} {filled}"
    text = re.sub(r" +(?=[.?!]|$)| (?= )", "", text)
    return text[:1].upper() + text[1:] if text.endswith((".", "!", "?")) else text


def _companies(word: PractisedWord, age: Age, frame: Frame) -> tuple[str, ...]:
    """What goes with the word; `it`, which says least, last."""
    kind = next(iter(word.kinds & frame.of), "")
    if kind not in OTHERS:
        return ("",)
    first, second = company_of(kind)[word.text.lower()]
    if kind == "ready":
        return first if frame.text == READY[0] else second
    found = (*second, *first) if age == "adult" else first
    return tuple(sorted(found, key=lambda one: one == "it"))


def _agrees(line: str, company: str) -> bool:
    """Whether nobody does to himself what one does to others: not "I help me"."""
    there = set(words_of(company.lower()))
    around = {one.lower() for one in words_of(SLOT.sub(" ", line))}
    return not any(one in there and others & around for one, others in NOT_BESIDE.items())


def _article(kinds: frozenset[str], after: str) -> str:
    """Before what is counted `a` or `an`, by how the next word begins; some, the."""
    if "counted" not in kinds:
        return "the" if "only" in kinds else "some"
    phones = next(iter(pronunciations(words_of(after)[0].lower())), ())
    return "an" if phones and is_vowel(phones[0]) else "a"


@cache
def frames(level: Longer | Literal["double"], language: str = "en") -> tuple[Frame, ...]:
    """All lines of a level; `double`, sentences for two nouns."""
    return tuple(
        Frame(
            text,
            frozenset(group["of"].split()),
            frozenset(age for age in AGES if age in group.get("for", " ".join(AGES)).split()),
            frozenset(group.get("only", "").split()),
            int(group.get("after", 0)) + order,
            frozenset(group.get("other", "").split()),
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
