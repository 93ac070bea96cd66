"""An index of a few words for tests of drafts."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache

from builder.phonetics.lexicon.dictionary import pronunciations
from builder.phonetics.lexicon.index import Row

WORDS = """
    sun sock soap seal soup sand salad sandwich saw seed sink key cow cup comb coin corn candle
    camel car cap can cake crab crown crow crayon crib crane cracker crutch grass grape green
    grandma grapefruit gravy ground grasshopper tree train truck tray tractor trumpet bus house
    mouse goose dress ice juice fossil bicycle dinosaur messy icy bird fur girl nurse her turtle
    thumb thief thorn thin bath tooth mouth path moth
"""


@cache
def _rows() -> dict[str, Row]:
    return {
        word: Row(word, pronunciations(word)[0], 4.5, True, False, "") for word in WORDS.split()
    }


class Few:
    """An index of a few words, so that no test builds the whole one."""

    def close(self) -> None:
        """There is nothing to let go."""

    def all(self) -> Iterator[Row]:
        return iter(_rows().values())

    def row(self, word: str) -> Row | None:
        return _rows().get(word)

    def neighbours(self, phones: tuple[str, ...]) -> tuple[str, ...]:
        return ()
