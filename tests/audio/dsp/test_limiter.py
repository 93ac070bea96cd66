"""A limiter that does not change the shape of a wave."""

from __future__ import annotations

import numpy as np
import pytest

from builder.audio.dsp.limiter import gain_curve, piece_peaks
from builder.audio.dsp.measures import true_peak
from builder.audio.speech import Samples
from tests.support.audio import RATE, say, sine

TONE = sine(300, 1.0, RATE) * 0.2


def limited(decibels: float) -> Samples:
    samples = TONE.copy()
    samples[10_000:12_000] *= 1 + 3 * np.hanning(2000)
    return np.asarray(
        samples * gain_curve(piece_peaks(samples, RATE), len(samples), RATE, decibels)
    )


@pytest.mark.parametrize("decibels", [-1.0, -3.0, -6.0])
def test_the_peak_goes_down_by_as_much_as_wanted(decibels: float) -> None:
    assert true_peak(limited(decibels)) == pytest.approx(20 * np.log10(0.8) + decibels, abs=0.2)


def test_what_needs_no_limiting_stays() -> None:
    samples = say("cow", "K").samples
    assert np.all(gain_curve(piece_peaks(samples, RATE), len(samples), RATE, 0.0) == 1.0)
    assert np.all(gain_curve(piece_peaks(samples, RATE), len(samples), RATE, 6.0) == 1.0)


def test_far_from_a_peak_nothing_changes() -> None:
    assert np.allclose(limited(-6.0)[:9000], TONE[:9000])


def test_the_gain_is_slow_beside_a_period() -> None:
    samples = say("cow", "K").samples
    gain = 20 * np.log10(gain_curve(piece_peaks(samples, RATE), len(samples), RATE, -6.0))
    a_millisecond = round(0.001 * RATE)
    assert np.abs(gain[a_millisecond:] - gain[:-a_millisecond]).max() < 1.5


def test_a_peak_between_samples_counts() -> None:
    samples = sine(RATE / 4, 0.1, RATE, phase=np.pi / 4) * np.hanning(RATE // 10)
    assert piece_peaks(samples, RATE).max() > 1.2 * np.abs(samples).max()
