"""What transcriptions of one word write differently, brought to one form (data/*_rewrites.csv).

The rules are regular expressions over the phones as text, with a blank before and after each:
" K AE1 T ". A vowel is two letters, the first a vowel letter, and a digit; a consonant is one
letter, or one and an H.
"""

from __future__ import annotations

import re
from functools import cache
from typing import NamedTuple

from builder.phonetics.tables import rows

CLASSES = {
    "_": " ",
    "{vowel}": r"[AEIOU][A-Z]\d",
    "{stressed}": r"[AEIOU][A-Z][12]",
    "{unstressed}": "[AEIOU][A-Z]0",
    "{consonant}": "[B-DF-HJ-NP-TV-Z]H?",
}


class Rewrite(NamedTuple):
    """One rule: `pattern` becomes `new`, in words that have `letters`."""

    letters: re.Pattern[str]
    pattern: re.Pattern[str]
    new: str


class Rewrites(NamedTuple):
    """All rules of one use, in order; `any`: whether one of them has anything to do."""

    rules: tuple[Rewrite, ...]
    any: re.Pattern[str]


@cache
def rewrites(use: str, language: str = "en") -> Rewrites:
    """The rules of one use: settled, alike, reduced, vowels."""
    rules = tuple(_rewrite(row) for row in rows("rewrites", language) if row["use"] == use)
    return Rewrites(rules, re.compile("|".join(rule.pattern.pattern for rule in rules)))


def _rewrite(row: dict[str, str]) -> Rewrite:
    pattern = re.compile(_in_full(row["pattern"]))
    return Rewrite(re.compile(row["letters"]), pattern, _in_full(row["new"]))


def _in_full(pattern: str) -> str:
    for name, written in CLASSES.items():
        pattern = pattern.replace(name, written)
    return pattern


def rewritten(use: str, text: str, word: str = "") -> str:
    """The text of the phones after all rules of one use, each after the one before it."""
    found = rewrites(use)
    if not found.any.search(text):  # most words have nothing of all this
        return text
    for letters, pattern, new in found.rules:
        if letters.search(word):
            text = pattern.sub(new, text)
    return text
