"""Sounds made for tests by a formula: noise of one color, a voice of one pitch, silence. Each is
what it is by how it is made."""

from __future__ import annotations

import numpy as np

from builder.audio.speech import Samples

RATE = 24000
PITCH_HZ = 200.0


def noise(seconds: float, band: tuple[float, float], level: float, seed: int = 1) -> Samples:
    """Noise of equal power between two frequencies; level: dB of full scale, root mean square."""
    size = round(seconds * RATE)
    spectrum = np.fft.rfft(np.random.default_rng(seed).standard_normal(size))
    hertz = np.fft.rfftfreq(size, 1 / RATE)
    spectrum[(hertz < band[0]) | (hertz > band[1])] = 0
    return _at(np.fft.irfft(spectrum, size), level)


def voice(
    seconds: float, level: float, pitch: float = PITCH_HZ, top: float = 3000.0, slope: float = 1.0
) -> Samples:
    """The harmonics of a voice up to `top`, each weaker by its number to the power of `slope`."""
    time = np.arange(round(seconds * RATE)) / RATE
    numbers = np.arange(1, int(top / pitch) + 1)
    waves = (np.sin(2 * np.pi * pitch * k * time) / k**slope for k in numbers)
    return _at(np.sum(list(waves), axis=0), level)


def silence(seconds: float) -> Samples:
    """Nothing."""
    return np.zeros(round(seconds * RATE))


def joined(*parts: Samples) -> tuple[Samples, tuple[tuple[int, int], ...]]:
    """The parts one after the other, and where each lies."""
    ends = np.cumsum([0, *map(len, parts)]).tolist()
    return np.concatenate(parts), tuple(zip(ends, ends[1:], strict=False))


def _at(samples: Samples, level: float) -> Samples:
    size = np.sqrt((samples**2).mean()) if len(samples) else 1.0
    return np.asarray(samples / size * 10 ** (level / 20))
