from __future__ import annotations

import pytest

from builder.phonetics.inventory import parse_sound, sounds
from builder.phonetics.lexicon.dictionary import pronunciations
from builder.phonetics.position import (
    Occurrence,
    cluster_ipa,
    in_order,
    occurrences,
    stands,
    usual_positions,
    variant,
)


def _one(word: str, symbol: str) -> Occurrence:
    (found,) = occurrences(pronunciations(word)[0], sounds()[symbol])
    return found


@pytest.mark.parametrize(
    ("word", "symbol", "cluster"),
    [
        pytest.param("school", "K", "S K", id="k after s at the start"),
        pytest.param("school", "S", "S K", id="and its s"),
        pytest.param("box", "S", "K S", id="x is a cluster at the end"),
        pytest.param("basket", "K", "S K", id="inside, where s and k begin a syllable"),
        pytest.param("street", "R", "S T R", id="three consonants"),
        pytest.param("milk", "K", "L K", id="l before k"),
        pytest.param("pink", "K", "NG K", id="ng before k"),
        pytest.param("parks", "S", "K S", id="the r of the vowel stays out"),
        pytest.param("key", "K", "", id="a vowel on one side"),
        pytest.param("taxi", "S", "", id="another syllable's consonant makes no cluster"),
        pytest.param("fork", "K", "", id="the r before it belongs to the vowel"),
        pytest.param("horse", "S", "", id="so too before s"),
        pytest.param("cube", "K", "", id="the glide after it belongs to the vowel"),
        pytest.param("cure", "K", "", id="so too where the vowel is an r-colored one"),
        pytest.param("cube", "Y", "K Y", id="but as a target the glide stands in a cluster"),
        pytest.param("fork", "R", "R K", id="and so does the r"),
        pytest.param("car", "R", "", id="a final r alone"),
        pytest.param("fork", "AOR", "", id="a vowel + r has no cluster"),
        pytest.param("shoe", "SH", "", id="two letters, one sound"),
    ],
)
def test_clusters(word: str, symbol: str, cluster: str) -> None:
    assert " ".join(_one(word, symbol).cluster) == cluster


@pytest.mark.parametrize(
    ("word", "symbol", "abuts"),
    [
        pytest.param("taxi", "K", True, id="k before the s of the next syllable"),
        pytest.param("taxi", "S", True, id="s after the k of the last syllable"),
        pytest.param("pencil", "S", True, id="s after n"),
        pytest.param("parcel", "S", False, id="the r before it belongs to the vowel"),
        pytest.param("basket", "S", False, id="a cluster does not abut"),
        pytest.param("baby", "B", None, id="more than one"),
        pytest.param("rocket", "K", False, id="between vowels"),
        pytest.param("house", "S", False, id="one syllable"),
    ],
)
def test_abuts(word: str, symbol: str, abuts: bool | None) -> None:
    found = occurrences(pronunciations(word)[0], sounds()[symbol])
    assert [o.abuts for o in found] == ([abuts] if abuts is not None else [False, False])


@pytest.mark.parametrize(
    ("word", "symbol", "positions"),
    [
        pytest.param("bird", "ER", ["medial"], id="inside the only syllable"),
        pytest.param("turkey", "ER", ["medial"], id="no vowel before it, but a consonant"),
        pytest.param("her", "ER", ["final"], id="the only vowel, at the end"),
        pytest.param("earth", "ER", ["initial"], id="the only vowel, at the start"),
        pytest.param("teacher", "ER", ["final"], id="after another vowel"),
        pytest.param("mermaid", "ER", ["medial"], id="before another vowel"),
        pytest.param("ear", "IHR", ["initial final"], id="a word that is the target"),
        pytest.param("fire", "AYR", ["final"], id="vowel + r of two vowel symbols"),
        pytest.param("fire", "ER", [], id="which is no er, whatever its transcription ends in"),
        pytest.param("fireman", "AYR", ["medial"], id="nor where it is written without er"),
        pytest.param("flower", "ER", ["final"], id="after another vowel it is one"),
        pytest.param("wired", "AYR", ["medial"], id="vowel + r before an ending"),
        pytest.param("story", "AOR", ["medial"], id="vowel + r before a vowel"),
        pytest.param("sauce", "S", ["initial", "final"], id="two occurrences"),
        pytest.param("scissors", "Z", ["medial", "final"], id="two of another sound"),
        pytest.param("street", "R", ["initial"], id="every member of the first group is initial"),
        pytest.param("city", "K", [], id="none"),
    ],
)
def test_positions(word: str, symbol: str, positions: list[str]) -> None:
    found = occurrences(pronunciations(word)[0], sounds()[symbol])
    assert [" ".join(o.positions) for o in found] == positions


def test_stands_keeps_one_position() -> None:
    phones = pronunciations("sauce")[0]
    assert [o.start for o in stands(phones, sounds()["S"], "final")] == [2]
    assert stands(phones, sounds()["S"], "medial") == ()


def test_nothing_stands_in_an_empty_word() -> None:
    assert occurrences((), sounds()["K"]) == ()


def test_a_cluster_in_ipa() -> None:
    assert cluster_ipa(("S", "K")) == "sk"


@pytest.mark.parametrize(
    ("word", "symbol", "name"),
    [
        pytest.param("ball", "L", "dark l", id="l after its vowel"),
        pytest.param("apple", "L", "syllabic l", id="l as a syllable"),
        pytest.param("leg", "L", "", id="l before a vowel"),
        pytest.param("car", "R", "r of its vowel", id="r after its vowel"),
        pytest.param("carrot", "R", "", id="r before a vowel"),
        pytest.param("tiger", "T", "", id="t that begins a word"),
        pytest.param("hat", "T", "", id="t that ends one"),
        pytest.param("hotel", "T", "", id="t before a stressed vowel"),
        pytest.param("suitcase", "T", "", id="t before a consonant"),
        pytest.param("sister", "T", "", id="t after another consonant"),
        pytest.param("potato", "T", " flap", id="before a final o, not before the stress"),
        pytest.param("garden", "D", "", id="d before a syllabic n"),
        pytest.param("wooden", "D", "", id="so too after a vowel"),
        pytest.param("Boston", "T", "", id="t after s, before a syllabic n"),
    ],
)
def test_variants(word: str, symbol: str, name: str) -> None:
    """Flaps: Broeders & Gussenhoven (see test_flaps.py); l, r and the rest: common practice, no
    source."""
    phones, sound = pronunciations(word)[0], sounds()[symbol]
    found = [variant(phones, o, sound) for o in occurrences(phones, sound)]
    assert " ".join(found) == name


@pytest.mark.parametrize(
    ("sound", "usual"),
    [("k", "initial"), ("er", "final medial initial"), ("ar", "final medial")],
)
def test_where_a_sound_is_practised(sound: str, usual: str) -> None:
    """Common practice, no source: vowels with r first where they end words."""
    assert usual_positions(parse_sound(sound)) == tuple(usual.split())


def test_positions_in_the_order_of_practice() -> None:
    named = ["medial", "initial", "final"]
    assert in_order(named, parse_sound("k")) == ("initial", "medial", "final")
    assert in_order(named, parse_sound("ear")) == ("final", "medial", "initial")
