"""A word as it will be said."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Spoken:
    """One word as it will be said.

    phones:  ARPABET with stress; () when no pronunciation is known.
    other:   not the best-founded reading, but the first that has the target where it should be.
    agreed:  every source that knows the word puts the target at the same places.
    guessed: in no lexicon, said by rule.
    by_hand: said as the program says, by `say`.
    heteronym: read in two ways with two meanings, and the program does not say which is meant.
    """

    text: str
    phones: tuple[str, ...]
    other: bool = False
    agreed: bool = True
    guessed: bool = False
    heteronym: bool = False
    by_hand: bool = False
