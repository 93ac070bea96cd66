"""Every word that a family reads, from site_templates/wording/; a missing word is a loud fault. A
client who practices alone reads the variant `<language>_self.yaml` over the ordinary file."""

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
PARTS = ("", "sheets", "school")  # of the words of a language
VARIANTS = ("self", "sheets_self")  # read over a part where a client practices alone
APART = "\u2028"  # Unicode's line separator: between a caution and the same in English
READ = "read_by_a_speaker"  # what a file says of itself: not one of its words


class MissingWordingError(KeyError):
    """A word that a page asks for stands in no wording file, or a value for it is missing."""

    def __str__(self) -> str:
        return str(self.args[0])


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
    stem = "_".join(filter(None, (language.partition("-")[0], part)))
    words = _words(stem, language)
    # A variant holds only what it says otherwise; all else is the ordinary word.
    return Wording({**words, **_words(f"{stem}_self", language)}) if helper == "self" else words


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
    """The languages that all words are there in, English first."""
    names = sorted(file.stem for file in source().glob("*.yaml") if "_" not in file.stem)
    whole = (name for name in names if all(file.is_file() for file in _files(name)))
    return tuple(sorted(whole, key=lambda name: name != ENGLISH))


@cache
def is_read(language: str) -> bool:
    """Whether a speaker has read all words of a language, as each of its files says."""
    files = _files(language.partition("-")[0])
    return all(_parsed(file.read_text("utf-8"), file.name).get(READ) == "yes" for file in files)


def source() -> Path:
    """The folder of the words."""
    return folder() / "wording"


def _files(language: str) -> list[Path]:
    parts = (*PARTS, *VARIANTS)
    return [source() / f"{'_'.join(filter(None, (language, part)))}.yaml" for part in parts]


def _words(stem: str, language: str) -> Wording:
    file = source() / f"{stem}.yaml"
    if not file.is_file():
        raise MissingWordingError(f"there is no wording for the language '{language}'")
    return parse(file.read_text(encoding="utf-8"), file.name)


def parse(text: str, name: str) -> Wording:
    """The words of one YAML text. Every scalar is text: `no` is a word here."""
    words = _parsed(text, name)
    return Wording({key: word for key, word in words.items() if key != READ}, name)


def _parsed(text: str, name: str) -> dict[str, str]:
    loader = getattr(yaml, "CBaseLoader", yaml.BaseLoader)
    return dict(_flat(yaml.load(text, Loader=loader), "", name))


def _flat(tree: Any, head: str, name: str) -> Iterator[tuple[str, str]]:
    if isinstance(tree, str) and tree.strip():
        yield head, " ".join(tree.split())
    elif isinstance(tree, dict):
        for key, value in tree.items():
            yield from _flat(value, f"{head}.{key}" if head else key, name)
    else:
        raise MissingWordingError(f"wording '{head}' in {name} is empty or no text")
