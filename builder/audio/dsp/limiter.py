"""Peaks brought down by a gain that is slow beside a voice: no wave changes its shape."""

from __future__ import annotations

import numpy as np

from builder.audio.dsp.measures import midpoints
from builder.audio.speech import Samples, count

PIECE_S = 0.001  # peaks are looked for in pieces
SMOOTHING_PIECES = 12  # pieces before and after a peak over which the gain goes down and up again


def piece_peaks(samples: Samples, rate: int) -> Samples:
    """The greatest value of each piece, between samples, too."""
    piece = count(PIECE_S, rate)
    size = np.maximum(np.abs(samples), np.abs(midpoints(samples)))
    return np.asarray(np.pad(size, (0, -len(size) % piece)).reshape(-1, piece).max(axis=1))


def gain_curve(peaks: Samples, length: int, rate: int, decibels: float) -> Samples:
    """The gain of each of `length` samples that brings the greatest peak down by `-decibels`."""
    places = (np.arange(len(peaks)) + 0.5) * count(PIECE_S, rate)
    return np.interp(np.arange(length), places, _limits(peaks, decibels))


def _limits(peaks: Samples, decibels: float) -> Samples:
    """The gain of each piece that brings the greatest peak down by `-decibels`.

    What each piece needs, the least of that over the pieces near, and the mean of those by a
    Hann window: it changes more slowly than a voice's periods.
    """
    most = peaks.max() * 10 ** (decibels / 20)
    needed = np.minimum(1.0, most / np.maximum(peaks, 1e-9))
    wide = np.pad(needed, 2 * SMOOTHING_PIECES + 1, mode="edge")
    least = np.lib.stride_tricks.sliding_window_view(wide, 2 * SMOOTHING_PIECES + 3).min(axis=1)
    window = np.hanning(2 * SMOOTHING_PIECES + 3)[1:-1]
    return np.convolve(least, window / window.sum(), "valid")
