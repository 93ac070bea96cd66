"""Words are spoken and the engine's own events are read back."""

from __future__ import annotations

import numpy as np
import pytest

from builder.audio.dsp.measures import spectral_mean
from builder.audio.speech import Samples, count
from builder.audio.voices.embedded import reported_phonemes, speak
from builder.phonetics.lexicon.dictionary import pronunciations
from tests.support.audio import RATE, above, say, target
from tests.support.formants import MAN, formants

RADIUS = count(0.0125, RATE)

MY, KEY = ("M", "AY1"), ("K", "IY1")


@pytest.mark.parametrize(
    ("word", "signs"),
    [
        ("key", "k i:"),
        ("cow", "k aU"),
        ("fish", "f I S"),
        ("messy", "m E s i"),
        ("bus", "b V s"),
        ("cheese", "tS i: z"),
        ("giraffe", "dZ 3 r- a f"),
        ("thumb", "T V m"),
        ("feather", "f E D 3"),
        ("measure", "m E Z 3"),
        ("yellow", "j E l oU"),
        ("singer", "s I N 3"),
        ("wing", "w I N"),
        ("house", "h aU s"),
        ("boy", "b OI"),
        ("book", "b U k"),
        ("water", "w O: t# 3"),
        ("bottle", "b A: t# @L"),
        ("car", "k A@"),
        ("horse", "h o@ s"),
        ("fire", "f aI 3"),
        ("carrot", "k a r @ t"),
        ("bird", "b 3: d"),
        ("nutshell", "n V t S E l"),
        ("box", "b A: k s"),
        ("splash", "s p l a S"),
        ("monkey", "m V N k i"),
    ],
)
def test_what_was_checked_is_what_is_spoken(word: str, signs: str) -> None:
    assert reported_phonemes((pronunciations(word)[0],)) == tuple(signs.split())


def test_the_wrong_phones_would_be_seen() -> None:
    assert reported_phonemes((("K", "AA1", "T"),)) != reported_phonemes((("K", "AE1", "T"),))


@pytest.mark.parametrize(
    ("word", "symbol", "least", "most"),
    [
        pytest.param("shell", "SH", 80, 180, id="a fricative at the start"),
        pytest.param("messy", "S", 70, 140, id="a fricative in the middle"),
        pytest.param("bus", "S", 80, 180, id="a fricative at the end"),
        pytest.param("key", "K", 40, 110, id="a stop from its release to the vowel"),
        pytest.param("moon", "M", 100, 160, id="a nasal ends where the vowel opens"),
        pytest.param("hammer", "M", 50, 100, id="a nasal in the middle"),
        pytest.param("lake", "L", 80, 160, id="an l before its vowel"),
        pytest.param("shell", "L", 80, 250, id="an l that the engine joins to its vowel"),
        pytest.param("milk", "L", 80, 250, id="an l before a stop, without the closure"),
        pytest.param("car", "R", 80, 300, id="the r of vowel + r"),
        pytest.param("bottle", "L", 30, 160, id="a syllabic l"),
        pytest.param("water", "T", 20, 110, id="a flap"),
        pytest.param("fire", "ER", 100, 300, id="an er after a diphthong"),
    ],
)
def test_the_target_has_a_place_and_a_length(
    word: str, symbol: str, least: float, most: float
) -> None:
    speech = say(word, symbol)
    assert speech.target is not None
    start, stop = speech.target
    assert 0 <= start < stop <= len(speech.samples)
    assert least <= 1000 * (stop - start) / RATE <= most


def test_a_final_l_is_darker_than_its_vowel() -> None:
    speech = say("shell", "L")
    assert speech.target is not None
    vowel = spectral_mean(speech.samples[speech.target[0] - 4000 : speech.target[0]], RATE)
    dark = spectral_mean(target(speech), RATE)
    assert vowel is not None
    assert dark is not None
    assert dark < vowel


def test_vowel_and_r_together_are_the_whole_rhyme() -> None:
    whole = speak((("K", "AA1", "R"),), (0, 1, 3), "car").target
    only_r = speak((("K", "AA1", "R"),), (0, 2, 3), "car").target
    assert whole is not None
    assert only_r is not None
    assert whole[0] < only_r[0]
    assert whole[1] == only_r[1]


def test_a_phrase_is_one_utterance_with_its_focus_in_the_second_word() -> None:
    phrase = speak((MY, KEY), (1, 0, 1), "my key")
    word = speak((KEY,), (0, 0, 1), "key")
    assert phrase.target is not None
    assert phrase.target[0] > len(phrase.samples) // 4
    assert len(word.samples) < len(phrase.samples) < 2.5 * len(word.samples)


def test_a_small_word_is_shorter_inside_a_phrase_than_alone() -> None:
    weak = speak((MY, KEY), (1, 0, 1), "my key")
    stressed = speak((MY, KEY), (1, 0, 1), "five key")
    assert len(weak.samples) < len(stressed.samples)


def test_a_question_rises() -> None:
    told = speak((MY, KEY), (1, 0, 1), "my key.")
    asked = speak((MY, KEY), (1, 0, 1), "my key?")
    assert not np.array_equal(told.samples, asked.samples)


def test_words_are_slow() -> None:
    assert 0.45 < len(say("cow", "K").samples) / RATE < 0.75


def test_without_a_focus_there_is_no_target() -> None:
    assert speak((KEY,), None, "key").target is None


@pytest.mark.parametrize("word", ["snake", "pony", "night", "bunny", "honey", "dinner"])
def test_a_nasal_ends_where_the_mouth_opens(word: str) -> None:
    # A nasal murmur is weak above 800 Hz (Fujimura 1962, JASA 34:1865-1875; from memory).
    speech = say(word, "N")
    assert speech.target is not None
    start, stop = speech.target
    murmur = high(speech.samples[start : stop - count(0.015, RATE)])
    vowel = high(speech.samples[stop + count(0.01, RATE) : stop + count(0.05, RATE)])
    assert murmur.max() < vowel.max() - 6


def high(samples: Samples) -> Samples:
    """dB above 800 Hz of pieces of 10 ms."""
    size = count(0.01, RATE)
    pieces = above(samples, RATE, 800)[: len(samples) // size * size].reshape(-1, size)
    return np.asarray(10 * np.log10((pieces**2).mean(axis=1) + 1e-12))


@pytest.mark.parametrize("word", ["carrot", "arrow", "cherry", "story", "berry"])
def test_an_r_begins_where_the_third_formant_is_half_way_down(word: str) -> None:
    # F3 falls from that of the vowel to below 2000 Hz (Espy-Wilson et al. 2000,
    # JASA 108:343-356; from memory).
    speech = say(word, "R")
    assert speech.target is not None
    start = speech.target[0]
    third = {
        ms: formants(speech.samples[max(0, at - RADIUS) : at + RADIUS], RATE, MAN)[2]
        for ms in (-60, 0, 60)
        for at in [start + round(ms / 1000 * RATE)]
    }
    assert third[-60] > third[0] > third[60]
    assert third[60] < 2000
