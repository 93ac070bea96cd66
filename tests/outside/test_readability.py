"""The school grade by its formula.

Source: Kincaid, Fishburne, Rogers & Chissom 1975, Navy Research Branch Report 8-75 (the formula
from memory); the worked values are computed by hand from it.
"""

from __future__ import annotations

import pytest

from builder.text.readability import Counts, by_letters, counts, grade, syllables_of


@pytest.mark.parametrize(
    ("number", "wanted"),
    [
        (Counts(6, 1, 6), -1.45),
        (Counts(100, 8, 130), 4.62),
        (Counts(45, 5, 54), 2.08),
        (Counts(100, 5, 160), 11.09),
    ],
    ids=lambda value: str(value),
)
def test_the_formula(number: Counts, wanted: float) -> None:
    # Half a hundredth more: 4.615 is a tie that a decimal reader rounds up.
    assert grade(number) == pytest.approx(wanted, abs=0.0051)


def test_a_text_is_counted() -> None:
    number = counts("The cat sat on the mat.")
    assert number == Counts(6, 1, 6)
    assert round(grade(number), 2) == -1.45


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("The tip goes up. The sides stay wide!", Counts(8, 2, 8)),
        ("no end mark", Counts(3, 1, 3)),
        ("Off.\nOff", Counts(2, 2, 2)),
        ("At 3.5 seconds", Counts(2, 1, 3)),
        ("", Counts(0, 0, 0)),
        ("?!", Counts(0, 0, 0)),
    ],
)
def test_counts(text: str, wanted: Counts) -> None:
    assert counts(text) == wanted


def test_nothing_is_easy() -> None:
    assert grade(counts("")) == 0.0


@pytest.mark.parametrize(
    ("word", "wanted"),
    [("banana", 3), ("fire", 2), ("hm", 1), ("far-away", 3), ("tongue’s", 1), ("alveolar", 4)],
)
def test_syllables(word: str, wanted: int) -> None:
    assert syllables_of(word) == wanted


# Words of no lexicon, so that only the letters speak.
@pytest.mark.parametrize(
    ("word", "wanted"),
    [("kebbo", 2), ("blonte", 1), ("wibble", 2), ("stuped", 1), ("tadded", 2), ("zzz", 1)],
)
def test_by_letters(word: str, wanted: int) -> None:
    assert by_letters(word) == wanted
