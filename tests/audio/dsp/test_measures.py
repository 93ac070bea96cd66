"""Loudness, true peak and spectral mean against calculable and published values."""

from __future__ import annotations

import math

import numpy as np
import pytest

from builder.audio.dsp.measures import (
    fft_size,
    gated_loudness,
    k_weighted,
    loudness,
    midpoints,
    short_loudness,
    spectral_mean,
    true_peak,
)
from tests.support.audio import RATE, say, sine
from tests.support.meter import meter


@pytest.mark.parametrize("rate", [22050, 24000, 44100, 48000])
def test_a_full_scale_sine_of_997_hz_reads_3_01_below(rate: int) -> None:
    # ITU-R BS.1770-4, Annex 1: a 0 dB FS, 997 Hz sine on one channel reads -3.01 LKFS.
    assert loudness(sine(997, rate=rate), rate) == pytest.approx(-3.01, abs=0.05)


def test_a_quiet_sine_on_one_channel() -> None:
    # EBU Tech 3341, case 1: 1 kHz at -23 dBFS on both channels reads -23.0 LUFS, tolerance 0.1;
    # one channel alone holds half of the power, 3.01 dB less.
    quiet = sine(1000, 20.0) * 10 ** (-23 / 20)
    assert loudness(quiet, 48000) == pytest.approx(-26.01, abs=0.1)


def test_the_relative_gate_leaves_out_what_is_much_softer() -> None:
    # EBU Tech 3341, case 3: 10 s at -36, 60 s at -23, 10 s at -36 dBFS read -23.0 on two channels.
    loud, soft = sine(1000, 60.0) * 10 ** (-23 / 20), sine(1000, 10.0) * 10 ** (-36 / 20)
    together = np.concatenate([soft, loud, soft])
    assert loudness(together, 48000) == pytest.approx(-26.01, abs=0.1)


def test_the_gate_may_be_moved() -> None:
    power = np.array([1.0] * 10 + [0.07] * 10)  # 11.5 dB apart, 8.8 dB below their mean
    assert gated_loudness(power, 8.0) == pytest.approx(-0.691)
    assert gated_loudness(power) == pytest.approx(-0.691 + 10 * math.log10(0.535))


@pytest.mark.parametrize("least", [1, 9, 1000, 40_000, 99_999])
def test_a_quick_size_is_long_enough_and_little_longer(least: int) -> None:
    assert least <= fft_size(least) <= max(8, 1.34 * least)


def test_silence_around_does_not_change_the_loudness() -> None:
    speech = np.tile(say("cow", "K").samples, 30)
    padded = np.pad(speech, 5 * RATE)
    assert loudness(padded, RATE) == pytest.approx(loudness(speech, RATE), abs=0.1)


@pytest.mark.parametrize("rate", [22050, 24000, 44100, 48000])
def test_loudness_agrees_with_an_independent_meter(rate: int) -> None:
    noise = np.random.default_rng(5).standard_normal(2 * rate) * np.linspace(0.01, 0.2, 2 * rate)
    # Its own K-weighting is redesigned per rate with rounded filter data: within 0.1 LU.
    assert loudness(noise, rate) == pytest.approx(meter(noise, rate), abs=0.1)


@pytest.mark.parametrize(("word", "symbol"), [("cow", "K"), ("bus", "S"), ("moon", "M")])
def test_loudness_of_words_agrees_with_an_independent_meter(word: str, symbol: str) -> None:
    # Many times over: of a single word the other meter counts a last block that is not full.
    samples = np.tile(say(word, symbol).samples, 20)
    assert loudness(samples, RATE) == pytest.approx(meter(samples, RATE), abs=0.2)


def test_loudness_of_silence_and_of_too_little() -> None:
    assert loudness(np.zeros(RATE), RATE) == -math.inf
    assert loudness(sine(1000, 0.3, RATE), RATE) == -math.inf
    assert short_loudness(k_weighted(np.zeros(RATE), RATE), RATE) == -math.inf


@pytest.mark.parametrize(("seconds", "near"), [(0.1, 2.0), (0.2, 1.0), (0.39, 0.7)])
def test_a_short_steady_sound_reads_as_if_it_went_on(seconds: float, near: float) -> None:
    short = np.pad(sine(997, seconds, RATE), 2000)
    assert short_loudness(k_weighted(short, RATE), RATE) == pytest.approx(-3.01, abs=near)


def test_the_true_peak_between_samples_is_found() -> None:
    # Arithmetic: a sine at a quarter of the rate, 45 degrees off, has samples at -3.01 dBFS only.
    samples = sine(12000, phase=math.pi / 4)
    assert 20 * math.log10(np.abs(samples).max()) == pytest.approx(-3.01, abs=0.01)
    assert true_peak(samples * np.hanning(len(samples))) == pytest.approx(0.0, abs=0.05)


@pytest.mark.parametrize("hertz", [997.0, 5000.0, 9000.0, 11025.0, 17000.0])
def test_the_true_peak_of_a_sine_is_its_amplitude(hertz: float) -> None:
    samples = 0.5 * sine(hertz) * np.hanning(3 * 48000)
    assert true_peak(samples) == pytest.approx(-6.02, abs=0.1)


def test_midpoints_lie_between_samples() -> None:
    found = midpoints(sine(1000, 0.1))
    wanted = sine(1000, 0.1, phase=math.pi * 1000 / 48000)
    assert found.shape == wanted.shape
    assert np.allclose(found[100:-100], wanted[100:-100], atol=1e-3)


def test_the_true_peak_is_never_below_the_sample_peak() -> None:
    click = np.zeros(100)
    click[0] = 0.5
    assert true_peak(click) >= 20 * math.log10(0.5)
    assert true_peak(np.zeros(100)) == -math.inf


def test_the_spectral_mean_of_even_noise_is_the_middle_of_the_band() -> None:
    noise = np.random.default_rng(1).standard_normal(44100 * 4)
    assert spectral_mean(noise, 44100) == pytest.approx((500 + 11000) / 2, rel=0.02)


@pytest.mark.parametrize("hertz", [1000.0, 4000.0, 8000.0])
def test_the_spectral_mean_of_a_tone_is_its_frequency(hertz: float) -> None:
    assert spectral_mean(sine(hertz, 1.0, RATE), RATE) == pytest.approx(hertz, rel=0.01)


def test_what_lies_outside_the_band_does_not_count() -> None:
    rumble = sine(100, 1.0, RATE) + 0.1 * sine(6000, 1.0, RATE)
    assert spectral_mean(rumble, RATE) == pytest.approx(6000, rel=0.05)


def test_less_than_a_window_has_no_spectral_mean() -> None:
    assert spectral_mean(np.ones(100), RATE) is None
    assert spectral_mean(np.zeros(RATE), RATE) is None
