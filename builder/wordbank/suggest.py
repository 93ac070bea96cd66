"""Words offered for practice, best first; probe words like them; how a figure came about."""

from __future__ import annotations

from dataclasses import dataclass, replace

from builder.make import drawings
from builder.phonetics.complexity import complexity
from builder.phonetics.inventory import Sound, bare, ipa_of
from builder.phonetics.lexicon.dictionary import pronunciations
from builder.phonetics.position import Position, cluster_ipa, stands, variant
from builder.wordbank.filters import Candidate, Query, Row, Words, candidates
from builder.wordbank.learnt import ADULT, from_age
from builder.wordbank.needs import Needs, lacked_in, sounds_unsuitable, unsuitable_forms
from builder.wordbank.norms import norm
from builder.wordbank.probes import is_probe
from builder.wordbank.ranking import Part, parts, rank
from builder.wordbank.unsuitable import is_unsuitable

Phones = tuple[str, ...]
NO_NEEDS = Needs()
NEIGHBOUR_MIN_ZIPF = 2.5  # Zipf from which a word counts as a neighbor
PROBES_PER_MODEL = 4  # probe words looked at for each one that is wanted
MIN_WORDS = 12  # words; a shorter list is filled up with common words that children may not know


@dataclass(frozen=True, kw_only=True)
class Offer:
    """One word as it is offered.

    complexity: Word Complexity Measure. zipf: frequency. rank: 100 at most.
    notes:      what is worth a thought, as in 'dark l', 'sources disagree, listen first'.
    """

    word: str
    phones: tuple[str, ...]
    syllables: int
    complexity: int
    zipf: float
    picture: bool
    cluster: tuple[str, ...]
    notes: tuple[str, ...]
    parts: tuple[Part, ...]
    rank: float

    @property
    def known(self) -> bool:
        """Whether children know it, or meet it every day."""
        return not self._has("unknown")

    @property
    def troubled(self) -> bool:
        """Whether it holds what the client says instead, or the partner in voicing."""
        return self._has("instead", "partner")

    def _has(self, *faults: str) -> bool:
        return any(part.name in faults and part.value for part in self.parts)

    @property
    def two_ways(self) -> bool:
        """Whether it is read in two ways (`tear`)."""
        return self._has("two_ways")

    @property
    def flapped(self) -> bool:
        """Whether its target is a flap or a glottal t: practiced only when asked for."""
        return self._has("flapped")


def offer(words: Words, query: Query, needs: Needs = NO_NEEDS) -> tuple[Offer, ...]:
    """Every word that fits, best first; the commoner, then the earlier in the alphabet, among
    equals. No probe word, none that is taken, holds what the client lacks or sounds unsuitable
    with the client's error. Words with the sound that is said instead, or with the partner in
    voicing, are there only where the others are fewer than MIN_WORDS, and after them."""
    return _spared(_topped_up(words, query, needs, probes_only=False))


def _spared(found: tuple[Offer, ...]) -> tuple[Offer, ...]:
    free = tuple(o for o in found if not o.troubled)
    return free if len(free) >= MIN_WORDS else (*free, *(o for o in found if o.troubled))


def kept_apart(words: Words, query: Query, needs: Needs = NO_NEEDS) -> tuple[Offer, ...]:
    """Every probe word that fits, best first: none where fewer than MIN_WORDS words fit at all."""
    return _topped_up(words, query, needs, probes_only=True)


def probes(words: Words, query: Query, count: int, needs: Needs = NO_NEEDS) -> tuple[Offer, ...]:
    """`count` words that are kept out of practice, of the difficulty of the words offered first.

    For each of those, from the best on, the nearest probe word among the best; always the same.
    """
    pool = kept_apart(words, query, needs)[: PROBES_PER_MODEL * count]
    models = _topped_up(words, query, needs, probes_only=False)[:count]
    chosen: list[Offer] = []
    for model in models:
        rest = [o for o in pool if o not in chosen]
        if rest:
            chosen.append(min(rest, key=lambda o: _distance(o, model)))
    return tuple(chosen)


def _distance(one: Offer, other: Offer) -> float:
    """How unlike two words are in difficulty: points, syllables, frequency, picture, rank."""
    return (
        abs(one.complexity - other.complexity)
        + 2 * abs(one.syllables - other.syllables)
        + abs(one.zipf - other.zipf)
        + (one.picture is not other.picture)
        + abs(one.rank - other.rank) / 10
    )


def _topped_up(words: Words, query: Query, needs: Needs, probes_only: bool) -> tuple[Offer, ...]:
    """The probe words, or all but these, best first. Of words that sound alike only the best; a
    short list is filled up, and keeps none apart."""
    found = _fitting(words, query, needs)
    enough = len(found) >= MIN_WORDS
    if not enough and not query.wide:
        there = {o.word for o in found}
        more = _fitting(words, replace(query, common=True), needs)
        more = [o for o in more if o.word not in there and _may_fill_up(o.word, query.age)]
        more.sort(key=lambda o: (from_age(o.word), -o.zipf, o.word))
        found += more[: MIN_WORDS - len(found)]
    found.sort(key=lambda o: (-o.rank, -o.zipf, o.word))
    trained = _trained(words, needs)
    best = {tuple(map(bare, o.phones)): o for o in reversed(found)}
    return tuple(
        o
        for o in found
        if best[tuple(map(bare, o.phones))] is o
        and (enough and _is_probe(words, o, query, trained)) is probes_only
    )


def _may_fill_up(word: str, age: int | None) -> bool:
    """Whether the word may fill up a short list: for a child only what older children know."""
    return (age is not None and age >= ADULT) or from_age(word) < ADULT


def _trained(words: Words, needs: Needs) -> frozenset[str]:
    """The words of the client's programs, and those of which they are forms."""
    rows = filter(None, map(words.row, needs.taken))
    return needs.taken | {row.lemma_of for row in rows if row.lemma_of}


def _is_probe(words: Words, one: Offer, query: Query, trained: frozenset[str]) -> bool:
    row = words.row(one.word)
    return is_probe(one.word, query.sound, trained, row.lemma_of if row else "")


def _fitting(words: Words, query: Query, needs: Needs) -> list[Offer]:
    bad = unsuitable_forms(words) if needs.said_instead is not None else frozenset()
    found = [
        offered(one, query, needs)
        for one in candidates(words, query)
        if one.row.word not in needs.taken
        and not lacked_in(one.row.phones, needs)
        and not sounds_unsuitable(one.row.phones, needs, bad)
    ]
    return [o for o in found if o.known or query.wide or query.common]


def offered(one: Candidate, query: Query, needs: Needs = NO_NEEDS) -> Offer:
    """A candidate with its figures."""
    row, found = one.row, parts(one, query, needs)
    return Offer(
        word=row.word,
        phones=row.phones,
        syllables=one.syllables,
        complexity=complexity(row.phones),
        zipf=row.zipf,
        picture=drawings.find(row.word) is not None,
        cluster=one.target.cluster,
        notes=_notes(one, query.sound, found),
        parts=found,
        rank=rank(found),
    )


def other_reading(row: Row, sound: Sound, position: Position, there: bool) -> Phones:
    """A reading of the word that has the sound at the position (`there`), or has not; else ()."""
    forms = pronunciations(row.word)
    return next((form for form in forms if bool(stands(form, sound, position)) is there), ())


def _notes(one: Candidate, sound: Sound, found: tuple[Part, ...]) -> tuple[str, ...]:
    notes = [variant(one.row.phones, one.target, sound)]
    if one.target.cluster:
        notes.append(f"in {cluster_ipa(one.target.cluster)}")
    if len(one.all) > 1:
        notes.append(f"/{sound.ipa}/ {len(one.all)} times")
    if one.target.abuts:
        notes.append("touches a consonant")
    if not one.row.agreed:
        notes.append("sources disagree, listen first")
    if one.row.heteronym:
        notes.append("read in two ways")
    if other := other_reading(one.row, sound, one.target.positions[0], there=False):
        notes.append(f"also said /{ipa_of(other)}/")
    notes += [part.why for part in found if part.name == "unknown" and part.value]
    return tuple(filter(None, notes))


def neighbours(words: Words, phones: tuple[str, ...]) -> tuple[str, ...]:
    """The neighbors of a word that count: base forms that norm lists rate, from Zipf 2.5 on.

    Surnames, abbreviations, endings and unsuitable words fall out; their number is the density.
    """
    rows = (words.row(word) for word in words.neighbours(phones))
    return tuple(
        sorted(
            row.word
            for row in rows
            if row
            and row.zipf >= NEIGHBOUR_MIN_ZIPF
            and not row.lemma_of
            and norm(row.word)
            and not is_unsuitable(row.word)
        )
    )
