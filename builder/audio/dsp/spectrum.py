"""Short-time spectra: where one sound turns into the next, and where a sound is steady."""

from __future__ import annotations

from typing import Literal

import numpy as np
from numpy.typing import NDArray

from builder.audio.speech import Samples, count

FRAME_S = 0.020  # two periods of a low voice
STEP_S = 0.005
BANDS = 24
POWER_FLOOR = 1e-9  # keeps silence finite; full scale is 1
Cue = Literal["spectrum", "level", "jump"]


def bands(samples: Samples, rate: int) -> NDArray[np.float64]:
    """Log power in 24 bands, equal in width on a mel scale up to 8 kHz: shape (frames, 24).

    Frame k covers [k * STEP_S, k * STEP_S + FRAME_S). The mean over the bands is taken away, so
    that level does not count; it is appended as a 25th column, in the same unit (nepers of power).
    """
    frame, step = count(FRAME_S, rate), count(STEP_S, rate)
    if len(samples) < frame:
        samples = np.pad(samples, (0, frame - len(samples)))
    frames = np.lib.stride_tricks.sliding_window_view(samples, frame)[::step]
    power = np.abs(np.fft.rfft(frames * np.hanning(frame), 512 if frame <= 512 else None)) ** 2
    edges = _edges(power.shape[1], rate)
    summed = np.add.reduceat(power, edges[:-1], axis=1)[:, :BANDS]
    log = np.log(summed + POWER_FLOOR)
    level = log.mean(axis=1, keepdims=True)
    return np.concatenate([log - level, level], axis=1)


def _edges(bins: int, rate: int) -> NDArray[np.intp]:
    top = 2595 * np.log10(1 + 8000 / 700)  # mel; O'Shaughnessy 1987
    hertz = 700 * (10 ** (np.linspace(top / 40, top, BANDS + 1) / 2595) - 1)
    found = np.round(hertz / (rate / 2) * (bins - 1)).astype(np.intp)
    rising = np.maximum.accumulate(np.maximum(found, np.arange(BANDS + 1)))
    return np.minimum(rising, bins - 1)  # at low rates the upper bands are one


def boundary(samples: Samples, rate: int, left: int, right: int, way: Cue = "spectrum") -> int:
    """Where the sound heard at `left` turns into the one heard at `right` (samples).

    spectrum: each frame's is projected on the way from the first to the last one; the boundary is
    where half of the way is gone for good. level: the same of spectrum and level. jump: the
    greatest change of both over four steps. Without a way it is the middle.
    """
    seen = bands(samples[left : right + count(FRAME_S, rate)], rate)
    if len(seen) < 6 or not np.any(seen[-1] - seen[0]):
        return (left + right) // 2
    plain, level = seen[:, :BANDS], seen[:, BANDS:]
    at = _jump(seen) if way == "jump" else _half_way(plain + level if way == "level" else plain)
    return left + at * count(STEP_S, rate) + count(FRAME_S / 2, rate)


def _jump(seen: NDArray[np.float64]) -> int:
    weights = np.append(np.ones(BANDS), np.sqrt(BANDS))
    return int(np.argmax(np.linalg.norm((seen[4:] - seen[:-4]) * weights, axis=1))) + 2


def _half_way(seen: NDArray[np.float64]) -> int:
    way = seen[-1] - seen[0]
    gone = (seen - seen[0]) @ way
    return int(np.flatnonzero(gone < 0.5 * (way @ way))[-1])


def steadiest(samples: Samples, rate: int, length: int) -> int:
    """The start of the `length` samples in which spectrum and level move least."""
    if len(samples) <= length:
        return 0
    seen = bands(samples, rate)
    moved = np.abs(np.diff(seen, axis=0)).mean(axis=1) + 0.5 * np.abs(np.diff(seen[:, BANDS]))
    span = max(1, (length - count(FRAME_S, rate)) // count(STEP_S, rate))
    if len(moved) <= span:
        return (len(samples) - length) // 2
    total = np.convolve(moved, np.ones(span), "valid")
    return min(int(np.argmin(total)) * count(STEP_S, rate), len(samples) - length)
