"""What kind of word a practised word is: kinds of noun, whether it is counted, other kinds.

The kinds and the exceptions are data (data/*_words.yaml). A word that stands in no list has no
kind, and is only quoted.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any

import yaml

from builder.phonetics.lexicon.dictionary import pronunciations
from builder.program_file.pronounce import words_of

Phones = tuple[str, ...]
NUMBER_KINDS = ("counted", "uncounted", "plural", "only")
SIBILANT_LETTERS = ("s", "x", "z", "ch", "sh")
VOWELS = "aeiou"


@dataclass(frozen=True)
class PractisedWord:
    """A practised word.

    said:   its phones by each of its written words, lower case: {"ice": …, "cream": …}.
    kinds:  kinds of noun with `noun` and one of NUMBER_KINDS, or other kinds; empty when unknown.
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


def word(text: str, said: Phones = ()) -> PractisedWord | None:
    """A practised word with what is known of it; `said` overrules the dictionary for a single one.

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
    table = _kinds()
    name = _name(text)
    found = table.get(name) or table.get(name.rpartition(" ")[2], frozenset())
    return found if "noun" not in found else frozenset(k for k in found if k in _noun_kinds())


def _plural(text: str, kinds: frozenset[str]) -> str:
    if "counted" not in kinds:
        return "" if "only" in kinds else text
    head, blank, last = text.rpartition(" ")
    known = _data()["plurals"].get(_name(last))
    return head + blank + (known or _regular(last))


def _regular(noun: str) -> str:
    if noun.endswith(SIBILANT_LETTERS):
        return noun + "es"
    if noun.endswith("y") and noun[-2:-1] not in VOWELS:
        return noun[:-1] + "ies"
    return noun + "s"


@cache
def _kinds() -> Mapping[str, frozenset[str]]:
    data = _data()
    found: dict[str, set[str]] = {}
    for kind, names in data["nouns"].items():
        for name in _names(names):
            found.setdefault(name, {"noun"}).add(kind)
    for name, kinds in found.items():
        kinds.add(next((c for c in ("plural", "only") if name in _names(data[c])), ""))
        kinds.discard("")
        if not kinds & {"plural", "only"}:
            kinds.add("uncounted" if name in _names(data["mass"]) else "counted")
    for kind in ("feeling", "looks", "moving", "acting", "numbers"):
        for name in _names(data[kind]):
            found.setdefault(name, set()).add(kind)
    return {name: frozenset(kinds) for name, kinds in found.items()}


@cache
def _noun_kinds() -> frozenset[str]:
    return frozenset([*_data()["nouns"], "noun", *NUMBER_KINDS])


@cache
def _names(listed: str) -> frozenset[str]:
    return frozenset(map(_name, listed.split()))


def _name(text: str) -> str:
    return text.lower().replace("-", " ").strip()


@cache
def _data(language: str = "en") -> Mapping[str, Any]:
    text = files("builder.drafting").joinpath(f"data/{language}_words.yaml").read_text("utf-8")
    loader = getattr(yaml, "CBaseLoader", yaml.BaseLoader)
    data: Mapping[str, Any] = yaml.load(text, Loader=loader)
    return data


def words(texts: Iterable[str]) -> tuple[PractisedWord, ...]:
    """The words whose pronunciation is known, in order."""
    return tuple(found for text in texts if (found := word(text)))
