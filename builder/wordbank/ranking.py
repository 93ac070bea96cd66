"""The order in which words are offered: one weighted sum, its weights in one place.

Each part has a value from 0 to 1; the rank is the sum of weight times value, 100 at most. Parts
with a negative weight rank a word down. Common practice, no source: tried on the first words of
all sounds for children of three, four and six.
"""

from __future__ import annotations

import csv
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cache

from builder.make import drawings
from builder.phonetics.complexity import complexity
from builder.phonetics.inventory import Sound, sounds
from builder.phonetics.lexicon.function_words import is_function_word
from builder.phonetics.position import FLAP, GLOTTAL, R_OF_VOWEL, SYLLABIC, variant
from builder.text.several import several
from builder.wordbank.filters import Candidate, Query, knows, vowels_beside
from builder.wordbank.learnt import ADULT, NO_AGE, years
from builder.wordbank.needs import Needs, held
from builder.wordbank.norms import DATA, norm

ZERO_ZIPF, FULL_ZIPF = 2.5, 5.5  # Zipf: below the first 0, above the second 1
LESS_KNOWN = "may not be known yet"
MAX_COMPLEXITY = 8  # points of the Word Complexity Measure from which a word counts as hardest
YEARS_TOO_LATE = 4  # years after the client's age from which a word counts as not learned at all
SCHOOL_AGE = 6  # years; from here on a word need not be the shortest
EASY_ENOUGH = 3  # points of complexity that cost nothing from school age on
SHORT = {1: 1.0, 2: 0.7, 3: 0.2}  # by syllables
SHORT_AT_SCHOOL = {1: 0.9, 2: 1.0, 3: 0.6}
OUTGROWN = 0.05  # what a year of distance takes from a word that was learned long ago
YEARS_AGO = 3  # years: what was learned so lately is no small child's word


@dataclass(frozen=True, kw_only=True)
class Weights:
    """How much each part counts."""

    learnt: float = 40  # learned by the client's age, and not long ago (`learnt.py`)
    simple: float = 18  # Word Complexity Measure
    short: float = 14  # syllables
    common: float = 12  # Zipf frequency
    concrete: float = 10  # a thing rather than an idea (norm lists)
    context: float = 4  # a vowel beside the target that helps it
    picture: float = 2  # a drawing is at hand: it breaks ties
    twice: float = -5  # the target stands in the word again
    small: float = -15  # a small word, better said in phrases
    beside: float = -8  # it touches a consonant of the next syllable
    vocalic: float = -15  # l as a syllable of its own; inside a word, r that belongs to its vowel
    flapped: float = -100  # t or d said as a flap, or a glottal t: last, whatever speaks for it
    clash: float = -4  # a sound in the word that pulls the target off
    disagree: float = -25  # the sources disagree how the word is said
    two_ways: float = -12  # one spelling, two readings with two meanings
    ending: float = -10  # a grammatical form (only when endings were asked for)
    unknown: float = -40  # no word that a client of this age knows
    instead: float = -30  # the client's own error sound is in the word, or its fellow
    partner: float = -15  # the target's partner in voicing is in the word


WEIGHTS = Weights()


@dataclass(frozen=True)
class Part:
    """One part of a rank: its name in Weights, its weight, its value 0 to 1, and why."""

    name: str
    weight: float
    value: float
    why: str

    @property
    def points(self) -> float:
        """What it adds to the rank."""
        return self.weight * self.value


def parts(
    one: Candidate, query: Query, needs: Needs, weights: Weights = WEIGHTS
) -> tuple[Part, ...]:
    """Every part of a word's rank, those of no value too."""
    known = knows(one.row, query.age)
    found = (
        *_merits(one, query),
        *_faults(one, query.sound),
        *_client_faults(one, needs),
        ("unknown", float(not known), LESS_KNOWN),
    )
    return tuple(Part(name, getattr(weights, name), v, why) for name, v, why in found)


def rank(found: tuple[Part, ...]) -> float:
    """The sum of the parts, 100 at most."""
    return round(sum(part.points for part in found), 6)


Found = Iterator[tuple[str, float, str]]


def _merits(one: Candidate, query: Query) -> Found:
    word, phones = one.row.word, one.row.phones
    rated, drawing = norm(word), drawings.find(word)
    age = NO_AGE if query.age is None else query.age
    yield "learnt", *_learnt(word, age)
    points = complexity(phones)
    spared = EASY_ENOUGH if age >= SCHOOL_AGE else 0
    hard = min(max(points - spared, 0), MAX_COMPLEXITY)
    yield "simple", 1 - hard / MAX_COMPLEXITY, f"complexity {points}"
    count, lengths = one.syllables, SHORT if age < SCHOOL_AGE else SHORT_AT_SCHOOL
    told = several(count, "syllable")
    yield "short", lengths.get(count, 0.0), told
    yield "common", _scaled(one.row.zipf, ZERO_ZIPF, FULL_ZIPF), f"Zipf {one.row.zipf:.1f}"
    yield "concrete", rated.concreteness if rated else 0.0, str(rated or "not rated")
    helpful = [v for v in vowels_beside(phones, one.target) if v in _context(query.sound)[0]]
    yield "context", float(bool(helpful)), _ipa(helpful) or "none that helps"
    yield "picture", float(bool(drawing)), f"drawing '{drawing.name}'" if drawing else "none"


def _learnt(word: str, age: int) -> tuple[float, str]:
    """From 0 to 1: learned by this age; from school age on, what was learned long ago is less."""
    if age >= ADULT:
        return 1.0, "a grown-up knows it"
    learnt = years(word)
    late, ago = max(learnt - age, 0), max(age - learnt - YEARS_AGO, 0)
    value = 1 - min(late / YEARS_TOO_LATE, 1) - (OUTGROWN * ago if age >= SCHOOL_AGE else 0)
    return max(value, 0.0), f"at about {learnt:.0f} years"


def _faults(one: Candidate, sound: Sound) -> Found:
    row = one.row
    yield "twice", float(len(one.all) > 1), f"{len(one.all)} time(s) in the word"
    small = is_function_word(row.word)
    yield "small", float(small), "better said in phrases" if small else "no"
    yield "beside", float(one.target.abuts), "touches a consonant" if one.target.abuts else "no"
    note = variant(row.phones, one.target, sound)
    spoils = note == SYLLABIC or (note == R_OF_VOWEL and "final" not in one.target.positions)
    yield "vocalic", float(spoils), note if spoils else "no"
    flapped = note in (FLAP, GLOTTAL)
    yield "flapped", float(flapped), note if flapped else "no"
    clash = held(row.phones, _context(sound)[1])
    yield "clash", float(bool(clash)), _ipa(clash) or "none"
    yield "disagree", float(not row.agreed), "they agree" if row.agreed else "listen first"
    unclear = row.heteronym and drawings.find(row.word) is None
    yield "two_ways", float(unclear), "read in two ways" if unclear else "no"
    yield "ending", float(bool(row.lemma_of)), f"of {row.lemma_of}" if row.lemma_of else "none"


def _client_faults(one: Candidate, needs: Needs) -> Found:
    substitutes = held(one.row.phones, needs.substitutes)
    yield "instead", float(bool(substitutes)), _ipa(substitutes) or "none"
    partner = held(one.row.phones, (needs.partner,) if needs.partner else ())
    yield "partner", float(bool(partner)), _ipa(partner) or "none"


def _scaled(figure: float, low: float, high: float) -> float:
    return min(1.0, max(0.0, (figure - low) / (high - low)))


def _ipa(symbols: Iterable[str]) -> str:
    return " ".join(sounds()[symbol].ipa for symbol in symbols)


def _context(sound: Sound) -> tuple[tuple[str, ...], tuple[str, ...]]:
    return _contexts().get(sound.symbol, ((), ()))


@cache
def _contexts(language: str = "en") -> dict[str, tuple[tuple[str, ...], tuple[str, ...]]]:
    """Facilitating contexts: vowels beside a target that help, sounds to avoid at first.

    After Kent 1982, Language, Speech, and Hearing Services in Schools 13, 66-76, and handbooks of
    elicitation (from memory): for suggestions only.
    """
    text = (DATA / f"{language}_contexts.csv").read_text(encoding="utf-8")
    rows = csv.DictReader(text.splitlines())
    return {r["target"]: (tuple(r["vowels"].split()), tuple(r["avoid"].split())) for r in rows}
