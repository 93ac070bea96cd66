"""Endings as rules of a table. Spelling and speech: common practice, no source."""

from __future__ import annotations

import pytest

from builder.phonetics.inventory import is_vowel, sounds
from builder.phonetics.lexicon.endings import bases, forms, with_ending
from builder.phonetics.tables import facts, rows


@pytest.mark.parametrize(
    ("word", "found"),
    [
        pytest.param("hoping", ["hope", "hop"], id="hope before hop"),
        pytest.param("hopping", ["hopp", "hop", "hoppe"], id="a doubled letter"),
        pytest.param("picnicking", ["picnick", "picnic", "picnicke"], id="ck"),
        pytest.param("ties", ["tie"], id="no ty"),
        pytest.param("dishes", ["dishe", "dish"], id="es"),
        pytest.param("glass", [], id="ss is no ending"),
        pytest.param("bus", [], id="nor us"),
        pytest.param("tvs", [], id="a base has a vowel"),
        pytest.param("as", [], id="and two letters"),
        pytest.param("", [], id="nothing"),
    ],
)
def test_bases(word: str, found: list[str]) -> None:
    assert [base for base, _ in bases(word)] == found


def test_a_syllabic_l_may_give_its_vowel_to_the_ending() -> None:
    settle = ("S", "EH1", "T", "AH0", "L")
    assert list(forms(settle, "ing")) == [
        (*settle, "IH0", "NG"),
        ("S", "EH1", "T", "L", "IH0", "NG"),
    ]
    assert len(list(forms(settle, "s"))) == 1


@pytest.mark.parametrize("symbol", [s for s in sounds() if len(sounds()[s].phones[0]) == 1])
def test_the_ending_is_voiced_as_the_sound_before_it(symbol: str) -> None:
    """s and d take the voice of the sound before them, or a vowel where they could not be heard."""
    if symbol == "HH":
        return  # ends no word
    last = symbol + "1" if is_vowel(symbol) else symbol
    for ending, plain, voiced in (("s", "S", "Z"), ("d", "T", "D")):
        added = with_ending((last,), ending)[1:]
        alike = (plain,) if not sounds()[symbol].voiced else (voiced,)
        assert added in (alike, ("IH0", voiced))


def test_every_ending_is_whole() -> None:
    """Letters, sounds and how much rarer a base may be."""
    endings = {row["ending"] for row in rows("endings")}
    assert {row["ending"] for row in rows("ending_sounds")} == endings
    assert all(float(facts()[f"rarer {ending}"]) > 0 for ending in endings)
    assert all(with_ending(("AH0",), ending) != ("AH0",) for ending in endings)
