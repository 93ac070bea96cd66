"""Minimal pairs that textbooks and therapists use, found by their CMUdict pronunciations.

course: the row of consonants before the vowel of `pie`, Ladefoged & Johnson, A Course in Phonetics,
        table of the English consonants, cited from memory.
habit:  common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass

import pytest

from builder.phonetics.contrast import parse_side
from builder.phonetics.features import differing
from builder.phonetics.inventory import parse_sound
from builder.phonetics.lexicon.dictionary import pronunciations
from builder.phonetics.minimal_pairs.find import pairs

TABLE = """
initial p b      pie buy      course
initial t d      tie die      course
initial f v      fan van      habit
initial /θ/ /ð/  thigh thy    course
initial s sh     sigh shy     course
initial m n      my nigh      course
initial l r      lie rye      course
initial w h      why high     course
initial s /θ/    sink think   habit
initial /θ/ f    thin fin     habit
initial k t      key tea      habit
initial g d      gate date    habit
initial r w      rake wake    habit
initial l w      light white  habit
initial /j/ l    yes less     habit
initial sh s     shoe sue     habit
initial ch sh    chew shoe    habit
initial s z      sip zip      habit
initial t -      tie eye      habit
initial s -      seat eat     habit
initial sp p     spy pie      habit
initial st t     store tore   habit
initial sk s     sky sigh     habit
initial kl l     clip lip     habit
initial bl b     blow bow     habit
initial str tr   stray tray   habit
medial  k t      bicker bitter  habit
medial  l r      belly berry  habit
final   t -      boat bow     habit
final   k -      bike by      habit
final   k t      back bat     habit
final   g d      bug bud      habit
final   s /θ/    mouse mouth  habit
final   n ng     thin thing   habit
final   m n      comb cone    habit
final   s z      bus buzz     habit
final   f v      leaf leave   habit
final   ch sh    catch cash   habit
final   ch /dʒ/  rich ridge   habit
final   /θ/ f    death deaf   habit
medial  ih ee    ship sheep   habit
medial  er ar    firm farm    habit
"""
ROWS = [line.split() for line in TABLE.strip().splitlines()]
WORDS = sorted({word for row in ROWS for word in row[3:5]})


@dataclass(frozen=True)
class Row:
    """A word in its first reading."""

    word: str
    phones: tuple[str, ...]
    zipf: float = 4.0
    heteronym: bool = False
    lemma_of: str = ""


LEXICON = [Row(word, pronunciations(word)[0], heteronym=word == "bow") for word in WORDS]


@pytest.mark.parametrize(
    ("position", "one", "other", "first", "second"),
    [pytest.param(*row[:5], id=f"{row[3]}-{row[4]}, {row[5]}") for row in ROWS],
)
def test_a_pair_is_found(position: str, one: str, other: str, first: str, second: str) -> None:
    made = pairs(
        parse_side(one),
        parse_side(other),
        LEXICON,
        position,  # type: ignore[arg-type]
        fit=lambda row: row.word in (first, second),
        readings=pronunciations,
        least=0,
    )
    assert [tuple(word.word for word in pair.words) for pair in made] == [(first, second)]


# In how many of place, manner and voice two sounds differ; counted so in contrast therapy (Barlow &
# Gierut 2002, Semin Speech Lang 23(1):57-68, from memory).
FEATURES = [
    ("p", "b", 1),
    ("t", "s", 1),
    ("k", "t", 1),
    ("t", "sh", 2),
    ("ch", "f", 2),
    ("m", "s", 3),
    ("r", "k", 3),
    ("/θ/", "/ð/", 1),
]


@pytest.mark.parametrize(("one", "other", "count"), FEATURES)
def test_how_many_features_differ(one: str, other: str, count: int) -> None:
    assert len(differing(parse_sound(one), parse_sound(other))) == count
