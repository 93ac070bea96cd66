from __future__ import annotations

import re

import pytest

from builder.phonetics.inventory import sound_rows, sounds
from builder.phonetics.tables import facts, lines, rows

AGES = ("mean", "sd", "low", "high", "studies", "population")


def test_notes_and_empty_lines_are_left_out() -> None:
    assert rows("sounds")[0]["symbol"] == "P"
    assert not any(line.startswith("#") or not line.strip() for line in lines("onsets.txt"))


def test_a_language_that_is_not_there_has_no_tables() -> None:
    with pytest.raises(FileNotFoundError):
        rows("sounds", "xx")


@pytest.mark.parametrize(
    "table",
    [
        "allophones",
        "corrections",
        "ending_sounds",
        "endings",
        "facts",
        "ipa",
        "ipa_forms",
        "merged",
        "rewrites",
        "sounds",
        "sources",
        "spellings",
        "two_sounds",
        "with_vowels",
    ],
)
def test_every_row_has_every_column(table: str) -> None:
    """A comma too many or too few would shift what is read."""
    for row in rows(table):
        assert None not in row, row
        assert None not in row.values(), row


def test_one_table_holds_all_of_a_sound() -> None:
    """Symbol, IPA, place, manner, voice, held or not, and the ages where there are any."""
    for row in sound_rows():
        assert all(row[k] for k in ("symbol", "ipa", "kind", "place", "manner", "voiced", "hold"))
        assert row["voiced"] in ("yes", "no")
        assert row["hold"] in ("yes", "short", "no")
        assert len({bool(row[age]) for age in AGES}) == 1, row


@pytest.mark.parametrize(
    ("table", "columns"),
    [
        ("ipa", ["phones"]),
        ("merged", ["phone", "same", "before"]),
        ("with_vowels", ["phone", "vowels"]),
        ("two_sounds", ["symbols"]),
        ("ending_sounds", ["after", "off", "phones"]),
        ("corrections", ["phones"]),
        ("spellings", ["phones"]),
    ],
)
def test_phones_of_the_tables_are_sounds(table: str, columns: list[str]) -> None:
    found = {p.rstrip("012") for row in rows(table) for c in columns for p in row[c].split()}
    assert found <= sounds().keys()


def test_facts() -> None:
    assert re.fullmatch(facts()["word"], "rock-n-roll")
    assert not re.fullmatch(facts()["word"], "Ärger")
