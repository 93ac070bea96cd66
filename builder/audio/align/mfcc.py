"""What the acoustic model is given: mel-frequency cepstra of 10-ms frames and how they move.

Made as for the training of the model (its feat.params): pre-emphasis, 25 triangular mel filters
from 130 to 6800 Hz, an orthonormal cosine transform, lifter 22. Formulas: S. Young et al.: The
HTK Book (3.4), chapter 5; mel scale: D. O'Shaughnessy: Speech Communication, 1987.
"""

from __future__ import annotations

from functools import cache

import numpy as np
from numpy.typing import NDArray

from builder.audio.speech import Samples

RATE_HZ = 16000
# samples: a frame, what it looks at, its transform.
HOP_SAMPLES, WINDOW_SAMPLES, FFT_SIZE = 160, 410, 512
FILTERS, LOWEST_HZ, HIGHEST_HZ = 25, 130.0, 6800.0
CEPSTRA, LIFTER = 13, 22
BEND_SHARE = 0.8  # of half the rate; above it no warp leaves the band
EMPHASIS = 0.97
FULL_SCALE = 32768.0
PEAK = 0.4  # of full scale, to which a recording is brought
DITHER = 3e-4  # of full scale; the model knows no digital silence
FRAMES_AT_ONCE = 32
POWER_FLOOR = 1e-4  # keeps silence finite
# A word has more silence about it than the sentences of which the model learned; frames of silence
# (dB below the loudest) weigh less in the mean.
SILENCE_BELOW_PEAK_DB, SILENCE_WEIGHT = 30.0, 0.6

Features = NDArray[np.float32]


def mfcc_features(samples: Samples, warp: float = 1.0) -> tuple[Features, Samples]:
    """Features of shape (frames, 39): 13 cepstra less their weighted mean, their first differences,
    their second; and the level of each frame: dB, the mean over the filters.

    `samples` at 16 kHz, at least WINDOW_SAMPLES; frame k looks at so many from k * HOP_SAMPLES on.
    warp: how much higher the speaker's formants lie than the model's (`warped`).
    """
    return features_of(power_spectra(samples), warp)


def power_spectra(samples: Samples) -> Samples:
    """Shape (frames, FFT_SIZE // 2 + 1), of samples as for `mfcc_features`."""
    scaled = samples * FULL_SCALE
    sharp = np.append(scaled[:1], scaled[1:] - EMPHASIS * scaled[:-1])
    windows = np.lib.stride_tricks.sliding_window_view(sharp, WINDOW_SAMPLES)[
        ::HOP_SAMPLES
    ] * np.hamming(WINDOW_SAMPLES)
    return np.asarray(np.abs(np.fft.rfft(windows, FFT_SIZE)) ** 2)


def features_of(power: Samples, warp: float = 1.0) -> tuple[Features, Samples]:
    """As `mfcc_features` gives them, of power spectra."""
    cepstra = np.log(_filtered(power, warp) + POWER_FLOOR) @ _transform().T
    level = 10 / np.log(10) / np.sqrt(FILTERS) * cepstra[:, 0]
    cepstra -= np.average(
        cepstra,
        axis=0,
        weights=np.where(level > level.max() - SILENCE_BELOW_PEAK_DB, 1, SILENCE_WEIGHT),
    )
    first = _moved(cepstra, 2) - _moved(cepstra, -2)
    second = _moved(first, 1) - _moved(first, -1)
    return np.concatenate([cepstra, first, second], axis=1).astype(np.float32), level


def _filtered(power: Samples, warp: float) -> Samples:
    """Power in each filter, shape (frames, FILTERS). By few frames at a time: for larger products
    the library of matrices starts threads, which take longer than the products."""
    filters, starts = _filters(warp).T, range(0, len(power), FRAMES_AT_ONCE)
    return np.concatenate([power[at : at + FRAMES_AT_ONCE] @ filters for at in starts])


def dithered(samples: Samples) -> Samples:
    """With a soft hiss under it, the same one every time."""
    return samples + DITHER * np.random.default_rng(0).standard_normal(len(samples))


def _moved(rows: Samples, by: int) -> Samples:
    """Row k + `by` in place k; beyond the ends the last one."""
    return np.asarray(rows[np.clip(np.arange(len(rows)) + by, 0, len(rows) - 1)])


def warped(hertz: Samples, warp: float) -> Samples:
    """Where a speaker has what the model knows at these frequencies: all times `warp`, but for a
    second line from BEND_SHARE of half the rate on that ends there (HTK Book, chapter 5)."""
    top = RATE_HZ / 2
    bend = BEND_SHARE * top / max(warp, 1.0)
    slope = (top - warp * bend) / (top - bend)
    return np.asarray(np.where(hertz <= bend, warp * hertz, top - slope * (top - hertz)))


@cache
def _filters(warp: float) -> Samples:
    """Triangles of unit area with corners on the transform's frequencies: (FILTERS, bins)."""
    step = RATE_HZ / FFT_SIZE
    low, high = (2595 * float(np.log10(1 + hertz / 700)) for hertz in (LOWEST_HZ, HIGHEST_HZ))
    corners = 700 * (10 ** (np.linspace(low, high, FILTERS + 2) / 2595) - 1)
    corners = np.floor(warped(corners, warp) / step + 0.5)[:, None]
    left, middle, right = corners[:-2], corners[1:-1], corners[2:]
    bins = np.arange(FFT_SIZE // 2 + 1)
    shape = np.minimum((bins - left) / (middle - left), (right - bins) / (right - middle))
    return np.asarray(np.maximum(shape, 0) * 2 / ((right - left) * step))


@cache
def _transform() -> Samples:
    """Log filter powers → liftered cepstra: (CEPSTRA, FILTERS)."""
    rows = np.arange(CEPSTRA)[:, None]
    cosines = np.sqrt(2 / FILTERS) * np.cos(np.pi / FILTERS * rows * (np.arange(FILTERS) + 0.5))
    cosines[0] /= np.sqrt(2)
    return np.asarray(cosines * (1 + LIFTER / 2 * np.sin(np.pi * rows / LIFTER)))
