"""Which letters spell which sound of a word: the cheapest way through letters and phones.

What may spell what is data (data/*_spellings.csv); nothing here is English. Two views: `spans`
gives every letter to some phone (a silent letter to the sound before it, at the start of a word
to the one after it); `target_letters` sets off only the letters that sound, so the c of `face`
without its silent e, but the whole kn of `knee`, since there the letters spell the sound together.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache, lru_cache
from itertools import pairwise, product
from typing import NamedTuple

from builder.phonetics.inventory import bare
from builder.phonetics.tables import rows

Span = tuple[int, int]
Table = dict[tuple[str, ...], dict[str, int]]

USUAL_COST, RARE_COST = 2, 4  # costs of a table entry; only their order matters
SHARED_COST = 2  # for each further phone that shares the letters
SILENT_USUAL_COST, SILENT_RARE_COST = 3, 6
# Outside the table, only where nothing else fits; a pair is cheaper than silence on both sides.
ODD_PAIR_COST, ODD_SILENT_COST, UNSPELLED_COST = 20, 12, 24
MAX_CELLS = 10_000  # letters x phones; what is larger is no word, and is dealt out evenly
BOUNDARY = "-"  # stands for whatever is no letter: no spelling reaches across it
APOSTROPHES = "'’ʼ"


@dataclass(frozen=True)
class Unit:
    """One sign as a reader sees it, with its accents: text [start, stop) and its plain letter.

    letter: lower case without accents; SEAM for a sign that is no letter, "" for an apostrophe.
    """

    start: int
    stop: int
    letter: str


class Step(NamedTuple):
    """Letters [i, i + letters) spell phones [j, j + phones); either may be 0."""

    i: int
    j: int
    letters: int
    phones: int


Best = dict[Span, tuple[int, Step]]


@cache
def spellings(language: str = "en") -> Table:
    """Cost of every spelling, by the phones that it spells; () for silent letters."""
    return {tuple(row["phones"].split()): _costs(row) for row in rows("spellings", language)}


def _costs(row: dict[str, str]) -> dict[str, int]:
    phones = row["phones"].split()
    usual, rare = (USUAL_COST, RARE_COST) if phones else (SILENT_USUAL_COST, SILENT_RARE_COST)
    more = SHARED_COST * max(0, len(phones) - 1)
    costs = dict.fromkeys(row["rare"].split(), rare + more)
    return costs | dict.fromkeys(row["usual"].split(), usual + more)


def spans(word: str, phones: tuple[str, ...]) -> tuple[Span, ...]:
    """For every phone the letters [start, stop) of `word` that spell it.

    Together they cover the whole text, starts and stops never go back, and phones that are
    spelled together have the same span (x is K S). Never raises: what fits no spelling is dealt
    out as evenly as may be.
    """
    cores = _cores(word, phones)
    starts = sorted({start for start, _ in cores})
    covers = dict(zip(starts, pairwise([0, *starts[1:], len(word)]), strict=False))
    return tuple(covers[start] for start, _ in cores)


def target_letters(
    word: str, phones: tuple[str, ...], start: int, stop: int
) -> tuple[tuple[str, bool], ...]:
    """The text cut up, True where letters spell phones [start, stop); silent letters are False.

    The pieces joined are `word`; no piece is empty. Phones that are not there mark nothing.
    """
    span = target_span(word, phones, start, stop)
    if not span:
        return ((word, False),) if word else ()
    low, high = span
    pieces = ((word[:low], False), (word[low:high], True), (word[high:], False))
    return tuple(piece for piece in pieces if piece[0])


def target_span(word: str, phones: tuple[str, ...], start: int, stop: int) -> Span | None:
    """The letters of a word that spell phones [start, stop); None for phones that are not there."""
    wanted = _cores(word, phones)[max(start, 0) : max(stop, 0)]
    return (wanted[0][0], wanted[-1][1]) if wanted else None


def fits(word: str, phones: tuple[str, ...]) -> bool:
    """Whether the table alone explains the word: no letter and no sound is left over."""
    return _cheapest(_letters(_units(word)), tuple(map(bare, phones))) is not None


@lru_cache(maxsize=4096)
def _cores(word: str, phones: tuple[str, ...]) -> tuple[Span, ...]:
    """For every phone the letters that sound, without the silent ones beside them."""
    units = _units(word)
    spelled = [unit for unit in units if unit.letter]
    steps = _alignment(_letters(units), tuple(map(bare, phones)))
    if steps is None:
        return _dealt_out(units, len(phones))
    found: list[Span | None] = [None] * len(phones)
    for step in steps:
        if step.letters:
            edges = spelled[step.i].start, spelled[step.i + step.letters - 1].stop
            found[step.j : step.j + step.phones] = [edges] * step.phones
    return _borrowed(found)


def _borrowed(found: list[Span | None]) -> tuple[Span, ...]:
    """A phone without letters takes those of the phone before it, else of the one after it."""
    last = next(span for span in found if span)
    full = []
    for span in found:
        last = span or last
        full.append(last)
    return tuple(full)


def _dealt_out(units: tuple[Unit, ...], count: int) -> tuple[Span, ...]:
    """`count` spans over all units from left to right, as equal as may be."""
    if not units:
        return ((0, 0),) * count
    cuts = [(j * len(units) // count, -(-(j + 1) * len(units) // count)) for j in range(count)]
    return tuple((units[a].start, units[b - 1].stop) for a, b in cuts)


def _units(text: str) -> tuple[Unit, ...]:
    starts = [at for at in range(len(text)) if not _continues(text, at)]
    edges = pairwise([*starts, len(text)])
    return tuple(Unit(a, b, _letter(text[a])) for a, b in edges)


def _continues(text: str, at: int) -> bool:
    """Whether the sign is part of the one before it: accents, joined emoji and their tints."""
    sign = text[at]
    joined = at > 0 and text[at - 1] == "\u200d"
    return at > 0 and (
        joined or sign == "\u200d" or unicodedata.category(sign)[0] == "M" or "🏻" <= sign <= "🏿"
    )


def _letter(sign: str) -> str:
    if sign in APOSTROPHES:
        return ""
    plain = unicodedata.normalize("NFKD", sign)[0].lower()
    return plain[0] if plain[0].isalnum() else BOUNDARY


def _letters(units: tuple[Unit, ...]) -> str:
    return "".join(unit.letter for unit in units)


def _alignment(letters: str, phones: tuple[str, ...]) -> list[Step] | None:
    """The steps of the cheapest alignment; None where there is nothing to align."""
    if not phones or not letters.strip(BOUNDARY):
        return None
    return _cheapest(letters, phones) or _cheapest(letters, phones, odd=True)


def _cheapest(letters: str, phones: tuple[str, ...], odd: bool = False) -> list[Step] | None:
    """Dynamic programming: best[i, j] is the cheapest way to spell phones[:j] by letters[:i].

    best[i + a, j + b] = min(best[i, j] + price of letters[i : i + a] for phones[j : j + b])
    None where no way leads to the end, or there are more than MAX_CELLS places (i, j).
    """
    goal = (len(letters), len(phones))
    if goal[0] * goal[1] > MAX_CELLS:
        return None
    best: Best = {(0, 0): (0, Step(0, 0, 0, 0))}
    for here in product(range(goal[0] + 1), range(goal[1] + 1)):
        if here in best:
            _extend(best, here, _moves(letters, phones, *here, odd))
    return _backtrace(best, goal) if goal in best else None


def _extend(best: Best, here: Span, moves: Iterator[tuple[int, int, int]]) -> None:
    (i, j), cost = here, best[here][0]
    for a, b, price in moves:
        there = (i + a, j + b)
        if there not in best or cost + price < best[there][0]:
            best[there] = (cost + price, Step(i, j, a, b))


def _moves(
    letters: str, phones: tuple[str, ...], i: int, j: int, odd: bool
) -> Iterator[tuple[int, int, int]]:
    """Every next move from (i, j): how many letters, how many phones, at what price."""
    most_letters, most_phones = _longest_entry()
    for b in range(min(most_phones, len(phones) - j) + 1):
        listed = spellings().get(phones[j : j + b], {})
        for a in range(1, min(most_letters, len(letters) - i) + 1) if listed else ():
            if (price := listed.get(letters[i : i + a])) is not None:
                yield a, b, price
    if i < len(letters) and letters[i] == BOUNDARY:
        yield 1, 0, 0
    elif odd:
        yield from _odd_moves(len(letters) - i, len(phones) - j)


def _odd_moves(letters: int, phones: int) -> Iterator[tuple[int, int, int]]:
    if letters:
        yield 1, 0, ODD_SILENT_COST
    if phones:
        yield 0, 1, UNSPELLED_COST
    if letters and phones:
        yield 1, 1, ODD_PAIR_COST


@cache
def _longest_entry() -> Span:
    """The most letters and the most phones of any entry of the table."""
    table = spellings()
    return max(len(text) for row in table.values() for text in row), max(map(len, table))


def _backtrace(best: Best, goal: Span) -> list[Step]:
    steps, at = [], goal
    while at != (0, 0):
        step = best[at][1]
        steps.append(step)
        at = (step.i, step.j)
    return steps[::-1]
