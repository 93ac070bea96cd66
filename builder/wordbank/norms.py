"""What people said of words, and our own list of words that young children know.

How concrete a word is: the Glasgow norms where they rate it (Scott et al. 2019, Behavior Research
Methods 51, 1258-1270; CC BY 4.0), else how strongly it is seen and touched by the Lancaster norms
(Lynott et al. 2020, Behavior Research Methods 52, 1271-1291; CC BY 4.0). When it is learned:
`learnt.py`. Of larger lists nobody says that they may be passed on (Brysbaert et al. 2014 and
Kuperman et al. 2012 state no license, the MRC database is for research), so they are left out.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from pathlib import Path

MIN_CONCRETENESS = 0.55  # concreteness from which a word counts as a thing
DATA = Path(__file__).parent / "data"


@dataclass(frozen=True)
class Norm:
    """Ratings of one word; None where a list does not rate it.

    seen, touched: 0 to 5 (Lancaster). concrete: 1 to 7 (Glasgow).
    learnt: 1 to 7 (Glasgow): at 0 to 2 years, 3 to 4 and so on, 13 and later.
    """

    seen: float | None
    touched: float | None
    concrete: float | None
    learnt: float | None = None

    @property
    def concreteness(self) -> float:
        """0 (an idea) to 1 (a thing)."""
        if self.concrete is not None:
            return (self.concrete - 1) / 6
        return ((self.seen or 0) + (self.touched or 0)) / 10

    def __str__(self) -> str:
        if self.concrete is not None:
            return f"{self.concrete:g} of 7 (Glasgow norms)"
        return f"seen {self.seen:g}, touched {self.touched:g} of 5 each (Lancaster norms)"


@cache
def norm(word: str) -> Norm | None:
    """The ratings of a word; None where no list has it, as for names and rare words."""
    cells = _rated().get(word)
    return Norm(*(float(c) if c else None for c in cells.split(","))) if cells else None


@cache
def _rated() -> dict[str, str]:
    """Word -> its cells, read when they are asked for: the table has 27,000 lines."""
    lines = (DATA / "en_norms.csv").read_text(encoding="utf-8").splitlines()
    rows = (line.partition(",") for line in lines if not line.startswith(("#", "word,seen,")))
    return {word: cells for word, _, cells in rows}


@cache
def everyday() -> tuple[str, ...]:
    """The children's words and all that are rated as things."""
    things = (w for w in _rated() if (rated := norm(w)) and rated.concreteness >= MIN_CONCRETENESS)
    return tuple(dict.fromkeys((*_known(), *things)))


def classes(word: str) -> tuple[str, ...]:
    """The classes (noun, verb, adjective...) of a word that children know; else ()."""
    return tuple(_known().get(word, {}))


def known_from(word: str) -> int | None:
    """The age in years from which children know a word of our own list; None for others."""
    return min(_known().get(word, {}).values(), default=None)


def is_classic(word: str) -> bool:
    """Whether every practice of its sounds asks for the word."""
    return word in _named("classic")


def is_childish(word: str) -> bool:
    """Whether older children and adults would not say the word."""
    return word in _named("childish")


@cache
def _known() -> dict[str, dict[str, int]]:
    """Word -> class -> age."""
    known: dict[str, dict[str, int]] = {}
    for head, words in _lines().items():
        if len(head) > 1:
            for word in words:
                ages = known.setdefault(word.replace("_", " "), {})
                ages[head[0]] = min(int(head[-1]), ages.get(head[0], int(head[-1])))
    return known


@cache
def _named(head: str) -> frozenset[str]:
    return frozenset(_lines()[(head,)])


@cache
def _lines() -> dict[tuple[str, ...], tuple[str, ...]]:
    """The lines of our own list: what stands before the colon, and the words."""
    lines = (DATA / "en_known.txt").read_text(encoding="utf-8").splitlines()
    parts = (line.partition(":") for line in lines if not line.startswith("#"))
    return {tuple(head.split()): tuple(words.split()) for head, _, words in parts}
