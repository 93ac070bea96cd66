from __future__ import annotations

import itertools
from itertools import pairwise

import pytest

from builder.drafting.frames import Frame, Longer, frames
from builder.drafting.word_kinds import NUMBER_KINDS, _kinds, word
from builder.phonetics.lexicon.dictionary import pronunciations
from builder.program_file.pronounce import words_of
from builder.wordbank.norms import classes

ALL = [
    (level, frame)
    for level, same in itertools.product(("phrase", "sentence"), (True, False))
    for frame in frames(level, same)
]
KNOWN = {kind for kinds in _kinds().values() for kind in kinds} | {"any", *NUMBER_KINDS}


def filled(text: str, kinds: str, of: str) -> str:
    found = word(of)
    assert found is not None
    return Frame(text, frozenset(kinds.split()), 0).fill(found)


@pytest.mark.parametrize(
    ("text", "of", "said"),
    [
        ("{a} {noun}", "cow", "a cow"),
        ("{a} {noun}", "egg", "an egg"),
        ("{a} {noun}", "unicorn", "a unicorn"),
        ("{a} {noun}", "soup", "some soup"),
        ("{a} {noun}", "scissors", "some scissors"),
        ("{a} {noun}", "sun", "the sun"),
        ("{a} old {noun}", "cow", "an old cow"),
        ("{a} big {noun}", "egg", "a big egg"),
        ("two {nouns}", "mouse", "two mice"),
        ("Here [is|are] my {noun}.", "key", "Here is my key."),
        ("Here [is|are] my {noun}.", "scissors", "Here are my scissors."),
        ("The {noun} [is|are] hot.", "soup", "The soup is hot."),
        ("{word} it.", "carry", "Carry it."),
    ],
)
def test_natural_english(text: str, of: str, said: str) -> None:
    assert filled(text, "noun", of) == said


@pytest.mark.parametrize(
    ("kinds", "of", "takes"),
    [
        ("noun counted", "soup", False),
        ("noun counted", "cow", True),
        ("drink", "cow", False),
        ("animal noun", "grandma", False),
        ("person kin", "grandma", True),
        ("any", "cow", False),
        ("any", "although", True),
        ("moving", "jump", True),
    ],
)
def test_a_line_takes_what_it_is_natural_with(kinds: str, of: str, takes: bool) -> None:
    found = word(of)
    assert found is not None
    assert Frame("x {noun}", frozenset(kinds.split()), 0).takes(found) is takes


@pytest.mark.parametrize(("level", "frame"), ALL, ids=lambda x: getattr(x, "text", x))
def test_every_line_can_be_said(level: Longer, frame: Frame) -> None:
    plain = frame.text.replace("[is|are]", "is").replace("{", " ").replace("}", " ")
    assert frame.kinds <= KNOWN, "a kind of word that is not there"
    assert all(pronunciations(w.lower()) for w in words_of(plain))
    assert (frame.text[-1] in ".!?") is (level == "sentence")
    assert sum(frame.text.count(s) for s in ("{noun}", "{nouns}", "{word}")) == 1


def adjectives_side_by_side(text: str) -> list[str]:
    """Pairs of neighbouring adjectives, {word} of a quality taken as one."""
    names = ["{word}" if w == "word" else w.lower() for w in words_of(text)]
    known = [w == "{word}" or "adjective" in classes(w) for w in names]
    pairs = zip(pairwise(names), pairwise(known), strict=True)
    return [" ".join(two) for two, (left, right) in pairs if left and right]


@pytest.mark.parametrize(
    ("text", "pairs"),
    [
        ("a red big {noun}", ["red big"]),
        ("a big {noun}", []),
        ("a white {word} hat", ["white {word}"]),
    ],
)
def test_adjectives_are_seen(text: str, pairs: list[str]) -> None:
    assert adjectives_side_by_side(text) == pairs


def test_no_line_has_an_order_of_adjectives_to_get_wrong() -> None:
    """Opinion, size, age, colour: no line has two of them, so none has them in a wrong order."""
    spoken = [frame.text for _, frame in ALL if not frame.kinds & {"any", "numbers"}]
    assert [text for text in spoken if adjectives_side_by_side(text)] == []


@pytest.mark.parametrize("level", ["phrase", "sentence"])
def test_in_a_round_of_one_carrier_the_pictured_word_comes_last(level: Longer) -> None:
    for frame in frames(level, same=True):
        assert frame.text.rstrip(".?!").endswith(("{noun}", "{word}")), frame.text
