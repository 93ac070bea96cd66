"""What must be opened to be known: pictures and the index of words. A picture is decoded once for
all time: what is wrong with it is kept by its digest."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable, Mapping
from contextlib import closing
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from builder.make import pictures
from builder.survey.survey import Found
from builder.workspace.store import Store, key_of

if TYPE_CHECKING:
    from builder.phonetics.lexicon.index import Index

VERDICT = ".picture.txt"
USABLE = b"ok"  # kept for a picture that can be used; for another one the reason is
JUDGEMENT_VERSION = 2  # raise it when pictures are judged otherwise


def judged_pictures(own: Mapping[str, Found], store: Store | None) -> dict[str, Found]:
    """The pictures, each with why it cannot be used. Where there is a store each is opened once."""
    return {name: replace(one, trouble=_trouble(one, store)) for name, one in own.items()}


def _trouble(one: Found, store: Store | None) -> str:
    file = Path(one.path)
    reason = _kept(file, one.digest, store) if store else pictures.unfit(file)
    return pictures.told(one.path, reason) if reason else ""


def _kept(file: Path, digest: str, store: Store) -> str:
    # The ending decides how a file is read.
    key = key_of(picture=digest, ending=file.suffix.lower(), form=JUDGEMENT_VERSION)
    said = store.bytes_of(key, VERDICT, lambda: pictures.unfit(file).encode() or USABLE)
    return "" if said == USABLE else said.decode()


def frequencies(folder: Path | None, words: Iterable[str]) -> dict[str, float]:
    """How common words are (Zipf scale), by an index of words; {} without one, or of another form.

    What the index does not know, or knows no frequency of, is left out.
    """
    if folder is None:
        return {}
    from builder.phonetics.lexicon.index import FILE, Index

    try:
        with closing(Index(folder / FILE)) as index:
            found = {word: _frequency(index, word) for word in sorted(set(words))}
    except sqlite3.Error:
        return {}
    return {word: zipf for word, zipf in found.items() if zipf > 0}


def _frequency(index: Index, word: str) -> float:
    """That of a word, or of the word of which it is a form, whichever is commoner; 0 unknown."""
    row = index.row(word)
    base = index.row(row.lemma_of) if row and row.lemma_of else None
    return max((one.zipf for one in (row, base) if one), default=0.0)
