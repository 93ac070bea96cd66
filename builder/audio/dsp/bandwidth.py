"""How far up a sound really reaches: what a file claims by its rate proves nothing."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from builder.audio.speech import Samples, count

# The measure: the edge 30 dB below the maximum of the spectrum that half of the windows reach: some
# clicks are no friction. It is neither a roll-off, which depends on how the energy is spread, nor
# the rate of the file.
BELOW_PEAK_DB = 30.0  # dB
WINDOW_S, FOLD_WINDOW_S = 0.010, 0.020  # Hann, overlapping by three quarters
SMOOTHING_HZ = 300.0  # Hz over which the spectrum is averaged
LOWEST_HZ = 1000.0  # below it lie the voice and the hum, not the friction
ABOVE_NOISE_DB = 5.0  # dB by which a band must stand out from the recording's own noise
# Where cheap upsampling of 8, 11.025 and 16 kHz folds the spectrum over: half of each.
FOLDS_HZ = (4000.0, 5512.5, 8000.0)
# Correlation of both sides of a fold over time; independent friction has 0 ± 0.15.
FOLD_CORRELATION = 0.5
# Hz compared on each side of a fold, and left out beside it.
FOLD_SIDE_HZ, FOLD_GAP_HZ = 1500.0, 150.0
Power = NDArray[np.float64]


def band_edge(
    target: Samples, rate: int, quiet: Samples | None = None, *, folds: bool = True
) -> tuple[float, bool]:
    """The highest frequency in Hz that `target` holds, and whether noise hides what is above.

    target: samples of the sound; quiet: the recording where nobody speaks, if there is such a
    part: its spectrum is taken off. Where upsampling folded the spectrum over, the fold is the
    edge; `folds=False` does not look for one. (0.0, False) for less than two windows or silence.
    """
    windows = _spectra(target, rate)
    if not len(windows) or not np.any(windows):
        return 0.0, False
    power = _smooth(np.median(_brightest(windows, rate), axis=0), rate)
    noise = _noise(quiet, rate, len(power))
    hertz = np.linspace(0, rate / 2, len(power))
    sound = np.where(power > noise * 10 ** (ABOVE_NOISE_DB / 10), power - noise, 0.0)
    least = sound[hertz >= LOWEST_HZ].max(initial=0.0) * 10 ** (-BELOW_PEAK_DB / 10)
    reached = np.flatnonzero((sound >= least) & (hertz >= LOWEST_HZ) & (sound > 0))
    highest = float(hertz[reached[-1]]) if len(reached) else 0.0
    beyond = (hertz > highest) & (hertz <= highest + 2 * SMOOTHING_HZ)
    hidden = bool(np.any(beyond) and noise[beyond].mean() > least)
    return min([highest, *(_folds(target, rate, highest) if folds else ())]), hidden


def _spectra(samples: Samples, rate: int, seconds: float = WINDOW_S) -> Power:
    """Power of every window, shape (windows, bins)."""
    size = count(seconds, rate)
    if len(samples) < size + size // 4:
        return np.zeros((0, size // 2 + 1))
    windows = np.lib.stride_tricks.sliding_window_view(samples, size)[:: size // 4]
    return np.asarray(np.abs(np.fft.rfft(windows * np.hanning(size))) ** 2)


def _brightest(windows: Power, rate: int) -> Power:
    """The half of the windows with the highest mean frequency: a boundary that lies a little inside
    the vowel beside it must not count as the sound."""
    hertz = np.linspace(0, rate / 2, windows.shape[1])
    inside = hertz >= LOWEST_HZ
    mean = (windows * hertz)[:, inside].sum(axis=1) / (windows[:, inside].sum(axis=1) + 1e-30)
    return np.asarray(windows[np.argsort(mean)[len(mean) // 2 :]])


def _smooth(power: Power, rate: int) -> Power:
    span = max(1, round(SMOOTHING_HZ / (rate / 2) * (len(power) - 1))) | 1
    padded = np.pad(power, span // 2, mode="edge")
    return np.convolve(padded, np.ones(span) / span, "valid")


def _noise(quiet: Samples | None, rate: int, bins: int) -> Power:
    windows = _spectra(quiet, rate) if quiet is not None else np.zeros((0, bins))
    return _smooth(np.median(windows, axis=0), rate) if len(windows) else np.zeros(bins)


def _folds(target: Samples, rate: int, highest: float) -> list[float]:
    """The fold over which the spectrum is a mirror image of itself at every moment, if any.

    Upsampling by repeating or joining samples leaves images: what sounds at fold - d sounds at
    fold + d, with the same ups and downs. Friction that was really there has none in common.
    """
    return [
        fold - FOLD_GAP_HZ
        for fold in FOLDS_HZ
        if highest - fold > FOLD_GAP_HZ
        and _alike(_spectra(target, rate, FOLD_WINDOW_S), rate, fold, highest) > FOLD_CORRELATION
    ][:1]


def _alike(windows: Power, rate: int, fold: float, highest: float) -> float:
    """Correlation of the levels on both sides of `fold`, each bin's and each window's mean off."""
    bins = rate / 2 / (windows.shape[1] - 1)
    far = np.arange(round(FOLD_GAP_HZ / bins), round(min(FOLD_SIDE_HZ, highest - fold) / bins))
    at = fold / bins
    if len(far) < 4 or len(windows) < 4 or at + far[-1] + 1 >= windows.shape[1]:
        return 0.0
    log = np.log(windows + 1e-12 * windows.max())
    up, down = (_centred(log[:, np.round(at + sign * far).astype(int)]) for sign in (1, -1))
    size = np.sqrt((up**2).sum() * (down**2).sum())
    return float((up * down).sum() / size) if size > 0 else 0.0


def _centred(levels: NDArray[np.float64]) -> NDArray[np.float64]:
    across = levels - levels.mean(axis=0)
    return np.asarray(across - across.mean(axis=1, keepdims=True))
