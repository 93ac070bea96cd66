from __future__ import annotations

import pytest

from builder.phonetics.inventory import parse_sound
from builder.text.passage import (
    Places,
    counted,
    marked,
    per_word,
    targets_in,
    uncertain_words,
    words_of_passage,
)
from builder.text.reading_rate import targets_a_minute, words_a_minute

S = parse_sound("s")
TEXT = "Sam's bus stops here.\nSix of us sit in the kitchen."


def shown(text: str) -> list[str]:
    lines = marked(text, targets_in(text, S))
    return ["".join(f"[{part}]" if target else part for part, target in line) for line in lines]


def test_letters_of_targets_are_set_off_by_paragraphs() -> None:
    assert shown(TEXT) == ["[S]am's bu[s] [s]top[s] here.", "[S]i[x] of u[s] [s]it in the kitchen."]


def test_where_the_letters_cannot_be_told_the_whole_word_is_set_off() -> None:
    assert shown("Mrs. Sun is in Leicester.") == ["[Mrs]. [S]un is in [Leicester]."]


def test_each_word_has_its_number_of_targets_even_where_their_letters_touch() -> None:
    """By ear: "bookcase" has two k in a row, which are set off as one part."""
    k, text = parse_sound("k"), "Kim’s bus, a bookcase!"
    found = targets_in(text, k)
    assert per_word(text, found) == (1, 0, 0, 2)
    assert [part for line in marked(text, found) for part, target in line if target] == ["K", "kc"]


def test_the_parts_joined_are_the_text() -> None:
    for line, parts in zip(TEXT.split("\n"), marked(TEXT, targets_in(TEXT, S)), strict=True):
        assert "".join(part for part, _ in parts) == line


@pytest.mark.parametrize(
    ("places", "words"),
    [
        (Places(("initial",), frozenset({()})), "Sam's Six sit"),
        (Places(("final",), frozenset({()})), "bus us"),
        (Places(("initial", "final"), frozenset({(), ("S", "T")})), "Sam's bus stops Six us sit"),
        (Places(("final",), None), "bus stops Six us"),
    ],
)
def test_targets_count_where_they_are_practised(places: Places, words: str) -> None:
    assert [one.word.text for one in counted(TEXT, S, places)] == words.split()


def test_a_word_takes_its_best_founded_reading() -> None:
    """Not the one that has the target, as a practiced word does."""
    assert [w.text for w in words_of_passage("We use it.")] == ["We", "use", "it"]
    assert targets_in("his", S) == ()


def test_words_that_hold_the_target_in_one_of_two_meanings_are_named() -> None:
    # Noun and verb (American Heritage Dictionary, from memory): use, close, house.
    assert uncertain_words("Use the close one. Read the text.", S) == ("use", "close")


@pytest.mark.parametrize(
    ("age", "rate"),
    # Hasbrouck & Tindal 2017, median in spring of grades 1, 3 and 6; Brysbaert 2019, adults.
    [(7, 60), (9, 112), (12, 146), (18, 183), (70, 183), (4, 29), (None, 112), (15, 150)],
)
def test_reading_rates(age: int | None, rate: int) -> None:
    assert words_a_minute(age) == rate


def test_targets_a_minute() -> None:
    assert targets_a_minute(20, 100, 8) == 20.0  # 100 words a minute
    assert targets_a_minute(0, 0, 8) == 0.0
