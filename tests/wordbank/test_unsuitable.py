from __future__ import annotations

import pytest

from builder.wordbank.norms import everyday
from builder.wordbank.unsuitable import is_unsuitable, words


@pytest.mark.parametrize(
    "word",
    [
        "gun",
        "knife",
        "beer",
        "blood",
        "kill",
        "ghoul",
        "killer",
        "killing",
        "beers",
        "gunpowder",
        "stabbed",
        "bloodstain",
    ],
)
def test_unsuitable_words_their_endings_and_compounds(word: str) -> None:
    assert is_unsuitable(word)


@pytest.mark.parametrize(
    "word",
    [
        "skill",
        "father",
        "button",
        "hello",
        "peacock",
        "class",
        "grape",
        "ginger",
        "warm",
        "carpet",
        "shirt",
        "potato",
    ],
)
def test_words_that_only_look_like_it(word: str) -> None:
    assert not is_unsuitable(word)


def test_a_form_goes_by_its_base() -> None:
    assert is_unsuitable("slain", lemma="slay")


def test_the_packages_list_is_in_use() -> None:
    ours = {"gun", "beer", "blood", "kill", "knife"}
    assert ours < words()
    assert len(words()) > 1000


def test_most_everyday_words_are_fit() -> None:
    assert sum(map(is_unsuitable, everyday())) < len(everyday()) / 8
