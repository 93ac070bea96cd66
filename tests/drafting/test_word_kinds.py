from __future__ import annotations

import pytest

from builder.drafting.word_kinds import kinds_of, word, words


@pytest.mark.parametrize(
    ("text", "plural"),
    [
        ("cow", "cows"),
        ("dish", "dishes"),
        ("box", "boxes"),
        ("pony", "ponies"),
        ("key", "keys"),
        ("leaf", "leaves"),
        ("sheep", "sheep"),
        ("mouse", "mice"),
        ("soup", "soup"),
        ("scissors", "scissors"),
        ("toy boat", "toy boats"),
        ("sun", ""),
    ],
)
def test_plurals(text: str, plural: str) -> None:
    found = word(text)
    assert found is not None
    assert found.plural == plural


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("cow", "counted"),
        ("soup", "uncounted"),
        ("scissors", "plural"),
        ("moon", "only"),
        ("ice cream", "uncounted"),
        ("Polar bear", "animal"),
        ("jump", "moving"),
        ("carry", "acting"),
        ("sad", "feeling"),
        ("seven", "numbers"),
        ("t-shirt", "wear"),
    ],
)
def test_kinds(text: str, kind: str) -> None:
    assert kind in kinds_of(text)


def test_what_is_a_noun_counts_as_nothing_else() -> None:
    assert not kinds_of("paint") & {"moving", "acting"}


def test_a_word_in_no_list_has_no_kind() -> None:
    found = word("although")
    assert found is not None
    assert found.kinds == frozenset()


def test_a_word_that_nobody_can_say_is_left_out() -> None:
    assert [w.text for w in words(["cow", "xqzt", "key"])] == ["cow", "key"]


def test_the_programs_pronunciation_wins() -> None:
    found = word("calf", ("K", "AA1", "F"))
    assert found is not None
    assert found.phones == ("K", "AA1", "F")
