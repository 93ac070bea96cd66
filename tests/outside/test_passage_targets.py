"""Targets in texts that are in the public domain, counted by ear, word by word.

Lincoln, Gettysburg Address (1863), its first sentence; Hale, Mary's Lamb (1830), its first verse;
Taylor, The Star (1806), its first verse. American English, best-founded reading.
"""

from __future__ import annotations

import pytest

from builder.phonetics.inventory import parse_sound
from builder.text.passage import targets_in, words_of_passage
from builder.text.readability import counts, grade

GETTYSBURG = (
    "Four score and seven years ago our fathers brought forth on this continent, a new nation, "
    "conceived in Liberty, and dedicated to the proposition that all men are created equal."
)
LAMB = (
    "Mary had a little lamb, its fleece was white as snow, and everywhere that Mary went the lamb "
    "was sure to go."
)
STAR = (
    "Twinkle, twinkle, little star, how I wonder what you are! Up above the world so high, like a "
    "diamond in the sky."
)


@pytest.mark.parametrize(
    ("text", "sound", "words"),
    [
        (GETTYSBURG, "s", "score seven this conceived"),
        (GETTYSBURG, "z", "years fathers proposition"),
        (GETTYSBURG, "f", "Four fathers forth"),
        (GETTYSBURG, "sh", "nation proposition"),
        (GETTYSBURG, "k", "score continent conceived dedicated created equal"),
        (GETTYSBURG, "/θ/", "forth"),
        (GETTYSBURG, "/ð/", "fathers this the that"),
        (GETTYSBURG, "l", "Liberty all equal"),
        (LAMB, "s", "its fleece snow"),
        (LAMB, "z", "was as was"),
        (LAMB, "l", "little little lamb fleece lamb"),
        (LAMB, "g", "go"),
        (STAR, "s", "star so sky"),
        (STAR, "k", "Twinkle twinkle like sky"),
        (STAR, "l", "Twinkle twinkle little little world like"),
    ],
)
def test_every_target_is_found_and_nothing_else(text: str, sound: str, words: str) -> None:
    found = targets_in(text, parse_sound(sound))
    assert [target.word.text for target in found] == words.split()


@pytest.mark.parametrize(("text", "number"), [(GETTYSBURG, 30), (LAMB, 22), (STAR, 22)])
def test_words_are_counted(text: str, number: int) -> None:
    assert len(words_of_passage(text)) == number


def test_the_grade_of_a_text_follows_the_formula() -> None:
    # Kincaid et al. 1975 (see test_readability.py). By hand: 22 words, 2 sentences, and by the
    # meter of the verse four lines of seven syllables.
    number = counts(STAR)
    assert (number.words, number.sentences, number.syllables) == (22, 2, 28)
    assert grade(number) == pytest.approx(0.39 * 11 + 11.8 * 28 / 22 - 15.59)
