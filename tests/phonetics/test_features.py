from __future__ import annotations

from itertools import combinations

import pytest

from builder.phonetics.features import FEATURES, differing, features, voicing_partner
from builder.phonetics.inventory import parse_sound, sounds


@pytest.mark.parametrize(
    ("sound", "expected"),
    [
        pytest.param("s", ("alveolar", "fricative", "off"), id="s"),
        pytest.param("g", ("velar", "stop", "on"), id="g"),
        pytest.param("/j/", ("palatal", "glide", "on"), id="the first sound of yes"),
        pytest.param("ee", ("front", "high", "on"), id="a vowel"),
    ],
)
def test_features(sound: str, expected: tuple[str, ...]) -> None:
    assert tuple(features(parse_sound(sound)).values()) == expected


@pytest.mark.parametrize(
    ("one", "other", "expected"),
    [
        pytest.param("k", "t", ("place",), id="k and t"),
        pytest.param("p", "b", ("voice",), id="p and b"),
        pytest.param("t", "s", ("manner",), id="t and s"),
        pytest.param("/θ/", "s", ("place",), id="th of thin, and s"),
        pytest.param("r", "w", ("place", "manner"), id="r and w"),
        pytest.param("m", "k", ("place", "manner", "voice"), id="m and k"),
    ],
)
def test_differing_features(one: str, other: str, expected: tuple[str, ...]) -> None:
    assert differing(parse_sound(one), parse_sound(other)) == expected


def test_no_two_consonants_share_all_three() -> None:
    """Place, manner and voice are enough to tell every consonant from every other."""
    consonants = [s for s in sounds().values() if s.kind == "consonant"]
    alike = [(a.symbol, b.symbol) for a, b in combinations(consonants, 2) if not differing(a, b)]
    assert alike == []


def test_differing_is_the_same_both_ways_and_nothing_for_a_sound_and_itself() -> None:
    for a, b in combinations(sounds().values(), 2):
        assert differing(a, b) == differing(b, a)
        assert set(differing(a, b)) <= set(FEATURES)
    assert all(differing(s, s) == () for s in sounds().values())


# The pairs of English obstruents (International Phonetic Association 1999, Handbook, American
# English: two signs in a cell of the chart of consonants). /h/ and the sonorants have no partner.
VOICING_PAIRS = ("P B", "T D", "K G", "F V", "TH DH", "S Z", "SH ZH", "CH JH")
WITHOUT = ("HH", "M", "N", "NG", "L", "R", "W", "Y", "ER", "AAR", "IY")


def test_partners_in_voicing() -> None:
    for voiceless, voiced in map(str.split, VOICING_PAIRS):
        assert voicing_partner(sounds()[voiceless]) == sounds()[voiced]
        assert voicing_partner(sounds()[voiced]) == sounds()[voiceless]
    assert [s for s in WITHOUT if voicing_partner(sounds()[s])] == []
