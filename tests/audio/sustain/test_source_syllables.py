"""Out of which syllable an isolated sound is cut, and the cutting, on made-up signals."""

from __future__ import annotations

import numpy as np
import pytest

from builder.audio.speech import Samples, count
from builder.audio.sustain.source_syllables import burst, cut_out, source_syllable, without_breath
from builder.audio.voices import VOICES
from builder.model.clinic import Speaker
from builder.phonetics.inventory import sounds
from tests.support.audio import RATE, sine


def stop(voice: float) -> Samples:
    """50 ms of a hum at that level, 20 ms of noise, 100 ms of a vowel without high parts."""
    hum = voice * sine(150, 0.05, RATE)
    noise = 0.3 * np.random.default_rng(1).standard_normal(count(0.02, RATE))
    return np.concatenate([hum, noise, 0.5 * sine(300, 0.1, RATE)])


@pytest.mark.parametrize("voice", [0.0, 0.1])
def test_the_burst_is_where_high_sound_sets_in(voice: float) -> None:
    assert burst(stop(voice), RATE) / RATE == pytest.approx(0.05, abs=0.006)


def test_a_release_keeps_its_voice_and_ends_before_the_vowel() -> None:
    samples = stop(0.1)
    made = cut_out(samples, RATE, (count(0.05, RATE), len(samples)), "to 0.010")
    assert len(made) / RATE == pytest.approx(0.06, abs=0.006)
    assert np.array_equal(made, samples[: len(made)])


def test_a_final_release_begins_with_its_burst_and_ends_when_it_has_died_away() -> None:
    samples = np.concatenate([stop(0.1)[: count(0.07, RATE)], np.zeros(count(0.2, RATE))])
    made = cut_out(samples, RATE, (count(0.03, RATE), len(samples)), "after")
    assert len(made) / RATE == pytest.approx(0.02, abs=0.008)


def test_a_share_is_taken_from_the_start() -> None:
    samples = stop(0.1)
    assert np.array_equal(cut_out(samples, RATE, (100, 300), "0.5"), samples[100:200])


def test_breath_around_a_vowel_is_left_out() -> None:
    breath = 0.01 * np.random.default_rng(2).standard_normal(count(0.1, RATE))
    samples = np.concatenate([breath, 0.5 * sine(300, 0.2, RATE), breath])
    start, stop_ = without_breath(samples, RATE, (0, len(samples)))
    assert start / RATE == pytest.approx(0.1, abs=0.006)
    assert stop_ / RATE == pytest.approx(0.3, abs=0.006)


@pytest.mark.parametrize("voice", [name for name, info in VOICES.items() if info.speaks_alone])
def test_every_sound_has_a_syllable_of_known_phones(voice: Speaker) -> None:
    for sound in sounds().values():
        found = source_syllable(voice, sound.symbol, sound.kind)
        assert {p.rstrip("1") for p in found.before + found.after} <= {*sounds(), "AH0"}


@pytest.mark.parametrize("samples", [np.zeros(0), np.zeros(50), np.zeros(4000)])
def test_silence_has_a_burst_somewhere(samples: Samples) -> None:
    assert 0 <= burst(samples, RATE) <= max(len(samples), count(0.005, RATE))
