from __future__ import annotations

from dataclasses import replace
from itertools import product

import pytest

from builder.phonetics.inventory import parse_sound, sounds
from builder.phonetics.position import POSITIONS, Position, occurrences, stands
from builder.phonetics.syllables import syllables
from builder.wordbank.filters import (
    Query,
    beside,
    candidate_of,
    candidates,
    stressed,
    vowels_beside,
    why_unsuited,
)
from tests.support.wordbank_index import Few, Row, few, many

TEN = ("s", "z", "k", "g", "r", "l", "sh", "ch", "f", "/θ/")
K = sounds()["K"]


def words_of(query: Query, *lines: str) -> list[str]:
    return [one.row.word for one in candidates(few(*lines), query)]


@pytest.mark.slow
@pytest.mark.parametrize(("typed", "position"), list(product(TEN, POSITIONS)))
def test_every_word_stands_the_check_it_was_asked_for(typed: str, position: Position) -> None:
    sound = parse_sound(typed)
    found = list(candidates(many(), Query(sound=sound, position=position)))
    assert len(found) > 5
    for one in found:
        there = stands(one.row.phones, sound, position)
        assert one.target in there, one.row.word
        assert one.target.cluster == (), f"{one.row.word} holds the sound alone"


@pytest.mark.parametrize(
    ("query", "fits", "not_so"),
    [
        pytest.param(
            Query(sound=K, position="initial", cluster=("K", "L")),
            "clock K L AA1 K",
            "key K IY1",
            id="a cluster",
        ),
        pytest.param(
            Query(sound=K, position="initial", cluster=None),
            "clock K L AA1 K",
            "egg EH1 G",
            id="alone or not",
        ),
        pytest.param(
            Query(sound=K, position="initial", syllables=(2, 2)),
            "candy K AE1 N D IY0",
            "key K IY1",
            id="syllables",
        ),
        pytest.param(
            Query(sound=K, position="initial", stress="unstressed"),
            "canoe K AH0 N UW1",
            "key K IY1",
            id="unstressed",
        ),
        pytest.param(
            Query(sound=K, position="initial", stress="stressed"),
            "key K IY1",
            "canoe K AH0 N UW1",
            id="stressed",
        ),
        pytest.param(
            Query(sound=K, position="initial", vowels=(sounds()["IY"],)),
            "key K IY1",
            "cow K AW1",
            id="the vowel beside it",
        ),
        pytest.param(
            Query(sound=K, position="initial", without=(sounds()["T"],)),
            "key K IY1",
            "cat K AE1 T",
            id="without a sound",
        ),
        pytest.param(
            Query(sound=K, position="initial", pictured=True),
            "key K IY1",
            "kiss K IH1 S",
            id="with a drawing",
        ),
        pytest.param(
            Query(sound=K, position="initial", kind="verb"),
            "catch K AE1 CH",
            "cow K AW1",
            id="verbs",
        ),
        pytest.param(
            Query(sound=K, position="final"), "book B UH1 K", "key K IY1", id="the other end"
        ),
    ],
)
def test_filters(query: Query, fits: str, not_so: str) -> None:
    assert words_of(query, fits, not_so) == [fits.split()[0]]


@pytest.mark.parametrize(
    ("row", "why"),
    [
        pytest.param(Row("cats", ("K", "AE1", "T", "S"), lemma_of="cat"), "form", id="an ending"),
        pytest.param(Row("key", ("K", "IY1"), zipf=1.9), "rarer", id="too rare"),
        pytest.param(Row("kevin", ("K", "EH1", "V", "IH0", "N")), "children", id="a name"),
        pytest.param(Row("knife", ("K", "IY1")), "unsuitable", id="a weapon"),
        pytest.param(Row("concept", ("K", "AA1", "N")), "children", id="an idea"),
        pytest.param(Row("can't", ("K", "AE1", "N", "T")), "plain", id="a contraction"),
        pytest.param(Row("k", ("K", "EY1")), "plain", id="a letter"),
    ],
)
def test_what_is_left_out(row: Row, why: str) -> None:
    query = Query(sound=K, position="initial")
    assert not list(candidates(Few([row]), query))
    if why in ("form", "rarer"):
        more = replace(query, endings=True) if why == "form" else replace(query, least=0)
        assert list(candidates(Few([row]), more))
    else:
        assert why in why_unsuited(row, query)


def test_a_word_with_the_sound_twice_is_offered_for_the_place_asked_for() -> None:
    row = Row("cake", ("K", "EY1", "K"))
    one = candidate_of(row, Query(sound=K, position="final"))
    assert one is not None
    assert (one.target.start, len(one.all)) == (2, 2)


@pytest.mark.parametrize(
    ("position", "word"),
    [
        pytest.param("initial", "earth ER1 TH", id="nothing before it"),
        pytest.param("medial", "bird B ER1 D", id="between consonants"),
        pytest.param("final", "paper P EY1 P ER0", id="nothing after it"),
    ],
)
def test_a_vowel_goes_by_the_edges_of_the_word(position: Position, word: str) -> None:
    lines = ("earth ER1 TH", "bird B ER1 D", "paper P EY1 P ER0")
    assert words_of(Query(sound=sounds()["ER"], position=position), *lines) == [word.split()[0]]


def test_an_r_that_begins_the_stressed_syllable_is_none_of_the_vowel() -> None:
    query = Query(sound=sounds()["IHR"], position="initial", wide=True)
    assert words_of(query, "eraser IH0 R EY1 S ER0", "ear IY1 R") == ["ear"]


def test_stress_and_vowels() -> None:
    phones = ("K", "AH0", "N", "UW1")
    first = occurrences(phones, K)[0]
    second = occurrences(phones, sounds()["N"])[0]
    assert (stressed(phones, first), stressed(phones, second)) == (False, True)
    assert vowels_beside(phones, second) == ("AH", "UW")
    assert beside(phones, second, sounds()["UW"])
    assert not beside(phones, first, sounds()["UW"])


def test_wide_offers_what_children_may_not_know() -> None:
    row = Few([Row("concept", ("K", "AA1", "N", "S", "EH2", "P", "T"))])
    assert list(candidates(row, Query(sound=K, position="initial", wide=True)))


@pytest.mark.slow
def test_syllables_of_what_is_found() -> None:
    for one in candidates(many(), Query(sound=K, position="initial", syllables=(2, 3))):
        assert 2 <= len(syllables(one.row.phones)) <= 3
