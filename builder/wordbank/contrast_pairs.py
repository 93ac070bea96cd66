"""Pairs of words for contrast that a client knows, best first: both known at the client's age,
both with a picture, no word with a sound that is not there yet; no probe where there are many."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cache

from builder.phonetics.contrast import ContrastSide
from builder.phonetics.inventory import sounds
from builder.phonetics.lexicon.dictionary import pronunciations
from builder.phonetics.lexicon.function_words import is_function_word
from builder.phonetics.minimal_pairs.find import MIN_PAIRS, Pair, pairs
from builder.phonetics.minimal_pairs.words import IndexedWord
from builder.phonetics.position import Position, occurrences
from builder.wordbank.filters import Words, knows
from builder.wordbank.learnt import ADULT, is_too_childish, years
from builder.wordbank.needs import Needs, lacked_in
from builder.wordbank.norms import classes, norm
from builder.wordbank.probes import is_probe
from builder.wordbank.suggest import MIN_WORDS, NO_NEEDS
from builder.wordbank.unsuitable import is_unsuitable


def sides_of(needs: Needs, group: tuple[str, ...] = ()) -> tuple[ContrastSide, ContrastSide] | None:
    """The two sides for a client: the target and what is said for it, alone or in a cluster (its
    symbols); None where what is said is no sound of the language, or not told."""
    instead = counterpart(needs)
    if instead is None:
        return None
    target = sounds()[needs.target]
    if not group:
        return ContrastSide((target,)), instead
    whole = [sounds()[symbol] for symbol in group]
    at = whole.index(target)
    return ContrastSide(tuple(whole)), ContrastSide(
        (*whole[:at], *instead.sounds, *whole[at + 1 :])
    )


@dataclass(frozen=True)
class PairQuery:
    """What is asked for.

    one, other: for a client the target first, then what is said instead.
    pictured:   whether there is a picture of a word: a drawing, the clinic's or the client's own.
    age:        of the client in years; None for a child of any age.
    """

    one: ContrastSide
    other: ContrastSide
    pictured: Callable[[str], bool]
    position: Position | None = None
    age: int | None = None
    needs: Needs = NO_NEEDS


def counterpart(needs: Needs) -> ContrastSide | None:
    """What the client says for the target, as the other side of a contrast; None where that is no
    sound of the language, or not told."""
    said = needs.said_instead
    if said == ():
        return ContrastSide(())
    found = next((s for s in sounds().values() if said in s.phones), None)
    return ContrastSide((found,)) if found else None


def offered_pairs(words: Words, query: PairQuery, count: int) -> tuple[Pair, ...]:
    """At most `count` pairs, best first.

    Pairs with a word that the client may not know only fill up a list shorter than MIN_PAIRS, and
    so do near pairs. Probes are left out where MIN_WORDS pairs or more remain.
    """

    @cache
    def known(word: str) -> bool:
        row = words.row(word)
        return row is not None and ((query.age or 0) >= ADULT or knows(row, query.age))

    found = pairs(
        query.one,
        query.other,
        words.all(),
        query.position,
        fit=lambda row: _fits(row, query),
        pictured=cache(query.pictured),
        known=known,
        learnt=cache(years),
        readings=pronunciations,
        least=min(MIN_PAIRS, count),
    )
    kept = tuple(p for p in found if not any(_is_probe(row, query) for row in p.words))
    return _filled_up(kept if len(_known(kept)) >= MIN_WORDS else found, count)


def _filled_up(found: tuple[Pair, ...], count: int) -> tuple[Pair, ...]:
    """The known pairs, then of others those whose later word is learned first; near ones last."""
    known = _known(found)[:count]
    rest = sorted((pair for pair in found if pair not in known), key=_lateness)
    chosen = [*known, *rest[: max(0, min(MIN_PAIRS, count) - len(known))]]
    return tuple(sorted(chosen, key=lambda pair: pair.near))


def _lateness(pair: Pair) -> tuple[bool, bool, bool, bool, float]:
    learnt = max(years(row.word) for row in pair.words)
    return pair.near, pair.flapped, pair.cluster, pair.again, learnt


def _known(found: tuple[Pair, ...]) -> list[Pair]:
    return [pair for pair in found if pair.known == len(pair.words)]


def _fits(row: IndexedWord, query: PairQuery) -> bool:
    """A word that people know (rated, on the list of known words, with a picture): no name, no
    small word, none with a sound that is not there yet."""
    word, spared = row.word, replace(query.needs, lacks=_lacking(query))
    return (
        len(word) > 1
        and word.isascii()
        and bool(classes(word) or norm(word) or query.pictured(word))
        and not is_function_word(word)
        and not is_unsuitable(word, row.lemma_of)
        and not lacked_in(row.phones, spared)
        and not is_too_childish(word, query.age)
    )


def _lacking(query: PairQuery) -> tuple[str, ...]:
    """The sounds that are not there yet, but for those that are contrasted."""
    sides = {sound.symbol for side in (query.one, query.other) for sound in side.sounds}
    return tuple(symbol for symbol in query.needs.lacks if symbol not in sides)


def _is_probe(row: IndexedWord, query: PairQuery) -> bool:
    """Whether the word is kept as a probe: of the client's target, of either sound without one."""
    both = (*query.one.sounds, *query.other.sounds)
    asked = [s for s in both if query.needs.target in ("", s.symbol)]
    return any(
        is_probe(row.word, s, query.needs.taken, row.lemma_of) and occurrences(row.phones, s)
        for s in asked
    )
