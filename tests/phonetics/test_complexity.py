from __future__ import annotations

from collections.abc import Iterable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builder.phonetics.complexity import (
    Point,
    complexity_points,
    neighbour_forms,
    target_score,
)
from builder.phonetics.inventory import bare, sounds

PHONES = [
    s.symbol + ("1" if s.kind != "consonant" else "")
    for s in sounds().values()
    if len(s.symbol) < 3
]
words = st.lists(st.sampled_from(PHONES), min_size=1, max_size=8).map(tuple)


def is_near(one: Iterable[str], other: Iterable[str]) -> bool:
    return tuple(map(bare, other)) in neighbour_forms(tuple(one))


@pytest.mark.parametrize(
    ("phones", "rules"),
    [
        pytest.param("HH AE1 T", ["ends in a consonant"], id="h is no fricative"),
        pytest.param(
            "P EH1 N S AH0 L",
            ["ends in a consonant", "fricative or affricate", "liquid or r-colored vowel"],
            id="ns of pencil is no cluster: two syllables",
        ),
        pytest.param(
            "F AO1 R K",
            [
                "ends in a consonant",
                "cluster",
                "fricative or affricate",
                "liquid or r-colored vowel",
                "velar",
            ],
            id="r before a consonant is one",
        ),
        pytest.param("HH ER1", ["liquid or r-colored vowel"], id="a word may end in r as vowel"),
        pytest.param("S", ["ends in a consonant", "fricative or affricate"], id="no vowel at all"),
    ],
)
def test_what_the_points_are_for(phones: str, rules: list[str]) -> None:
    assert [p.rule for p in complexity_points(tuple(phones.split()))] == rules


@pytest.mark.parametrize(
    ("phones", "points"),
    [  # counted by hand; phones from 0
        pytest.param(
            "S P AY1 D ER0",
            [
                Point("cluster", 0, 2),
                Point("fricative or affricate", 0, 1),
                Point("liquid or r-colored vowel", 4, 5),
            ],
            id="spider",
        ),
        pytest.param(
            "F AO1 R K",
            [
                Point("ends in a consonant", 3, 4),
                Point("cluster", 2, 4),
                Point("fricative or affricate", 0, 1),
                Point("liquid or r-colored vowel", 2, 3),
                Point("velar", 3, 4),
            ],
            id="fork",
        ),
        pytest.param(
            "B AH0 N AE1 N AH0",
            [
                Point("more than two syllables", 0, 6),
                Point("main stress not on the first syllable", 3, 4),
            ],
            id="banana",
        ),
        pytest.param(
            "G IH1 V",
            [
                Point("ends in a consonant", 2, 3),
                Point("velar", 0, 1),
                Point("fricative or affricate", 2, 3),
                Point("and voiced", 2, 3),
            ],
            id="give",
        ),
    ],
)
def test_a_point_names_its_phones(phones: str, points: list[Point]) -> None:
    assert list(complexity_points(tuple(phones.split()))) == points


@pytest.mark.parametrize(
    ("one", "other", "near"),
    [
        pytest.param("K AE1 T", "K AE2 T", False, id="stress is no difference"),
        pytest.param("K AE1 T", "K AE1 T S IY0", False, id="two more"),
        pytest.param("K AE1 T", "T AE1 K", False, id="two replaced"),
        pytest.param("K AE1 T", "AE1 T", True, id="one removed in front"),
        pytest.param("K AE1 T", "K AE1 N T", True, id="one added inside"),
    ],
)
def test_neighbours(one: str, other: str, near: bool) -> None:
    assert is_near(one.split(), other.split()) is near
    assert is_near(other.split(), one.split()) is near


@given(words, st.data())
def test_one_phone_away_is_a_neighbour(phones: tuple[str, ...], data: st.DataObject) -> None:
    at = data.draw(st.integers(0, len(phones)))
    longer = (*phones[:at], data.draw(st.sampled_from(PHONES)), *phones[at:])
    assert is_near(phones, longer)
    assert not is_near(phones, phones)


@given(words)
def test_every_segment_counts_at_least_once(phones: tuple[str, ...]) -> None:
    assert len(phones) <= target_score(phones) <= 2 * len(phones)
