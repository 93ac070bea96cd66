from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

import pytest

from builder.phonetics.contrast import parse_side
from builder.phonetics.inventory import sounds
from builder.wordbank.contrast_pairs import PairQuery, counterpart, offered_pairs
from builder.wordbank.needs import Needs
from builder.wordbank.probes import is_probe
from tests.support.wordbank_index import Few, few

WORDS = few(
    "key K IY1",
    "tea T IY1",
    "cool K UW1 L",
    "tool T UW1 L",
    "call K AO1 L",
    "tall T AO1 L",
    "coup K UW1",
    "two T UW1",
    "cog K AA1 G",
    "tog T AA1 G",
)


def asked(pictured: Iterable[str] = (), needs: Needs | None = None) -> PairQuery:
    return PairQuery(
        one=parse_side("k"),
        other=parse_side("t"),
        pictured=frozenset(pictured).__contains__,
        position="initial",
        needs=needs or Needs("K", ("T",)),
    )


def found(query: PairQuery, count: int = 12, words: Few = WORDS) -> list[str]:
    made = offered_pairs(words, query, count)
    return [" / ".join(word.word for word in pair.words) for pair in made]


def test_known_pairs_come_before_others_then_pictured_ones() -> None:
    """`coup` is no word of a child's."""
    pictured = ["coup", "two", "call", "tall"]
    assert found(asked(pictured))[0] == "call / tall"
    assert found(asked(pictured))[-1] == "coup / two"


def test_less_known_words_only_fill_up_a_short_list() -> None:
    assert "coup / two" in found(asked(), 6)
    assert "coup / two" not in found(asked(), 3)


def test_of_less_known_words_those_learnt_first_fill_up() -> None:
    """A sail is learned before one sues: common practice, no source."""
    words = few("sue S UW1", "two T UW1", "sail S EY1 L", "tail T EY1 L")
    query = replace(asked(needs=Needs("S", ("T",))), one=parse_side("s"), age=3)
    assert found(query, words=words) == ["sail / tail", "sue / two"]


def test_an_adult_knows_them_all() -> None:
    assert all(pair.known == 2 for pair in offered_pairs(WORDS, replace(asked(), age=40), 12))


def test_no_word_holds_a_sound_that_is_not_there_yet() -> None:
    """But the two that are contrasted."""
    lacking = Needs("K", ("T",), lacks=("L", "T"))
    assert not {"cool / tool", "call / tall"} & set(found(asked(needs=lacking)))
    assert "key / tea" in found(asked(needs=lacking))


def test_probes_are_left_out_where_there_are_many_of_a_client_those_of_the_target_only(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    words = few(
        "cape K EY1 P", "tape T EY1 P", "cap K AE1 P", "tap T AE1 P", "key K IY1", "tea T IY1"
    )
    assert is_probe("cape", sounds()["K"])
    assert is_probe("tap", sounds()["T"])
    assert set(found(asked(), words=words)) == {"cape / tape", "cap / tap", "key / tea"}
    monkeypatch.setattr("builder.wordbank.contrast_pairs.MIN_WORDS", 1)
    assert set(found(asked(), words=words)) == {"cap / tap", "key / tea"}
    assert found(asked(needs=Needs()), words=words) == ["key / tea"]


def test_what_is_said_instead_is_the_other_side() -> None:
    assert counterpart(Needs("K", ("T",))) == parse_side("t")
    assert counterpart(Needs("K", ())) == parse_side("-")
    assert counterpart(Needs("CH", ("T", "S"))) is None
    assert counterpart(Needs("S")) is None
