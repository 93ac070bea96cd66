"""Formants by linear prediction, for tests and benchmarks: where a vocal tract resonates."""

from __future__ import annotations

import numpy as np

from builder.audio.speech import Samples, count

TOP = 5500.0  # Hz; the band of a woman's first five formants
# Poles: two a formant in the band; a man has a sixth one there, and the nose adds one.
WOMAN, MAN, NASAL = 10, 12, 12
WINDOW, STEP = 0.025, 0.005  # seconds
WIDEST = 900.0  # Hz; a broader pole is no formant (those of a weak ɹ are broad)
LOWEST = 150.0  # Hz


def formants(samples: Samples, rate: int, order: int = WOMAN) -> tuple[float, ...]:
    """The medians of F1, F2, F3 in Hz over windows of 25 ms; nan where none was found.

    Autocorrelation method, Hamming window, pre-emphasis 0.97: J. Markel, A. Gray: Linear
    Prediction of Speech, Springer 1976.
    """
    import soxr

    low = np.asarray(soxr.resample(samples, rate, 2 * TOP), np.float64)
    size, step = count(WINDOW, round(2 * TOP)), count(STEP, round(2 * TOP))
    low = np.append(low[:1], low[1:] - 0.97 * low[:-1])
    if len(low) < size:
        return (float("nan"),) * 3
    windows = np.lib.stride_tricks.sliding_window_view(low, size)[::step] * np.hamming(size)
    found = [_of(window, order) for window in windows if np.any(window)]
    rows = [row[:3] for row in found if len(row) >= 3]
    return tuple(map(float, np.median(rows, axis=0))) if rows else (float("nan"),) * 3


def _of(window: Samples, order: int) -> list[float]:
    size = len(window)
    lags = np.correlate(window, window, "full")[size - 1 : size + order]
    lags[0] *= 1.0001
    table = lags[np.abs(np.arange(order)[:, None] - np.arange(order))]
    filter_ = np.concatenate([[1.0], -np.linalg.solve(table, lags[1:])])
    roots = np.roots(filter_)
    roots = roots[roots.imag > 0]
    hertz = np.angle(roots) * TOP / np.pi
    width = -np.log(np.abs(roots)) * 2 * TOP / np.pi
    return sorted(h for h, w in zip(hertz, width, strict=True) if h > LOWEST and w < WIDEST)


def nucleus_levels(samples: Samples, rate: int) -> Samples:
    """dB between 300 and 900 Hz, where vowels have their energy, in windows of 50 ms, 10 ms apart;
    one of -200 for less than a window."""
    size = count(0.05, rate)
    if len(samples) < size:
        return np.full(1, -200.0)
    windows = np.lib.stride_tricks.sliding_window_view(samples, size)[:: count(0.01, rate)]
    power = np.abs(np.fft.rfft(windows * np.hanning(size))) ** 2
    hertz = np.fft.rfftfreq(size, 1 / rate)
    inside = (hertz >= 300) & (hertz < 900)
    return np.asarray(10 * np.log10(power[:, inside].sum(axis=1) + 1e-12))
