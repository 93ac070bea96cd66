"""How every figure of one word came about, in plain lines."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from builder.make import drawings
from builder.phonetics.complexity import Point, complexity_points, target_score
from builder.phonetics.inventory import ipa_of, is_vowel, sounds
from builder.phonetics.position import occurrences, stands
from builder.wordbank import suggest
from builder.wordbank.filters import Query, Row, Words, candidate_of, why_outside, why_unsuited
from builder.wordbank.learnt import from_age, years
from builder.wordbank.needs import Needs, held, lacked_in, sounds_unsuitable, unsuitable_forms
from builder.wordbank.norms import classes, norm
from builder.wordbank.probes import ONE_IN
from builder.wordbank.suggest import NO_NEEDS, Offer, neighbours, offered, other_reading


@dataclass(frozen=True)
class Explanation:
    """One word's figures.

    offer: None when it does not fit the query. why_not: why it is not offered, "" when it is.
    """

    row: Row
    points: tuple[Point, ...]
    target_score: int
    neighbours: tuple[str, ...]
    offer: Offer | None
    why_not: str


def explain(words: Words, query: Query, word: str, needs: Needs = NO_NEEDS) -> Explanation | None:
    """The figures of a word and, against `query`, its rank; None for a word without a reading."""
    row = words.row(word)
    if row is None:
        return None
    one = candidate_of(row, query)
    offer = offered(one, query, needs) if one else None
    return Explanation(
        row=row,
        points=complexity_points(row.phones),
        target_score=target_score(row.phones),
        neighbours=neighbours(words, row.phones),
        offer=offer,
        why_not=_why_not(words, row, offer, query, needs),
    )


def _why_not(words: Words, row: Row, offer: Offer | None, query: Query, needs: Needs) -> str:
    if offer and row.word in {one.word for one in suggest.offer(words, query, needs)}:
        return ""
    if why := why_unsuited(row, query) or why_outside(row, query):
        return why
    if offer is None:
        return _unfitting(row, query)
    if row.word in needs.taken:
        return "it is in a program of this client already"
    if lacked := lacked_in(row.phones, needs):
        return f"it holds {_slashed(lacked)}, which this client does not have yet"
    return _kept_apart(words, row, query, needs)


def _kept_apart(words: Words, row: Row, query: Query, needs: Needs) -> str:
    """Why a fit word is kept apart: unsuitable as this client says it, a probe, or not needed."""
    errs = needs.said_instead is not None
    if errs and sounds_unsuitable(row.phones, needs, unsuitable_forms(words)):
        return "said with the client's error it sounds like a word that is left out"
    if row.word in {one.word for one in suggest.kept_apart(words, query, needs)}:
        sound = f"/{query.sound.ipa}/"
        return f"one of {ONE_IN} words is kept apart as a probe of {sound}, and it is one"
    if troubling := held(row.phones, needs.troubling):
        return f"it holds {_slashed(troubling)}, and enough words do without"
    return "a better known word sounds just like it"


def _slashed(symbols: tuple[str, ...]) -> str:
    return " and ".join(f"/{sounds()[symbol].ipa}/" for symbol in symbols)


def _unfitting(row: Row, query: Query) -> str:
    found = occurrences(row.phones, query.sound)
    there = stands(row.phones, query.sound, query.position)
    if not there and (other := other_reading(row, query.sound, query.position, there=True)):
        return f"it is also said /{ipa_of(other)}/: if you say it so, write it with `say:`"
    if not found:
        return f"it holds no /{query.sound.ipa}/"
    if not there:
        places = " and ".join(dict.fromkeys(p for o in found for p in o.positions))
        return f"its /{query.sound.ipa}/ is {places}, not {query.position}"
    return "cluster, syllables, stress, vowel, picture, class or a sound is not as asked for"


def lines(told: Explanation) -> Iterator[str]:
    """The explanation as text."""
    row = told.row
    yield f"{row.word} /{ipa_of(row.phones)}/"
    named = ", ".join(_point(point, row.phones) for point in told.points)
    yield f"complexity {len(told.points)} (Word Complexity Measure): {named or 'no point'}"
    consonants = sum(not is_vowel(phone) for phone in row.phones)
    yield (
        f"whole-word score {told.target_score}: {len(row.phones)} segments + "
        f"{consonants} consonants"
    )
    yield f"frequency: Zipf {row.zipf:.1f} (wordfreq)"
    near = ", ".join(told.neighbours)
    yield f"neighbors {len(told.neighbours)}: {near or 'none that counts'}"
    yield f"concreteness: {norm(row.word) or 'not rated'}"
    yield f"known: {' and '.join(classes(row.word)) or 'not on the list of children’s words'}"
    yield f"asked for from {from_age(row.word)} years on; learned at about {years(row.word):.1f}"
    drawing = drawings.find(row.word)
    yield f"picture: {f'drawing of {drawing.name}' if drawing else 'none at hand'}"
    yield from _rank(told.offer)
    yield f"not offered: {told.why_not}" if told.why_not else "offered"


def _point(point: Point, phones: tuple[str, ...]) -> str:
    if point.stop - point.start == len(phones):
        return point.rule
    return f"{point.rule} {ipa_of(phones[point.start : point.stop])}"


def _rank(offer: Offer | None) -> Iterator[str]:
    if offer is None:
        return
    yield f"rank {offer.rank:.1f} of 100, from:"
    for part in offer.parts:
        if part.points or part.weight > 0:
            yield (
                f"  {part.name:9} {part.weight:5g} x {part.value:.2f} = {part.points:6.1f}"
                f"   {part.why}"
            )
