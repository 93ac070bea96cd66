"""Where a sound is steady, though its place is known only to a few hundredths of a second.

What was told is cut at the greatest changes of its spectrum as long as two clearly different
sounds are left, and of the two the one that is meant is kept: friction, or what holds the middle.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from builder.audio.dsp.spectrum import BANDS, FRAME_S, STEP_S, bands, steadiest
from builder.audio.speech import Samples, count

# Seconds of the target's onset and offset that stay; a seventh of it between.
EDGE_S = (0.020, 0.040)
KEEP_S = 0.012  # at either end that always stay, or a quarter
STEADY_MIN_S = 0.020  # seconds of steady middle, taken from the edges when the target is short
# Seconds of a voiced sound that are drawn from: three periods of a low voice.
VOICED_STEADY_S = 0.040
CHANGE_MARGIN_S = 0.010  # between a change of spectrum and what is steady: half a frame
NEIGHBOURS_MAX = 2  # a neighbor before and one after
PART_MIN_FRAMES = 4  # frames: the shortest piece looked at
SOUND_MIN_SHARE = 0.45  # of what was told, that the sound has at least
# Nepers: the mean difference of the bands of two sounds that are clearly different.
DIFFERENT_NEPERS = 0.9
FADED_DB = 10.0  # dB below the louder quarter of a voiced sound: its voice has died away
SILENT_NEPERS = 5.0  # nepers of power (22 dB) below the loudest piece: silence, not friction

Spectra = NDArray[np.float64]


@dataclass(frozen=True)
class SteadyState:
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


def steady_state(samples: Samples, rate: int, *, voiced: bool, noisy: bool) -> SteadyState:
    """What is steady in the target.

    samples: the target as it was told. ValueError where too little of it is one sound.
    """
    begin, end = _sounding(samples, rate) if voiced else (0, len(samples))
    first, past, cut = _one_sound(samples[begin:end], rate, noisy=not voiced)
    first, past = begin + first, begin + past
    if past - first < count(STEADY_MIN_S, rate) or not np.any(samples):
        raise ValueError("The sound is too short to be held: nothing in it is steady.")
    edge = int(np.clip((past - first) // 7, count(EDGE_S[0], rate), count(EDGE_S[1], rate)))
    edge = max(0, min(edge, (past - first - count(STEADY_MIN_S, rate)) // 2))
    left = first + (min(edge, count(CHANGE_MARGIN_S, rate)) if cut[0] else edge)
    right = past - (min(edge, count(CHANGE_MARGIN_S, rate)) if cut[1] else edge)
    keep = min(count(KEEP_S, rate), len(samples) // 4)
    left, right = max(left, keep), min(right, len(samples) - keep)
    if voiced and not noisy and right - left > count(VOICED_STEADY_S, rate):
        left += steadiest(samples[left:right], rate, count(VOICED_STEADY_S, rate))
        right = left + count(VOICED_STEADY_S, rate)
    return (
        SteadyState(left, right, first, past)
        if noisy or not voiced
        else SteadyState(left, right, begin, end)
    )


def rms(samples: Samples) -> float:
    """Root mean square; never 0."""
    return float(np.sqrt((samples**2).mean() + 1e-18))


def _sounding(samples: Samples, rate: int) -> tuple[int, int]:
    """The samples without what dies away, or has not yet begun, at the ends."""
    size = count(FRAME_S / 2, rate)
    pieces = len(samples) // size
    power = (samples[: pieces * size].reshape(pieces, size) ** 2).mean(axis=1)
    if not pieces or not power.any():
        return 0, len(samples)
    loud = np.flatnonzero(power > np.percentile(power, 75) * 10 ** (-FADED_DB / 10))
    return int(loud[0]) * size, len(samples) if loud[-1] == pieces - 1 else (
        int(loud[-1]) + 1
    ) * size


def _one_sound(samples: Samples, rate: int, *, noisy: bool) -> tuple[int, int, tuple[bool, bool]]:
    """The samples that are one sound, and whether they were cut at either end."""
    frames = (
        bands(samples, rate) if len(samples) >= count(FRAME_S, rate) else np.zeros((0, BANDS + 1))
    )
    first, past, middle = 0, len(frames), len(frames) / 2
    for _ in range(NEIGHBOURS_MAX):
        at, difference = _change(frames[first:past])
        if difference < DIFFERENT_NEPERS:
            break
        at += first
        keep = _noisier(frames, first, at, past) if noisy else at < middle
        ends = (at, past) if keep else (first, at)
        if ends[1] - ends[0] < SOUND_MIN_SHARE * len(frames):
            break
        first, past = ends
    cut = first > 0, past < len(frames)
    half, step = count(FRAME_S / 2, rate), count(STEP_S, rate)
    return first * step + half * cut[0], past * step + half if cut[1] else len(samples), cut


def _change(frames: Spectra) -> tuple[int, float]:
    """Where frames are best parted in two by their means, and how far those are apart (nepers)."""
    size = len(frames)
    if size < 2 * PART_MIN_FRAMES:
        return 0, 0.0
    sums = np.cumsum(frames, axis=0)
    at = np.arange(PART_MIN_FRAMES, size - PART_MIN_FRAMES + 1)
    before, after = sums[at - 1] / at[:, None], (sums[-1] - sums[at - 1]) / (size - at)[:, None]
    weight = at * (size - at)
    best = int((weight * ((before - after) ** 2).sum(axis=1)).argmax())
    return int(at[best]), float(np.abs(before - after)[best].mean())


def _noisier(frames: Spectra, first: int, at: int, past: int) -> bool:
    """Whether the friction is in the frames after `at`: where the upper bands stand out, and
    something sounds."""
    before, after = frames[first:at].mean(axis=0), frames[at:past].mean(axis=0)
    if abs(after[BANDS] - before[BANDS]) > SILENT_NEPERS:
        return bool(after[BANDS] > before[BANDS])
    return bool(_tilt(after) > _tilt(before))


def _tilt(means: Samples) -> float:
    return float(means[BANDS // 2 : BANDS].mean() - means[: BANDS // 4].mean())
