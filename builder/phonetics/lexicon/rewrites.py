"""What transcriptions of one word write differently, brought to one form (data/*_rewrites.csv).

The rules are regular expressions over the phones as text, with a blank before and after each:
" K AE1 T ".
"""

from __future__ import annotations

import re
from functools import cache
from typing import NamedTuple

from builder.phonetics.tables import in_full, rows


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
    pattern = re.compile(in_full(row["pattern"]))
    return Rewrite(re.compile(row["letters"]), pattern, in_full(row["new"]))


def rewritten(use: str, text: str, word: str = "") -> str:
    """The text of the phones after all rules of one use, each after the one before it."""
    found = rewrites(use)
    if not found.any.search(text):  # most words have nothing of all this
        return text
    for letters, pattern, new in found.rules:
        if letters.search(word):
            text = pattern.sub(new, text)
    return text
