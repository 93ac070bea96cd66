"""A long recording to the acoustic model: how likely each state of each phone is in each
frame, less that of the frame's likeliest one."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from builder.audio.align import acoustic_model, mfcc
from builder.audio.align.acoustic_model import FILLERS, SILENCE, STATES, Table
from builder.audio.dsp.voice_activity import PIECE_S, above_floor, piece_levels
from builder.audio.speech import Samples, count

FRAME_S = mfcc.HOP_SAMPLES / mfcc.RATE_HZ
BLOCK_S = 60.0  # heard at once: a long recording would fill the memory
MEAN_MIN_FRAMES = 50  # of speech that tell how microphone and voice color it
WORST_NEPERS = -20.0  # one frame never says more against a phone
LOUD_DB = 6.0  # above the floor: no silence
PENALTY_NEPERS = 6.0  # against silence, for every 10 dB more


def session_likelihoods(
    samples: Samples, rate: int, segments: tuple[tuple[int, int], ...], warp: float = 1.0
) -> Table:
    """Shape (frames, phones * STATES): nepers, 0 or less. Frames beside `segments` (samples, with
    their context) hold nothing but WORST_NEPERS.

    Frame k lies at k * FRAME_S seconds. warp: of the speaker (mfcc.warped).
    """
    frames = int(len(samples) / rate / FRAME_S) + 1
    table = np.full((frames, len(acoustic_model.load().phones) * STATES), WORST_NEPERS, np.float32)
    spoken = np.zeros(frames, bool)
    for start, stop in segments:
        spoken[int(start / rate / FRAME_S) : int(stop / rate / FRAME_S) + 1] = True
    peak = max(float(np.abs(samples).max(initial=0.0)), 1e-9)
    block = round(BLOCK_S / FRAME_S)
    for first in range(0, frames, block):
        wanted = np.flatnonzero(spoken[first : first + block])
        if len(wanted):
            part = samples[count(first * FRAME_S, rate) : count((first + block) * FRAME_S, rate)]
            table[first + wanted] = likelihood_rows(_features(part / peak, rate, wanted, warp))
    _penalize_silence(table, samples, rate)
    return table


def _penalize_silence(table: Table, samples: Samples, rate: int) -> None:
    """Make silence unlikely where it is loud: else a cough would pass for it."""
    over = above_floor(piece_levels(samples, rate)) - LOUD_DB
    penalty = np.clip(over / 10, 0, 3) * PENALTY_NEPERS
    # A piece is a whole number of samples, which at some rates is not a frame.
    pieces = (np.arange(len(table)) * FRAME_S * rate / count(PIECE_S, rate)).astype(np.intp)
    at = acoustic_model.load().phones.index(SILENCE) * STATES
    against = penalty[np.minimum(pieces, len(penalty) - 1)]
    table[:, at : at + STATES] -= against[:, None].astype(np.float32)


def _features(part: Samples, rate: int, wanted: NDArray[np.intp], warp: float) -> Table:
    """Of the wanted frames, with the mean of these taken off where there are enough of them."""
    import soxr

    low = np.asarray(soxr.resample(part, rate, mfcc.RATE_HZ), np.float64) * mfcc.PEAK
    half = (mfcc.WINDOW_SAMPLES - mfcc.HOP_SAMPLES) // 2
    low = mfcc.dithered(np.pad(low, (half, mfcc.WINDOW_SAMPLES + 2 * mfcc.HOP_SAMPLES)))
    features = mfcc.mfcc_features(low, warp)[0][wanted]
    if len(features) >= MEAN_MIN_FRAMES:
        features[:, : mfcc.CEPSTRA] -= features[:, : mfcc.CEPSTRA].mean(axis=0)
    return features


def likelihood_rows(features: Table) -> Table:
    """Of features (frames, 39): nepers as in `session_likelihoods`."""
    likely = acoustic_model.likelihoods(features)
    names = acoustic_model.load().phones
    likely[:, [names.index(name) for name in FILLERS]] = -np.inf  # they fit anything
    rows = likely.reshape(len(likely), -1)
    return np.asarray(np.maximum(rows - rows.max(axis=1, keepdims=True), WORST_NEPERS), np.float32)
