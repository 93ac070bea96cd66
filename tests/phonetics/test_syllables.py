from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builder.phonetics.inventory import is_vowel, sounds
from builder.phonetics.syllables import may_begin, onsets, syllable_counts, syllables

SYMBOLS = [s for s in sounds() if len(sounds()[s].phones[0]) == 1]


@pytest.mark.parametrize(
    ("phones", "spans"),
    [
        pytest.param("", (), id="nothing"),
        pytest.param("SH", (), id="no vowel, no syllable"),
        pytest.param("AY1", ((0, 1),), id="a vowel alone"),
        pytest.param("S T R EH1 NG K TH S", ((0, 8),), id="one vowel keeps all consonants"),
        pytest.param("AY1 D IY1 AH0", ((0, 1), (1, 3), (3, 4)), id="vowels side by side"),
        pytest.param("S IH1 NG ER0", ((0, 3), (3, 4)), id="ng stays with the vowel before it"),
    ],
)
def test_syllables(phones: str, spans: tuple[tuple[int, int], ...]) -> None:
    assert syllables(tuple(phones.split())) == spans


@pytest.mark.parametrize(
    ("phones", "counts"),
    [
        pytest.param("F AY1 ER0", (1, 2), id="fire: one as said, two as dictionaries write it"),
        pytest.param("AH0 M P AY1 ER0", (2, 3), id="umpire"),
        pytest.param("W AO1 T ER0", (2,), id="water"),
        pytest.param("F L AW1 ER0", (2,), id="flower"),
    ],
)
def test_a_vowel_with_r_may_be_one_syllable(phones: str, counts: tuple[int, ...]) -> None:
    assert syllable_counts(tuple(phones.split())) == counts


@given(st.lists(st.sampled_from(SYMBOLS), max_size=12).map(tuple))
def test_syllables_cover_the_word_with_one_vowel_each(phones: tuple[str, ...]) -> None:
    spans = syllables(phones)
    assert len(spans) == sum(map(is_vowel, phones))
    if spans:
        assert [i for a, b in spans for i in range(a, b)] == list(range(len(phones)))
        assert all(sum(map(is_vowel, phones[a:b])) == 1 for a, b in spans)


def test_every_onset_is_of_two_or_more_consonants() -> None:
    assert all(len(group) > 1 and set(group) <= set(SYMBOLS) for group in onsets())
    assert not any(is_vowel(phone) for group in onsets() for phone in group)


@pytest.mark.parametrize(
    ("group", "may"),
    [  # American English Phonetics (Groningen open textbook), 8.7.1
        ("NG", False),
        ("ZH", True),
        ("S T R", True),
        ("T L", False),
        ("", True),
    ],
)
def test_what_may_begin_a_syllable(group: str, may: bool) -> None:
    assert may_begin(tuple(group.split())) is may
