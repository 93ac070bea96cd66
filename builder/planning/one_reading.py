"""Whether whoever reads the spelling of an item says what was checked: asked before a voice that
reads spellings may speak it."""

from __future__ import annotations

from builder.model.program import Item, Level
from builder.model.spoken import Spoken
from builder.phonetics.lexicon.function_words import is_function_word
from builder.phonetics.lexicon.readings import entry


def has_one_reading(item: Item, level: Level) -> bool:
    """Whether its spelling is read in one way only, the one that was checked.

    Never that of a sound or a syllable, of a word that no lexicon has, or of one that the program
    says itself. Small words of a phrase, which vary with what is around them (a, to, for), may.
    """
    if level in ("isolation", "syllable"):
        return False
    focus = item.focus[0] if item.focus else None
    small = (len(item.words) > 1 and at != focus for at in range(len(item.words)))
    return all(_one(word, is_small) for word, is_small in zip(item.words, small, strict=True))


def _one(word: Spoken, may_be_small: bool) -> bool:
    if word.by_hand or word.guessed:
        return False
    if may_be_small and is_function_word(word.text):
        return True
    readings = entry(word.text).readings
    return not word.heteronym and len(readings) == 1 and readings[0].phones == word.phones
