"""The tables of a language (data/<language>_*): rows, lines, single facts; notes left out."""

from __future__ import annotations

import csv
from functools import cache
from pathlib import Path

# Short forms in patterns over phones: a vowel is two letters, the first a vowel letter, and a digit
# (a nucleus may lack it); a consonant is one letter, or one and an H.
CLASSES = {
    "_": " ",
    "{vowel}": r"[AEIOU][A-Z]\d",
    "{nucleus}": r"[AEIOU][A-Z]\d?",
    "{stressed}": r"[AEIOU][A-Z][12]",
    "{unstressed}": "[AEIOU][A-Z]0",
    "{consonant}": "[B-DF-HJ-NP-TV-Z]H?",
}
DATA = Path(__file__).parent / "data"  # importlib.resources costs more than all tables


def rows(name: str, language: str = "en") -> list[dict[str, str]]:
    """The rows of a CSV table by column; lines that begin with # are notes."""
    return list(csv.DictReader(lines(f"{name}.csv", language)))


def table(file: Path) -> list[dict[str, str]]:
    """The rows of any CSV file by column, in the same form."""
    return list(csv.DictReader(_written(file)))


def lines(name: str, language: str = "en") -> list[str]:
    """The lines of a file that are no notes and not empty."""
    return _written(DATA / f"{language}_{name}")


def _written(file: Path) -> list[str]:
    text = file.read_text(encoding="utf-8").splitlines()
    return [line for line in text if line.strip() and not line.startswith("#")]


@cache
def facts(language: str = "en") -> dict[str, str]:
    """What is one value in a language and no table, by name."""
    return {row["name"]: row["value"] for row in rows("facts", language)}


def in_full(pattern: str) -> str:
    """A pattern of a table with its short forms written out."""
    for name, written in CLASSES.items():
        pattern = pattern.replace(name, written)
    return pattern
