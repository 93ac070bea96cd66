"""Makes the file of index.py: a row for every word that both lexicons know, or one of them and the
list of frequencies."""

from __future__ import annotations

import errno
import gc
import gzip
import os
import sqlite3
import tempfile
from collections.abc import Iterator
from contextlib import closing
from functools import cache
from pathlib import Path

import msgpack  # type: ignore[import-untyped]

from builder.phonetics.inventory import bare
from builder.phonetics.lexicon import dictionary, tagged_dictionary
from builder.phonetics.lexicon.allophones import Phones, broad
from builder.phonetics.lexicon.endings import bases, forms
from builder.phonetics.lexicon.readings import agreed_throughout, entry, may_be_word
from builder.phonetics.lexicon.sources import file as source_file
from builder.phonetics.tables import facts, lines

TABLE = """
CREATE TABLE words (word TEXT, phones TEXT, zipf REAL, agreed INTEGER, heteronym INTEGER,
                    lemma_of TEXT, plain TEXT);
CREATE TABLE made (fingerprint TEXT);
"""
KEYS = "CREATE UNIQUE INDEX by_word ON words (word); CREATE INDEX by_plain ON words (plain);"
ZIPF_OF_ONE = 9.0  # log10 of 1,000,000,000 words
HEADER = {"format": "cB", "version": 1}


def build(file: Path, fingerprint: str) -> None:
    """Write the index to `file`, whole or not at all. Raises OSError when a source is missing."""
    gc.collect()
    gc.disable()  # some million small things are made, none of them in a circle
    handle, name = tempfile.mkstemp(dir=file.parent, prefix=".new-")
    os.close(handle)
    try:
        with closing(sqlite3.connect(name)) as base:
            base.executescript("PRAGMA journal_mode = OFF; PRAGMA synchronous = OFF;" + TABLE)
            base.executemany("INSERT INTO words VALUES (?, ?, ?, ?, ?, ?, ?)", _rows())
            base.execute("INSERT INTO made VALUES (?)", [fingerprint])
            base.executescript(KEYS)
            base.commit()
        os.chmod(name, 0o644)
        os.replace(name, file)
    except sqlite3.OperationalError as problem:
        Path(name).unlink(missing_ok=True)
        full = problem.sqlite_errorname == "SQLITE_FULL"
        raise OSError(errno.ENOSPC if full else errno.EIO, str(problem), str(file)) from None
    except BaseException:
        Path(name).unlink(missing_ok=True)
        raise
    finally:
        gc.enable()


Values = tuple[str, str, float, bool, bool, str, str]
Known = dict[str, tuple[Phones, bool, bool]]  # best reading, agreed, heteronym


def _rows() -> Iterator[Values]:
    zipf = frequencies()
    found = _known(zipf)
    for word, (phones, agreed, heteronym) in found.items():
        lemma = _lemma(word, phones, found, zipf)
        plain = " ".join(map(bare, phones))
        yield word, " ".join(phones), zipf.get(word, 0.0), agreed, heteronym, lemma, plain


def _known(zipf: dict[str, float]) -> Known:
    """What the sources say of every word, commonest first."""
    tagged_dictionary.load()
    try:
        words = sorted(known_words(zipf), key=lambda word: (-zipf.get(word, 0.0), word))
        return {
            word: (e.readings[0].phones, agreed_throughout(e), e.heteronym)
            for word, e in zip(words, map(entry, words), strict=True)
            if e.readings
        }
    finally:
        tagged_dictionary.unload()
        dictionary.unload()


def frequencies() -> dict[str, float]:
    """The Zipf figure of every word of the list: log10 of its occurrences in 1,000,000,000 words.
    The list is read without its package, which loads much else."""
    path = source_file("frequencies")
    with gzip.open(path) as stream:
        header, *bins = msgpack.load(stream, raw=False)
    if header != HEADER:
        raise OSError(f"{path} is no list of word frequencies of a form that is known")
    # words of n centibels below certainty stand in bin n
    return {w: round(ZIPF_OF_ONE - n / 100, 2) for n, b in enumerate(bins) for w in b}


def known_words(zipf: dict[str, float]) -> set[str]:
    """The words that both lexicons pronounce and, those that are too rare left out, of one."""
    common = float(facts()["common"])
    listed = {key.lower() for part in tagged_dictionary.load() for key in part}
    checked = {key.lower() for part in tagged_dictionary.load()[:1] for key in part}
    pronounced = set(dictionary.load())
    words = {w for w in pronounced | checked if zipf.get(w, 0.0) >= common} | (pronounced & listed)
    return set(filter(may_be_word, words))


def _lemma(word: str, phones: Phones, found: Known, zipf: dict[str, float]) -> str:
    """The commonest word of which this is a grammatical form, proved by its pronunciation."""
    if word in no_forms():
        return ""
    own = zipf.get(word, 0.0)
    proved = [
        base
        for base, ending in bases(word)
        if base in found
        and zipf.get(base, 0.0) > own - _rarer(ending)
        and broad(phones) in map(broad, forms(found[base][0], ending))
    ]
    return max(proved, key=lambda base: zipf.get(base, 0.0), default="")


@cache
def _rarer(ending: str) -> float:
    """How much rarer than its form a base may be, in Zipf."""
    return float(facts()[f"rarer {ending}"])


@cache
def no_forms(language: str = "en") -> frozenset[str]:
    """Words that look and sound like a form of another one, and are none: seed, news."""
    return frozenset(word for line in lines("no_forms.txt", language) for word in line.split())
