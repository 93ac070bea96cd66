"""Every word that a family reads, from site_templates/wording/, one file for each language; a
missing word is a loud fault. Who practices alone reads what stands under `self` instead."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from functools import cache
from pathlib import Path
from types import MappingProxyType
from typing import Any

import yaml

from builder.text.templates import folder

PLACEHOLDER = re.compile(r"\{([a-z_]+)\}")  # a place to fill in: {minutes}
ENGLISH = "en"  # in which the words are written first
PARTS = {"": "", "sheets": "sheets.", "school": "sheets.school."}  # of the words, by their heads
ALONE = "self."  # heads what is said otherwise to a client who practices alone
APART = "\u2028"  # Unicode's line separator: between a caution and the same in English
READ = "read_by_a_speaker"  # what a file says of itself: not one of its words


class MissingWordingError(KeyError):
    """A word that a page asks for stands in no wording file, or a value for it is missing."""

    def __str__(self) -> str:
        return str(self.args[0])


def spoken(text: str) -> str:
    """What is practiced, inside a sentence of another language: between isolates
    (https://www.unicode.org/reports/tr9/), by which players and sheets mark it up."""
    return f"\u2068{text}\u2069"


def plain(text: str) -> str:
    """The same without isolates, where nothing marks it up."""
    return text.replace("\u2068", "").replace("\u2069", "")


class Wording(Mapping[str, str]):
    """The words of one language by dotted name, as in `today.start`. Never changed once read."""

    def __init__(self, words: Mapping[str, str], name: str = "") -> None:
        self._words = MappingProxyType(dict(words))
        self._name = name

    def __getitem__(self, key: str) -> str:
        try:
            return self._words[key]
        except KeyError:
            raise MissingWordingError(f"no wording for '{key}' in {self._name}") from None

    def __iter__(self) -> Iterator[str]:
        return iter(self._words)

    def __len__(self) -> int:
        return len(self._words)

    def __contains__(self, key: object) -> bool:
        return key in self._words

    def part(self, name: str) -> dict[str, str]:
        """All words under `name`, by the rest of their names. Raises when there are none."""
        head = name + "."
        found = {k.removeprefix(head): v for k, v in self._words.items() if k.startswith(head)}
        if not found:
            raise MissingWordingError(f"no wording under '{name}' in {self._name}")
        return found

    def fill(self, key: str, **values: object) -> str:
        """The word `key` with its places filled in. Raises when a value is missing."""

        def value(match: re.Match[str]) -> str:
            if match[1] not in values:
                raise MissingWordingError(f"wording '{key}' needs a value for '{match[1]}'")
            return str(values[match[1]])

        return PLACEHOLDER.sub(value, self[key])

    def count(self, key: str, number: int, **values: object) -> str:
        """`key.one` for 1, else `key.many`, with {number} filled in."""
        return self.fill(f"{key}.{'one' if number == 1 else 'many'}", number=number, **values)


@cache
def wording(language: str = "en-US", helper: str = "home", part: str = "") -> Wording:
    """The words for a BCP 47 language; its region makes no difference. Raises when unknown.

    helper: who listens; who practices alone ("self") is addressed in place of a helper.
    part:   "sheets" for the words of the printed sheets, "school" for those of the one for a
            school, "" for those of the pages.
    """
    name = _name(language)
    if not (source() / name).is_file():
        raise MissingWordingError(f"there is no wording for the language '{language}'")
    words = {key: text for key, text in told_in(name).items() if _part(key) == part}
    if helper == "self":
        # Only what is said otherwise stands there; all else is the ordinary word.
        words |= {key: text for key, text in _alone(name).items() if _part(key) == part}
    return Wording(words, name)


def _alone(name: str) -> dict[str, str]:
    return {k.removeprefix(ALONE): v for k, v in told_in(name).items() if k.startswith(ALONE)}


def _part(key: str) -> str:
    """To which part a word belongs: that with the longest head; "self" for one of the others."""
    if key == READ or key.startswith(ALONE):
        return "self"
    return max((p for p in PARTS if key.startswith(PARTS[p])), key=lambda p: len(PARTS[p]))


def with_english(words: Wording, english: Wording, cautions: Iterable[str]) -> Wording:
    """`words` with those that begin with one of `cautions` in English as well, after APART."""
    heads = tuple(cautions)
    return Wording(
        {
            key: f"{text}{APART}{english[key]}" if key.startswith(heads) else text
            for key, text in words.items()
        }
    )


@cache
def languages() -> tuple[str, ...]:
    """The languages that there are words in, English first. Lines for drafts (`en_drafts.yaml`) are
    of the practiced language and none of them."""
    names = sorted(file.stem for file in source().glob("*.yaml") if "_" not in file.stem)
    return tuple(sorted(names, key=lambda name: name != ENGLISH))


@cache
def is_read(language: str) -> bool:
    """Whether a speaker has read all words of a language, as its file says."""
    return told_in(_name(language))[READ] == "yes"


def source() -> Path:
    """The folder of the words."""
    return folder() / "wording"


@cache
def told_in(name: str) -> Wording:
    """All that a file says, what is for who practices alone under its head."""
    return parse((source() / name).read_text(encoding="utf-8"), name)


def _name(language: str) -> str:
    return f"{language.partition('-')[0]}.yaml"


def parse(text: str, name: str) -> Wording:
    """The words of one YAML text. Every scalar is text: `no` is a word here."""
    loader = getattr(yaml, "CBaseLoader", yaml.BaseLoader)
    return Wording(dict(_flat(yaml.load(text, Loader=loader), "", name)), name)


def _flat(tree: Any, head: str, name: str) -> Iterator[tuple[str, str]]:
    if isinstance(tree, str) and tree.strip():
        yield head, " ".join(tree.split())
    elif isinstance(tree, dict):
        for key, value in tree.items():
            yield from _flat(value, f"{head}.{key}" if head else key, name)
    else:
        raise MissingWordingError(f"wording '{head}' in {name} is empty or no text")
