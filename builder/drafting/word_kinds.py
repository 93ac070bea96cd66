"""What kind of word a practiced word is: classes of noun, number and size; for other words, the
company that they keep.

Nouns are data in data/*_nouns.csv, other words in data/*_company.yaml. A word that stands in
neither has no kind, and no line is drafted with it.
"""

from __future__ import annotations

import csv
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any, Literal

import yaml

from builder.phonetics.lexicon.dictionary import pronunciations
from builder.program_file.pronounce import words_of

Phones = tuple[str, ...]
Age = Literal["small", "school", "adult"]
SCHOOL_FROM, ADULT_FROM = 6, 13  # years from which lines of that age are drafted
NUMBERS = ("counted", "uncounted", "plural", "only")
SIZES = ("tiny", "middle", "large")
OTHERS = ("verb", "mishap", "quality", "number", "ready")
SIBILANT_LETTERS = ("s", "x", "z", "ch", "sh")
VOWELS = "aeiou"
NO_COMPANY = "."


@dataclass(frozen=True)
class Noun:
    """A row of the table of nouns. `number`: one of NUMBERS. `size`: one of SIZES."""

    classes: frozenset[str]
    number: str
    size: str
    plural: str

    @property
    def single(self) -> bool:
        """Whether a verb beside it stands in the singular: the milk is, the scissors are."""
        return self.number != "plural"


@dataclass(frozen=True)
class PractisedWord:
    """A practiced word.

    said:    its phones by each of its written words, lower case: {"ice": …, "cream": …}.
    kinds:   classes of noun with `noun`, a number and a size; or one of OTHERS; empty when unknown.
    """

    text: str
    said: Mapping[str, Phones]
    kinds: frozenset[str]
    plural: str = ""

    @property
    def single(self) -> bool:
        """Whether a verb beside it stands in the singular: the milk is, the scissors are."""
        return "plural" not in self.kinds

    @property
    def phones(self) -> Phones:
        """All of its phones from left to right."""
        return tuple(phone for phones in self.said.values() for phone in phones)


def age_of(years: int | None) -> Age:
    """Whose lines suit a client; without an age those that suit a school child."""
    if years is None:
        return "school"
    return "small" if years < SCHOOL_FROM else "school" if years < ADULT_FROM else "adult"


def word(text: str, said: Phones = ()) -> PractisedWord | None:
    """A practiced word with what is known of it; `said` overrules the dictionary for a single one.

    None when its pronunciation is not known.
    """
    parts = [part.lower() for part in words_of(text)]
    found = {part: pronunciations(part) for part in parts}
    if said and len(parts) == 1:
        found = {parts[0]: (said,)}
    if not parts or not all(found.values()):
        return None
    phones = {part: forms[0] for part, forms in found.items()}
    kinds = kinds_of(text)
    return PractisedWord(text, phones, kinds, _plural(text, kinds) if "noun" in kinds else "")


def kinds_of(text: str) -> frozenset[str]:
    """All kinds of a word; of a compound that is not listed (`toy truck`) those of its last word.

    What is a noun counts as nothing else: `paint` is some paint, and not to paint.
    """
    found = noun(text)
    if found:
        return found.classes | {"noun", found.number, found.size}
    name = _name(text)
    return frozenset(kind for kind in OTHERS if name in company_of(kind))


def noun(text: str) -> Noun | None:
    """What is known of a noun."""
    name = _name(text)
    return nouns().get(name) or nouns().get(name.rpartition(" ")[2])


def _plural(text: str, kinds: frozenset[str]) -> str:
    if "counted" not in kinds:
        return "" if "only" in kinds else text
    found = nouns().get(_name(text))
    if found and found.plural:
        return found.plural
    head, blank, last = text.rpartition(" ")
    known = nouns().get(_name(last))
    return head + blank + ((known and known.plural) or _regular(last))


def _regular(noun: str) -> str:
    if noun.endswith(SIBILANT_LETTERS):
        return noun + "es"
    if noun.endswith("y") and noun[-2:-1] not in VOWELS:
        return noun[:-1] + "ies"
    return noun + "s"


@cache
def nouns(language: str = "en") -> Mapping[str, Noun]:
    """The table of nouns."""
    lines = _data(f"{language}_nouns.csv").splitlines()
    rows = csv.DictReader(line for line in lines if not line.startswith("#"))
    return {
        row["noun"]: Noun(
            frozenset(row["classes"].split()), row["number"], row["size"], row["plural"]
        )
        for row in rows
    }


@cache
def company_of(kind: str, language: str = "en") -> Mapping[str, tuple[tuple[str, ...], ...]]:
    """The words of a kind with their company, as two lists: for all and what adults say as well;
    for small words, phrases and sentences."""
    loader = getattr(yaml, "CBaseLoader", yaml.BaseLoader)
    data: Mapping[str, Any] = yaml.load(_data(f"{language}_company.yaml"), Loader=loader)[kind]
    if kind == "number":
        return dict.fromkeys(data["words"].split(), (_listed(data["with"]), ()))
    mark = ";" if kind == "ready" else ","
    found = {name: listed.partition("|") for name, listed in data.items()}
    return {
        name: (_listed(first, mark), _listed(second, mark))
        for name, (first, _, second) in found.items()
    }


def _listed(text: str, mark: str = ",") -> tuple[str, ...]:
    parts = filter(None, (part.strip() for part in text.split(mark)))
    return tuple("" if part == NO_COMPANY else part for part in parts)


def _name(text: str) -> str:
    return text.lower().replace("-", " ").strip()


@cache
def _data(name: str) -> str:
    return files("builder.drafting").joinpath(f"data/{name}").read_text("utf-8")


def words(texts: Iterable[str]) -> tuple[PractisedWord, ...]:
    """The words whose pronunciation is known, in order."""
    return tuple(found for text in texts if (found := word(text)))
