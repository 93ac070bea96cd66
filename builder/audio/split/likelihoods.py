"""A long recording as the acoustic model hears it: how likely each state of each phone is in each
frame, less that of the frame's likeliest one."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from builder.audio.align import acoustic_model, mfcc
from builder.audio.align.acoustic_model import FILLERS, SILENCE, STATES, Table
from builder.audio.speech import Samples, count
from builder.audio.split.activity import DEEP, LOUDEST, PIECE, floor, levels

FRAME = mfcc.HOP / mfcc.RATE  # seconds
BLOCK = 60.0  # seconds heard at once: a long recording would fill the memory
SOME = 500  # frames looked up at once, for the same reason
LEVEL, HISS = 0.4, 3e-4  # of full scale: the peak; and what is added, the model knows no zeros
ENOUGH = 50  # frames of speech that tell how microphone and voice colour it
WORST = -20.0  # nepers; one frame never says more against a phone
LOUD, UNLIKELY = 6.0, 6.0  # dB above the floor: no silence; nepers against it for every 10 dB more


def heard(samples: Samples, rate: int, stretches: tuple[tuple[int, int], ...]) -> Table:
    """Shape (frames, phones * STATES): nepers, 0 or less. Frames beside `stretches` (samples, with
    what should be heard around them) hold nothing but WORST.

    Frame k lies at k * FRAME seconds.
    """
    frames = int(len(samples) / rate / FRAME) + 1
    table = np.full((frames, len(acoustic_model.load().phones) * STATES), WORST, np.float32)
    spoken = np.zeros(frames, bool)
    for start, stop in stretches:
        spoken[int(start / rate / FRAME) : int(stop / rate / FRAME) + 1] = True
    peak = max(float(np.abs(samples).max(initial=0.0)), 1e-9)
    block = round(BLOCK / FRAME)
    for first in range(0, frames, block):
        wanted = np.flatnonzero(spoken[first : first + block])
        if len(wanted):
            part = samples[count(first * FRAME, rate) : count((first + block) * FRAME, rate)]
            table[first + wanted] = _rows(_features(part / peak, rate, wanted))
    _weighed(table, samples, rate)
    return table


def _weighed(table: Table, samples: Samples, rate: int) -> None:
    """Make silence unlikely where it is loud: else a cough would pass for it."""
    level = levels(samples, rate)
    deepest = float(np.percentile(level, LOUDEST)) - DEEP
    over = np.clip((level - floor(level, deepest) - LOUD) / 10, 0, 3) * UNLIKELY
    # A piece is a whole number of samples, which at some rates is not a frame.
    pieces = (np.arange(len(table)) * FRAME * rate / count(PIECE, rate)).astype(np.intp)
    at = acoustic_model.load().phones.index(SILENCE) * STATES
    against = over[np.minimum(pieces, len(over) - 1)]
    table[:, at : at + STATES] -= against[:, None].astype(np.float32)


def _features(part: Samples, rate: int, wanted: NDArray[np.intp]) -> Table:
    """Of the wanted frames, with the mean of these taken off where there are enough of them."""
    import soxr

    low = np.asarray(soxr.resample(part, rate, mfcc.RATE), np.float64) * LEVEL
    half = (mfcc.WINDOW - mfcc.HOP) // 2
    low = np.pad(low, (half, mfcc.WINDOW + 2 * mfcc.HOP))
    low += HISS * np.random.default_rng(0).standard_normal(len(low))
    features = mfcc.frames(low)[0][wanted]
    if len(features) >= ENOUGH:
        features[:, : mfcc.CEPSTRA] -= features[:, : mfcc.CEPSTRA].mean(axis=0)
    return features


def _rows(features: Table) -> Table:
    parts = [
        acoustic_model.likelihoods(features[at : at + SOME]) for at in range(0, len(features), SOME)
    ]
    likely = np.concatenate(parts)
    names = acoustic_model.load().phones
    likely[:, [names.index(name) for name in FILLERS]] = -np.inf  # they fit anything
    rows = likely.reshape(len(likely), -1)
    return np.asarray(np.maximum(rows - rows.max(axis=1, keepdims=True), WORST), np.float32)
