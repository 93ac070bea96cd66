"""Published rules and examples of word measures, each beside its source."""

from __future__ import annotations

import pytest

from builder.phonetics.complexity import complexity, neighbour_forms, target_score
from builder.phonetics.inventory import bare
from builder.phonetics.lexicon.dictionary import pronunciations

# Word Complexity Measure: the eight rules of Stoel-Gammon 2010, Clinical Linguistics & Phonetics
# 24(4-5), 271-282. Scores are computed from the rules by hand, not printed in the paper.
# Second figure: segments + consonants of the adult form, the rule of Ingram 2002, Journal of Child
# Language 29(4), 713-733; computed from the rule by hand.
SCORES = [
    ("mama", "M AA1 M AH0", 0, 6),
    ("shoe", "SH UW1", 1, 3),
    ("zoo", "Z UW1", 2, 3),
    ("cat", "K AE1 T", 2, 5),
    ("bus", "B AH1 S", 2, 5),
    ("ball", "B AO1 L", 2, 5),
    ("rabbit", "R AE1 B AH0 T", 2, 8),
    ("banana", "B AH0 N AE1 N AH0", 2, 9),
    ("seal", "S IY1 L", 3, 5),
    ("fish", "F IH1 SH", 3, 5),
    ("spoon", "S P UW1 N", 3, 7),
    ("zipper", "Z IH1 P ER0", 3, 6),
    ("spider", "S P AY1 D ER0", 3, 8),
    ("star", "S T AA1 R", 4, 7),
    ("black", "B L AE1 K", 4, 7),
    ("jump", "JH AH1 M P", 4, 7),
    ("elephant", "EH1 L AH0 F AH0 N T", 5, 11),
    ("music", "M Y UW1 Z IH0 K", 5, 10),
    ("spaghetti", "S P AH0 G EH1 T IY0", 5, 11),
    ("giraffe", "JH ER0 AE1 F", 6, 6),
    ("scissors", "S IH1 Z ER0 Z", 7, 8),
]

# Vitevitch & Luce 2016 and the density page of their laboratory: neighbors of `cat`.
CAT = ("scat", "at", "fat", "cot", "cab")
# The worked example of a public neighborhood package: density of `cat` in this lexicon is 2.
TOY = {
    "cat": "K AE1 T",
    "cob": "K AA1 B",
    "bat": "B AE1 T",
    "tats": "T AE1 T S",
    "mark": "M AA1 R K",
    "cab": "K AE1 B",
}
# A teaching page on phonology of the University of California at San Diego (2005).
SCAM = (
    "cam",
    "sam",
    "scamp",
    "scram",
    "spam",
    "slam",
    "swam",
    "scum",
    "skim",
    "scheme",
    "scab",
    "scat",
    "scan",
)


@pytest.mark.parametrize(("word", "phones", "points", "target"), SCORES, ids=[s[0] for s in SCORES])
def test_scores_computed_from_the_rules(word: str, phones: str, points: int, target: int) -> None:
    assert tuple(phones.split()) in pronunciations(word), "the transcription is the dictionary's"
    assert complexity(tuple(phones.split())) == points
    assert target_score(tuple(phones.split())) == target


def near(phones: tuple[str, ...], words: dict[str, tuple[str, ...]]) -> tuple[str, ...]:
    """The neighbors among words; their number is the density."""
    forms = neighbour_forms(phones)
    return tuple(word for word, other in words.items() if tuple(map(bare, other)) in forms)


def test_neighbours_of_cat() -> None:
    cat = pronunciations("cat")[0]
    assert near(cat, {word: pronunciations(word)[0] for word in CAT}) == CAT


def test_density_in_a_small_lexicon() -> None:
    lexicon = {word: tuple(phones.split()) for word, phones in TOY.items()}
    assert near(lexicon["cat"], lexicon) == ("bat", "cab")


def test_neighbours_of_scam() -> None:
    said = {"scamp": ("S", "K", "AE1", "M", "P")}  # not in the dictionary
    lexicon = {word: said.get(word) or pronunciations(word)[0] for word in SCAM}
    assert near(("S", "K", "AE1", "M"), lexicon) == SCAM
