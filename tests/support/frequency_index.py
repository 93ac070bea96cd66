"""A word index that holds frequencies only, where a workspace keeps its own."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable
from contextlib import closing
from pathlib import Path

from builder.phonetics.lexicon.build_index import TABLE
from builder.phonetics.lexicon.index import FILE


def index_in(folder: Path, rows: Iterable[tuple[str, float, str]]) -> None:
    """Write an index of words, each with its frequency (Zipf scale) and its base form or ""."""
    folder.mkdir(parents=True)
    with closing(sqlite3.connect(folder / FILE)) as base:
        base.executescript(TABLE)
        base.executemany(
            "INSERT INTO words (word, phones, zipf, agreed, heteronym, lemma_of, plain) "
            "VALUES (?, '', ?, 1, 0, ?, '')",
            rows,
        )
        base.commit()
