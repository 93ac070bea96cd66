"""Where two words meet: which of the two sounds there cannot be heard by itself.

Sources: American English Phonetics (Groningen open textbook), 13.3.1 (alveolar stops before
postalveolars), 13.5 (palatalization before /j/), 13.7 (two alike held as one); that /s/ and /z/ are
drawn over to /ʃ/ and its like, but not to /r/: Ladefoged & Johnson, A Course in Phonetics, from
memory.
"""

from __future__ import annotations

from typing import NamedTuple

from builder.phonetics.inventory import Sound, bare, sounds


class Lost(NamedTuple):
    """Whether the last sound of the first word, and the first of the next, is lost at the seam."""

    last: bool
    first: bool


def lost_at_seam(last: str, first: str) -> Lost:
    """What is lost where a word ends in the phone `last` and the next one begins with `first`."""
    one, other = sounds()[bare(last)], sounds()[bare(first)]
    if _held_as_one(one, other) or _merged(one, other):
        return Lost(True, True)
    return Lost(_drawn_over(one, other), False)


def _held_as_one(one: Sound, other: Sound) -> bool:
    """One long consonant (nice sea), or the first of two stops not released (back gate)."""
    alike = (one.place, one.manner) == (other.place, other.manner)
    return one.kind == other.kind == "consonant" and alike


def _merged(one: Sound, other: Sound) -> bool:
    """A third sound in place of both: miss you, meet you."""
    return _alveolar(one) and other.place == "palatal"


def _drawn_over(one: Sound, other: Sound) -> bool:
    """The first is made where the second is: this ship, white chair, red rug."""
    if not _alveolar(one) or other.place != "postalveolar":
        return False
    return one.manner == "stop" or other.manner != "liquid"


def _alveolar(sound: Sound) -> bool:
    return sound.place == "alveolar" and sound.manner in ("stop", "fricative")
