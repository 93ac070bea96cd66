"""Where a sound stands still, though its place is told a few hundredths of a second off.

What was told is cut at the greatest changes of its spectrum as long as two clearly different
sounds are left, and of the two the one that is meant is kept: friction, or what holds the middle.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from builder.audio.dsp.spectrum import BANDS, FRAME, STEP, bands, steadiest
from builder.audio.speech import Samples, count

EDGE = (0.020, 0.040)  # seconds of the target's onset and offset that stay; a seventh of it between
KEEP = 0.012  # seconds at either end that always stay, or a quarter
LEAST = 0.020  # seconds of steady middle, taken from the edges when the target is short
STEADY = 0.040  # seconds of a voiced sound that are drawn from: three periods of a low voice
NEAR = 0.010  # seconds between a change of spectrum and what is steady: half a frame
CUTS = 2  # a neighbour before and one after
PIECE = 4  # frames: the shortest piece looked at
SHARE = 0.45  # of what was told, that the sound has at least
APART = 0.9  # nepers: the mean difference of the bands of two sounds that are clearly different
FADED = 10.0  # dB below the louder quarter of a voiced sound: its voice has died away
QUIET = 5.0  # nepers of power (22 dB) below the loudest piece: silence, not friction

Table = NDArray[np.float64]


@dataclass(frozen=True)
class Core:
    """left, right: the part of the target that is drawn from; first, past: what of the target is
    heard as the sound. The rest stays as it is.
    """

    left: int
    right: int
    first: int
    past: int

    def level(self, samples: Samples) -> float:
        """Root mean square of the middle half of the sound."""
        quarter = (self.past - self.first) // 4
        return rms(samples[self.first + quarter : self.past - quarter])


def core(samples: Samples, rate: int, *, voiced: bool, noisy: bool) -> Core:
    """What stands still in the target.

    samples: the target as it was told. ValueError where too little of it is one sound.
    """
    begin, end = _sounding(samples, rate) if voiced else (0, len(samples))
    first, past, cut = _piece(samples[begin:end], rate, rough=not voiced)
    first, past = begin + first, begin + past
    if past - first < count(LEAST, rate) or not np.any(samples):
        raise ValueError("The sound is too short to be held: nothing in it is steady.")
    edge = int(np.clip((past - first) // 7, count(EDGE[0], rate), count(EDGE[1], rate)))
    edge = max(0, min(edge, (past - first - count(LEAST, rate)) // 2))
    left = first + (min(edge, count(NEAR, rate)) if cut[0] else edge)
    right = past - (min(edge, count(NEAR, rate)) if cut[1] else edge)
    keep = min(count(KEEP, rate), len(samples) // 4)
    left, right = max(left, keep), min(right, len(samples) - keep)
    if voiced and not noisy and right - left > count(STEADY, rate):
        left += steadiest(samples[left:right], rate, count(STEADY, rate))
        right = left + count(STEADY, rate)
    return Core(left, right, first, past) if noisy or not voiced else Core(left, right, begin, end)


def rms(samples: Samples) -> float:
    """Root mean square; never 0."""
    return float(np.sqrt((samples**2).mean() + 1e-18))


def _sounding(samples: Samples, rate: int) -> tuple[int, int]:
    """The samples without what dies away, or has not yet begun, at the ends."""
    size = count(FRAME / 2, rate)
    pieces = len(samples) // size
    power = (samples[: pieces * size].reshape(pieces, size) ** 2).mean(axis=1)
    if not pieces or not power.any():
        return 0, len(samples)
    loud = np.flatnonzero(power > np.percentile(power, 75) * 10 ** (-FADED / 10))
    return int(loud[0]) * size, len(samples) if loud[-1] == pieces - 1 else (
        int(loud[-1]) + 1
    ) * size


def _piece(samples: Samples, rate: int, *, rough: bool) -> tuple[int, int, tuple[bool, bool]]:
    """The samples that are one sound, and whether they were cut at either end."""
    seen = bands(samples, rate) if len(samples) >= count(FRAME, rate) else np.zeros((0, BANDS + 1))
    first, past, middle = 0, len(seen), len(seen) / 2
    for _ in range(CUTS):
        at, apart = _change(seen[first:past])
        if apart < APART:
            break
        at += first
        keep = _rougher(seen, first, at, past) if rough else at < middle
        ends = (at, past) if keep else (first, at)
        if ends[1] - ends[0] < SHARE * len(seen):
            break
        first, past = ends
    cut = first > 0, past < len(seen)
    half, step = count(FRAME / 2, rate), count(STEP, rate)
    return first * step + half * cut[0], past * step + half if cut[1] else len(samples), cut


def _change(seen: Table) -> tuple[int, float]:
    """Where frames are best parted in two by their means, and how far those are apart (nepers)."""
    size = len(seen)
    if size < 2 * PIECE:
        return 0, 0.0
    sums = np.cumsum(seen, axis=0)
    at = np.arange(PIECE, size - PIECE + 1)
    before, after = sums[at - 1] / at[:, None], (sums[-1] - sums[at - 1]) / (size - at)[:, None]
    weight = at * (size - at)
    best = int((weight * ((before - after) ** 2).sum(axis=1)).argmax())
    return int(at[best]), float(np.abs(before - after)[best].mean())


def _rougher(seen: Table, first: int, at: int, past: int) -> bool:
    """Whether the friction is in the frames after `at`: where the upper bands stand out, and
    something sounds."""
    before, after = seen[first:at].mean(axis=0), seen[at:past].mean(axis=0)
    if abs(after[BANDS] - before[BANDS]) > QUIET:
        return bool(after[BANDS] > before[BANDS])
    return bool(_slant(after) > _slant(before))


def _slant(means: Samples) -> float:
    return float(means[BANDS // 2 : BANDS].mean() - means[: BANDS // 4].mean())
