"""Every word that is known, with its best-founded reading: made once from the sources of
readings.py (from transcription, never from speech), kept in one file, made anew when they change.

A fresh index reads none of the sources: only the versions of their packages and our own tables.
"""

from __future__ import annotations

import contextlib
import hashlib
import os
import sqlite3
import sys
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from builder.phonetics.complexity import neighbour_forms
from builder.phonetics.lexicon.allophones import Phones
from builder.phonetics.lexicon.sources import sources
from builder.phonetics.tables import DATA

FILE = "words.sqlite"
CODE_FILES = (
    "../espeak.py",
    "inventory.py",
    "spelling.py",
    "tables.py",
    "lexicon/allophones.py",
    "lexicon/build_index.py",
    "lexicon/dictionary.py",
    "lexicon/endings.py",
    "lexicon/letter_to_sound.py",
    "lexicon/readings.py",
    "lexicon/rewrites.py",
    "lexicon/sources.py",
    "lexicon/tagged_dictionary.py",
)
TABLES = (
    "allophones.csv",
    "corrections.csv",
    "ending_sounds.csv",
    "endings.csv",
    "facts.csv",
    "merged.csv",
    "no_forms.txt",
    "rewrites.csv",
    "sounds.csv",
    "sources.csv",
    "spellings.csv",
)
COLUMNS = "word, phones, zipf, agreed, heteronym, lemma_of"


@dataclass(frozen=True)
class Row:
    """One word.

    phones:    its best-founded reading, ARPABET with stress.
    zipf:      how common: log10 of its occurrences in 1,000,000,000 words; 0 when it is not told.
    agreed:    the sources agree on every consonant and vowel + r.
    heteronym: read in two ways with two meanings.
    lemma_of:  the word of which this is a grammatical form (cats: cat), "" for none.
    """

    word: str
    phones: Phones
    zipf: float
    agreed: bool
    heteronym: bool
    lemma_of: str


class Index:
    """The words in one read-only file, each read once. Not to be shared by threads."""

    def __init__(self, file: Path) -> None:
        self.file = file
        self._base = sqlite3.connect(f"file:{file.as_posix()}?mode=ro&immutable=1", uri=True)
        self._all: tuple[Row, ...] = ()
        self._asked: dict[str, Row | None] = {}

    @classmethod
    def open(cls, folder: Path, before_making: Callable[[], None] = lambda: None) -> Index:
        """The index in `folder`, made (some seconds) when it is missing or its sources changed;
        `before_making` is called first.

        Folders that are missing are made for their owner alone, as all of `.practice/` is. Raises
        OSError when the folder cannot be written or a source is not installed.
        """
        file = folder / FILE
        if _fingerprint_of(file) != fingerprint():
            from builder.phonetics.lexicon.build_index import build

            for missing in [f for f in (*reversed(folder.parents), folder) if not f.exists()]:
                missing.mkdir(mode=0o700, exist_ok=True)
            before_making()
            build(file, fingerprint())
        return cls(file)

    def close(self) -> None:
        """Let the file go."""
        self._base.close()

    def row(self, word: str) -> Row | None:
        """The row of one word, whatever its capitals; None when it is not there."""
        key = word.lower().replace("’", "'")
        if key not in self._asked:
            self._asked[key] = next(self._rows("WHERE word = ?", [key]), None)
        return self._asked[key]

    def all(self) -> Iterator[Row]:
        """Every word, commonest first."""
        if not self._all:
            self._all = tuple(self._rows("ORDER BY rowid", []))
        return iter(self._all)

    def neighbours(self, phones: Phones) -> tuple[str, ...]:
        """The words one phone away from `phones`, commonest first. Words of no known frequency do
        not count."""
        near = sorted(map(" ".join, neighbour_forms(phones)))
        marks = ", ".join("?" * len(near))
        rows = self._rows(f"WHERE plain IN ({marks}) AND zipf > 0 ORDER BY rowid", near)
        return tuple(row.word for row in rows)

    def _rows(self, rest: str, values: list[str]) -> Iterator[Row]:
        """The file is in the order of frequency, so that `rowid` is too."""
        for word, phones, zipf, agreed, heteronym, lemma in self._base.execute(
            f"SELECT {COLUMNS} FROM words {rest}", values
        ):
            yield Row(word, tuple(phones.split()), zipf, bool(agreed), bool(heteronym), lemma)


@cache
def fingerprint() -> str:
    """All that decides the rows: the versions of the sources, and our own code and tables."""
    text = repr(versions()).encode() + b"".join(file.read_bytes() for file in own_files())
    return hashlib.sha256(text).hexdigest()[:32]


def own_files(language: str = "en") -> list[Path]:
    """The code and the tables that decide the rows."""
    here = Path(__file__).parents[1]
    return [
        *(here / name for name in CODE_FILES),
        *(DATA / f"{language}_{name}" for name in TABLES),
    ]


def prefixes(language: str = "en") -> tuple[str, ...]:
    """How the folders of the sources' packages begin, before the version."""
    return tuple(s.package.replace("-", "_") + "-" for s in sources(language).values())


def versions() -> list[str]:
    """The installed versions of the sources, by the names of their folders: asking the package
    system costs more than a query."""
    wanted = prefixes()
    return sorted(
        name
        for folder in sys.path
        if folder and os.path.isdir(folder)
        for name in os.listdir(folder)
        if name.startswith(wanted) and name.endswith(".dist-info")
    )


def _fingerprint_of(file: Path) -> str:
    """The fingerprint of an index, "" when there is none or it is damaged."""
    if not file.is_file():
        return ""
    try:
        base = sqlite3.connect(f"file:{file.as_posix()}?mode=ro&immutable=1", uri=True)
        with contextlib.closing(base):
            return str(base.execute("SELECT fingerprint FROM made").fetchone()[0])
    except (sqlite3.Error, TypeError):
        return ""
