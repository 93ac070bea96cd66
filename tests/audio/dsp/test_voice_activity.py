"""Where somebody speaks, and how soft it is where nobody does."""

from __future__ import annotations

import numpy as np
import pytest

from builder.audio.dsp.voice_activity import detect_voice
from builder.audio.speech import Samples
from tests.support.audio import RATE, hold, say, sine

WORD = say("cow", "K").samples


def room(level: float, seconds: float) -> Samples:
    return np.random.default_rng(4).standard_normal(round(seconds * RATE)) * level


def in_room(level: float, before: float = 0.5, after: float = 0.5) -> Samples:
    samples = room(level, before + len(WORD) / RATE + after)
    samples[round(before * RATE) :][: len(WORD)] += WORD
    return samples


@pytest.mark.parametrize("level", [1e-4, 1e-3, 5e-3])
def test_the_word_is_found_in_its_room(level: float) -> None:
    found = detect_voice(in_room(level), RATE)
    start, stop = found.span(RATE)
    assert start / RATE == pytest.approx(0.5, abs=0.06)
    assert stop / RATE == pytest.approx(0.5 + len(WORD) / RATE, abs=0.09)


@pytest.mark.parametrize("level", [1e-4, 1e-3, 5e-3])
def test_the_noise_is_measured(level: float) -> None:
    found, alone = detect_voice(in_room(level), RATE), detect_voice(room(level, 3.0), RATE)
    assert found.noise is not None
    assert alone.noise is not None
    assert found.noise == pytest.approx(alone.noise, abs=1.0)


def test_a_recording_without_a_silent_part_tells_no_noise() -> None:
    samples = say("soup", "S").samples[:-3000]
    found = detect_voice(samples, RATE)
    assert found.noise is None or found.noise > found.loudness - 10  # it is no silence
    start, stop = found.span(RATE)
    assert stop - start > len(samples) - 0.05 * RATE


def test_a_recording_that_fades_away_has_the_noise_of_its_silence() -> None:
    samples = in_room(3e-3, after=1.0)
    fade = round(0.1 * RATE)
    samples[-fade:] *= np.linspace(1, 0, fade)
    steady, faded = detect_voice(in_room(3e-3, after=1.0), RATE), detect_voice(samples, RATE)
    assert faded.noise == pytest.approx(steady.noise or 0, abs=1.0)


def test_zeros_around_a_noisy_word_do_not_make_it_clean() -> None:
    noisy, padded = (
        detect_voice(in_room(5e-3), RATE),
        detect_voice(np.pad(in_room(5e-3), RATE), RATE),
    )
    assert padded.noise == pytest.approx(noisy.noise or 0, abs=0.5)


def test_zeros_in_place_of_silence_are_no_noise() -> None:
    found = detect_voice(np.pad(say("seal", "S").samples, RATE), RATE)
    assert found.noise is None or found.loudness - found.noise > 30


@pytest.mark.parametrize(("word", "symbol"), [("bus", "S"), ("moon", "M"), ("thumb", "TH")])
def test_a_held_target_is_not_the_noise(word: str, symbol: str) -> None:
    speech = hold(say(word, symbol), symbol)
    found = detect_voice(speech.samples, RATE)
    start, stop = found.span(RATE)
    assert speech.target
    assert start <= speech.target[0] + 0.05 * RATE
    assert stop >= speech.target[1] - 0.05 * RATE


def test_a_click_far_from_the_word_does_not_count_and_a_near_one_does() -> None:
    for gap, counts in ((0.6, False), (0.1, True)):
        samples = in_room(1e-4, after=1.5)
        at = round((0.5 + gap) * RATE) + len(WORD)
        samples[at : at + 300] += 0.3 * room(1.0, 300 / RATE)
        assert (detect_voice(samples, RATE).span(RATE)[1] > at) is counts


def test_two_words_are_both_heard() -> None:
    twice = np.concatenate([in_room(1e-4), in_room(1e-4)])
    start, stop = detect_voice(twice, RATE).span(RATE)
    assert (stop - start) / RATE > 1.0 + len(WORD) / RATE


def test_an_offset_does_not_count() -> None:
    plain, off = detect_voice(in_room(1e-3), RATE), detect_voice(in_room(1e-3) + 0.05, RATE)
    assert off.spoken == plain.spoken
    assert off.noise == pytest.approx(plain.noise or 0, abs=0.5)


@pytest.mark.parametrize("samples", [np.zeros(0), np.zeros(RATE), np.ones(1), sine(500, 0.02)])
def test_next_to_nothing_is_borne(samples: Samples) -> None:
    found = detect_voice(samples, RATE)
    assert found.noise is None
    assert 0 <= found.span(RATE)[0] <= found.span(RATE)[1] <= len(samples)
