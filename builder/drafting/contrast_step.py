"""The step of pairs of a drafted program: words that differ in the target alone, of which one is
chosen and said."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from builder.drafting.choose_lines import in_turn
from builder.drafting.ladder import Draft, Entry, typed
from builder.model.dose import is_young
from builder.phonetics.contrast import ContrastError, ContrastSide, check_sides
from builder.phonetics.inventory import ipa_of
from builder.phonetics.minimal_pairs.find import Pair
from builder.phonetics.minimal_pairs.words import IndexedWord
from builder.phonetics.position import Position
from builder.problems import UsageError
from builder.text.several import several
from builder.wordbank.contrast_pairs import PairQuery, offered_pairs, sides_of
from builder.wordbank.filters import Words
from builder.wordbank.needs import Needs

NAME = "pairs"
MIN_PAIRS = 3  # fewer make no round; common practice, no source
GOOD_PAIRS = 4  # up to so many less known pairs fill up
MOST_PAIRS, MOST_YOUNG = 8, 6  # pairs of a step; under six years


@dataclass(frozen=True)
class Asked:
    """What of an order decides the pairs. pictured: whether there is a picture of a word."""

    needs: Needs
    places: Sequence[Position]
    group: tuple[str, ...]
    age: int | None
    pictured: Callable[[str], bool]


def wanted(index: Words, asked: Asked) -> tuple[tuple[IndexedWord, IndexedWord], ...]:
    """The pairs. Raises UsageError where there are too few, or where it is not told which sound is
    said instead."""
    sides = sides_of(asked.needs, asked.group)
    if sides is None:
        raise UsageError(
            "`--contrast` needs to know which sound is said instead: add `--error`, as in "
            "`--error t` or `--error omitted`."
        )
    try:
        found = chosen(index, asked)
    except ContrastError as problem:
        raise UsageError(f"{problem}.") from None
    if (count := len(found)) < MIN_PAIRS:
        raise UsageError(
            f"only {several(count, 'pair')} of known words for "
            f"{' and '.join(f'/{side.ipa}/' for side in sides)} {' or '.join(asked.places)}. "
            "Take another position, or leave out `--contrast` and write pairs of your own into a "
            "step: `contrast: [[key, tea]]`."
        )
    return found


def chosen(index: Words, asked: Asked) -> tuple[tuple[IndexedWord, IndexedWord], ...]:
    """The pairs, those of all positions in turn, the word with the target first.

    With a word that the client may not know, or with one of the sounds again, only where there are
    fewer than GOOD_PAIRS others.
    Raises ContrastError where what is said instead makes no contrast.
    """
    sides = sides_of(asked.needs, asked.group)
    if sides is None:
        return ()
    check_sides(*sides)
    most = MOST_YOUNG if is_young(asked.age) else MOST_PAIRS
    found = [_of_place(index, asked, sides, place, most) for place in asked.places]
    mixed = tuple(dict.fromkeys(in_turn(found)))
    best = [pair for pair in mixed if pair.known == len(pair.words) and not pair.again]
    rest = sorted((pair for pair in mixed if pair not in best), key=lambda pair: pair.again)
    taken = [*best, *rest[: max(0, GOOD_PAIRS - len(best))]]
    return tuple(pair.words for pair in taken[:most])


def _of_place(
    index: Words,
    asked: Asked,
    sides: tuple[ContrastSide, ContrastSide],
    place: Position,
    most: int,
) -> tuple[Pair, ...]:
    query = PairQuery(
        one=sides[0],
        other=sides[1],
        pictured=asked.pictured,
        position=place,
        age=asked.age,
        needs=asked.needs,
    )
    found = offered_pairs(index, query, most)
    return tuple(p for p in found if not (p.near or p.flapped or p.cluster))


def step(
    pairs: Sequence[tuple[IndexedWord, IndexedWord]], group: tuple[str, ...], name: str
) -> Draft:
    """The step. How often its round is gone through is left to the tool."""
    return Draft(
        name=name,
        level="word",
        rounds=(),
        pairs=tuple((_entry(one), _entry(other)) for one, other in pairs),
        cluster=typed(group),
    )


def _entry(word: IndexedWord) -> Entry:
    """The word, with its reading where it has two."""
    return (word.word, ipa_of(word.phones)) if word.heteronym else word.word
