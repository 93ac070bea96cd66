"""Carriers and sentences to put around a practised word, from the wording file, and their filling
in: articles, plurals, verbs that agree."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any, Literal

import yaml

from builder.drafting.word_kinds import NUMBER_KINDS, PractisedWord
from builder.phonetics.inventory import is_vowel
from builder.phonetics.lexicon.dictionary import pronunciations
from builder.program_file.pronounce import words_of
from builder.text.templates import folder

Longer = Literal["phrase", "sentence"]
AGREEMENT = re.compile(r"\[([^|\]]*)\|([^\]]*)\]")  # [is|are]
KIN = "kin"  # nouns that somebody has; a line takes them only where it says so
SLOT = re.compile(r"\{(a|noun|nouns|word)\}")


@dataclass(frozen=True)
class Frame:
    """A line with a place for a word. `order`: its place in the file; earlier is preferred."""

    text: str
    kinds: frozenset[str]
    order: int

    @property
    def plural(self) -> bool:
        """Whether it says the plural of its noun."""
        return "{nouns}" in self.text

    def takes(self, word: PractisedWord) -> bool:
        """Whether it is natural with this word."""
        if "any" in self.kinds:
            return not word.kinds
        wanted, counts = self.kinds - {*NUMBER_KINDS}, self.kinds & {*NUMBER_KINDS}
        if not wanted & word.kinds or (counts and not counts & word.kinds):
            return False
        if KIN in word.kinds and KIN not in wanted:  # my grandma, but not the grandma
            return False
        return bool(word.plural) if self.plural else True

    def fill(self, word: PractisedWord) -> str:
        """The line with the word in it, as it is said: "Here are the scissors."."""
        text = AGREEMENT.sub(r"\1" if word.single and not self.plural else r"\2", self.text)
        parts = {"noun": word.text, "nouns": word.plural, "word": word.text, "a": "{a}"}
        text = SLOT.sub(lambda slot: parts[slot[1]], text)
        before, found, after = text.partition("{a} ")
        if found:
            text = f"{before}{_article(word, after)} {after}"
        return text[:1].upper() + text[1:] if text.endswith((".", "!", "?")) else text


def _article(word: PractisedWord, after: str) -> str:
    """Before what is counted `a` or `an`, by how the next word begins; some, the."""
    if "counted" not in word.kinds:
        return "the" if "only" in word.kinds else "some"
    following = words_of(after)[0].lower()
    phones = word.said.get(following) or next(iter(pronunciations(following)), ())
    return "an" if phones and is_vowel(phones[0]) else "a"


@cache
def frames(level: Longer, same: bool, language: str = "en") -> tuple[Frame, ...]:
    """All lines of a level: carriers to keep for a whole round (`same`), or free ones."""
    lines: Mapping[str, str] = _file(language)[level]["same" if same else "free"]
    return tuple(
        Frame(text, frozenset(kinds.split()), at) for at, (text, kinds) in enumerate(lines.items())
    )


@cache
def _file(language: str) -> Mapping[str, Any]:
    text = (folder() / "wording" / f"{language}_drafts.yaml").read_text(encoding="utf-8")
    loader = getattr(yaml, "CBaseLoader", yaml.BaseLoader)
    data: Mapping[str, Any] = yaml.load(text, Loader=loader)
    return data
