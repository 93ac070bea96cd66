"""What MP3 takes away."""

from __future__ import annotations

from io import BytesIO

import numpy as np
import pytest
import soundfile
from numpy.typing import NDArray

from builder.audio.dsp.levelling import finish
from builder.audio.dsp.measures import true_peak
from builder.audio.io.encode import mp3
from builder.audio.speech import Samples
from tests.support.audio import RATE, hold, say


def decoded(data: bytes) -> tuple[Samples, int]:
    samples, rate = soundfile.read(BytesIO(data), dtype="float64")
    return np.asarray(samples, np.float64), rate


@pytest.mark.parametrize("rate", [22050, 24000, 32000, 44100, 48000])
@pytest.mark.parametrize("more", [0, 100, 300])
def test_rate_and_length_are_kept(rate: int, more: int) -> None:
    noise = np.random.default_rng(0).standard_normal(rate + more) * 0.1
    samples, found = decoded(mp3(noise, rate))
    assert found == rate
    # A decoder may give out up to 48 samples of the last frame's filling.
    assert 0 <= len(samples) - len(noise) <= 48


@pytest.mark.parametrize("rate", [22050, 24000, 44100])
def test_white_noise_loses_at_most_a_decibel(rate: int) -> None:
    noise = np.random.default_rng(1).standard_normal(4 * rate) * 0.1
    assert _lost(noise, decoded(mp3(noise, rate))[0], rate) <= 1.0


@pytest.mark.parametrize(
    ("word", "symbol"), [("bus", "S"), ("fish", "SH"), ("leaf", "F"), ("bath", "TH")]
)
def test_a_held_clip_loses_at_most_a_decibel(word: str, symbol: str) -> None:
    samples = finish(hold(say(word, symbol), symbol).samples, RATE).samples
    assert _lost(samples, decoded(mp3(samples, RATE))[0], RATE) <= 1.0


def _lost(before: Samples, after: Samples, rate: int) -> float:
    """Power lost up to min(15 kHz, 0.45 x rate), in dB, of the half octave that loses most."""
    top = min(15000.0, 0.45 * rate)
    old, new = _power(before), _power(after)
    frequency = np.fft.rfftfreq(1024, 1 / rate)
    edges = top / 2 ** (np.arange(8) / 2)
    bands = [(frequency > low) & (frequency <= high) for high, low in zip(edges, edges[1:])]  # noqa: B905
    return max(10 * float(np.log10(old[band].sum() / new[band].sum())) for band in bands)


def _power(samples: Samples) -> NDArray[np.float64]:
    windows = samples[: len(samples) // 1024 * 1024].reshape(-1, 1024) * np.hanning(1024)
    return np.asarray((np.abs(np.fft.rfft(windows)) ** 2).mean(axis=0))


def test_nothing_moves_in_time() -> None:
    click = np.zeros(RATE)
    click[2400] = 0.5
    assert abs(int(np.abs(decoded(mp3(click, RATE))[0]).argmax()) - 2400) <= 1


@pytest.mark.parametrize(("word", "symbol"), [("cow", "K"), ("moon", "M"), ("bus", "S")])
def test_the_decoded_peak_stays_below_the_bound(word: str, symbol: str) -> None:
    # EBU R 128: at most -1 dBTP.
    samples = finish(say(word, symbol).samples, RATE).samples
    assert true_peak(decoded(mp3(samples, RATE))[0]) <= -1.0


def test_the_same_samples_give_the_same_bytes() -> None:
    samples = say("cow", "K").samples
    assert mp3(samples, RATE) == mp3(samples.copy(), RATE)
