"""WAV files that another reader reads."""

from __future__ import annotations

from io import BytesIO

import numpy as np
import pytest
import soundfile

from builder.audio.io.wav import wav


@pytest.mark.parametrize("rate", [8000, 44100])
def test_samples_come_back_in_24_bits(rate: int) -> None:
    noise = np.random.default_rng(1).uniform(-1, 1, 5000)
    data = wav(noise, rate)
    samples, found = soundfile.read(BytesIO(data), dtype="float64")
    assert (found, soundfile.info(BytesIO(data)).subtype) == (rate, "PCM_24")
    assert np.abs(samples - noise).max() <= 2.0**-23


def test_beyond_full_scale_it_is_clipped_and_does_not_wrap() -> None:
    samples, _ = soundfile.read(BytesIO(wav(np.array([1.5, -1.5, 1.0, -1.0, 0.0]), 8000)))
    assert np.allclose(samples, [1, -1, 1, -1, 0], atol=2.0**-22)
