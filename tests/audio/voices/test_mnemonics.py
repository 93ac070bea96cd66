"""The phones that were checked, as the engine is told them."""

from __future__ import annotations

import pytest

from builder.audio.voices.mnemonics import is_weak, mnemonics_of, sentence
from builder.phonetics.inventory import sounds


@pytest.mark.parametrize(
    ("phones", "typed"),
    [
        pytest.param("K IY1", "[[k|'i:]]", id="a stressed vowel carries its mark"),
        pytest.param("HH AE1 P IY0", "[[h|'a|p|i]]", id="an unstressed ee is short"),
        pytest.param("B AH0 N AE1 N AH0", "[[b|@|n|'a|n|@]]", id="AH without stress is schwa"),
        pytest.param("K AA1 R", "[[k|'A@]]", id="vowel + r at the end is one mnemonic"),
        pytest.param("K AE1 R AH0 T", "[[k|'a|r|@|t]]", id="an r before a vowel stands alone"),
        pytest.param("B EH1 R IY0", "[[b|'E|r|i]]", id="vowel and r stay apart between vowels"),
        pytest.param("F AY1 R", "[[f|'aI|3]]", id="an r after a diphthong is a syllable"),
        pytest.param("B AA1 T AH0 L", "[[b|'A:|t|@L]]", id="a syllabic l"),
        pytest.param("N AH1 T SH EH2 L", "[[n|'V|t|S|,E|l]]", id="t and sh do not become ch"),
        pytest.param("B ER1 D", "[[b|'3:|d]]", id="a stressed er"),
        pytest.param("HH AE1 M ER0", "[[h|'a|m|3]]", id="an unstressed er"),
    ],
)
def test_mnemonics_of_a_word(phones: str, typed: str) -> None:
    assert sentence((mnemonics_of(tuple(phones.split())),), "") == typed


def test_mnemonics_cover_every_phone_once() -> None:
    phones = ("B", "AA1", "R", "B", "AH0", "L")
    covered = [at for one in mnemonics_of(phones) for at in range(one.start, one.stop)]
    assert covered == list(range(len(phones)))


def test_every_sound_of_the_table_has_a_mnemonic() -> None:
    for sound in sounds().values():
        for phones in sound.phones:
            assert mnemonics_of(phones)[-1].stop == len(phones)


@pytest.mark.parametrize(
    ("word", "weak"), [("my", True), ("The", True), ("key", False), ("two", False), ("two.", False)]
)
def test_small_words_of_a_phrase_are_weak(word: str, weak: bool) -> None:
    assert is_weak(word) is weak


def test_a_weak_word_loses_its_stress() -> None:
    words = (mnemonics_of(("M", "AY1"), weak=True), mnemonics_of(("K", "IY1")))
    assert sentence(words, ".") == "[[m|aI k|'i:]]."
