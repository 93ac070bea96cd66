"""The order in which words are offered: one weighted sum, its weights in one place.

Each part has a value from 0 to 1; the rank is the sum of weight times value, 100 at most. Parts
with a negative weight rank a word down. Common practice, no source: tried on the first words of
ten sounds for children of four to seven.
"""

from __future__ import annotations

import csv
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cache

from builder.make import drawings
from builder.phonetics.complexity import complexity
from builder.phonetics.inventory import Sound, sounds
from builder.phonetics.position import FLAP, GLOTTAL, R_OF_VOWEL, SYLLABIC, variant
from builder.wordbank.filters import Candidate, is_everyday, vowels_beside
from builder.wordbank.needs import Needs, held
from builder.wordbank.norms import DATA, classes, norm

ZERO_ZIPF, FULL_ZIPF = 2.5, 5.5  # Zipf: below the first 0, above the second 1
MIN_MERIT = 28  # of 100: a word of less merit counts as less known to children, or hard to show
LESS_KNOWN = "less known, or hard to show"
MAX_COMPLEXITY = 8  # points of the Word Complexity Measure from which a word counts as hardest


@dataclass(frozen=True, kw_only=True)
class Weights:
    """How much each part counts."""

    known: float = 28  # on the list of words that young children know
    picture: float = 20  # a drawing is at hand
    concrete: float = 16  # a thing rather than an idea (norm lists)
    common: float = 10  # Zipf frequency
    simple: float = 12  # Word Complexity Measure
    short: float = 10  # syllables
    context: float = 4  # a vowel beside the target that helps it
    twice: float = -10  # the target stands in the word again
    beside: float = -8  # it touches a consonant of the next syllable
    vocalic: float = -15  # l as a syllable of its own; inside a word, r that belongs to its vowel
    flapped: float = -100  # t or d said as a flap, or a glottal t: last, whatever speaks for it
    clash: float = -4  # a sound in the word that pulls the target off
    disagree: float = -25  # the sources disagree how the word is said
    two_ways: float = -12  # one spelling, two readings with two meanings
    ending: float = -10  # a grammatical form (only when endings were asked for)
    unknown: float = -20  # no everyday word, or of less merit than MIN_MERIT
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
    one: Candidate, sound: Sound, needs: Needs, weights: Weights = WEIGHTS
) -> tuple[Part, ...]:
    """Every part of a word's rank, those of no value too."""
    merits = [Part(name, getattr(weights, name), v, why) for name, v, why in _merits(one, sound)]
    known = is_everyday(one.row) and merit(merits) >= MIN_MERIT
    rest = (
        *_faults(one, sound),
        *_client_faults(one, needs),
        ("unknown", float(not known), LESS_KNOWN),
    )
    return (*merits, *(Part(name, getattr(weights, name), v, why) for name, v, why in rest))


def merit(found: Iterable[Part]) -> float:
    """What speaks for a word, without what ranks it down."""
    return sum(part.points for part in found if part.weight > 0)


def rank(found: tuple[Part, ...]) -> float:
    """The sum of the parts, 100 at most."""
    return round(sum(part.points for part in found), 6)


Found = Iterator[tuple[str, float, str]]


def _merits(one: Candidate, sound: Sound) -> Found:
    word, phones = one.row.word, one.row.phones
    kinds, rated, drawing = classes(word), norm(word), drawings.find(word)
    yield "known", float(bool(kinds)), " and ".join(kinds) or "not on the children's list"
    yield "picture", float(bool(drawing)), f"drawing '{drawing.name}'" if drawing else "none"
    yield "concrete", rated.concreteness if rated else 0.0, str(rated or "not rated")
    yield "common", _scaled(one.row.zipf, ZERO_ZIPF, FULL_ZIPF), f"Zipf {one.row.zipf:.1f}"
    points = complexity(phones)
    yield "simple", 1 - min(points, MAX_COMPLEXITY) / MAX_COMPLEXITY, f"complexity {points}"
    count = one.syllables
    told = f"{count} syllable{'' if count == 1 else 's'}"
    yield "short", {1: 1.0, 2: 0.7, 3: 0.2}.get(count, 0.0), told
    helpful = [v for v in vowels_beside(phones, one.target) if v in _context(sound)[0]]
    yield "context", float(bool(helpful)), _ipa(helpful) or "none that helps"


def _faults(one: Candidate, sound: Sound) -> Found:
    row = one.row
    yield "twice", float(len(one.all) > 1), f"{len(one.all)} time(s) in the word"
    yield "beside", float(one.target.abuts), "touches a consonant" if one.target.abuts else "no"
    note = variant(row.phones, one.target, sound)
    spoils = note == SYLLABIC or (note == R_OF_VOWEL and "final" not in one.target.positions)
    yield "vocalic", float(spoils), note if spoils else "no"
    flapped = note in (FLAP, GLOTTAL)
    yield "flapped", float(flapped), note if flapped else "no"
    clash = held(row.phones, _context(sound)[1])
    yield "clash", float(bool(clash)), _ipa(clash) or "none"
    yield "disagree", float(not row.agreed), "they agree" if row.agreed else "listen first"
    yield "two_ways", float(row.heteronym), "read in two ways" if row.heteronym else "no"
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
