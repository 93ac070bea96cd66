"""One loudness for all clips, gentle ends, a little silence around."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from builder.audio.measure import (
    BLOCK,
    Kind,
    integrated_loudness,
    midpoints,
    short_loudness,
    true_peak,
    weighted,
)
from builder.audio.speech import Samples, count

LOUDNESS = -18.0  # LUFS; speech on the internet, AES TD1008 (2021)
CEILING = -2.0  # dBTP before coding: MP3 adds up to 0.7 dB, and -1 is the bound (EBU R 128)
NEAR = 0.4  # LU from the wanted loudness that are near enough
# Of what is missing, try by try: the limiter takes a part of it away again.
PUSHES = (1.0, 1.6, 1.6, 1.6)
PIECE = 0.001  # seconds; peaks are looked for in pieces
SLOW = 12  # pieces before and after a peak over which the gain goes down and up again
LEAST = 0.02  # seconds; what sounds for less is a click
SILENCE = 0.060  # seconds before and after
FADE = 0.005  # seconds; within what sounds
QUIET = -50.0  # dB below the loudest 5 ms; what is quieter at the ends is cut off
ROOM = 6.0  # dB above a recording's own noise
MARGIN = 0.020  # seconds kept around what sounds, for a weak onset


@dataclass(frozen=True)
class Levelled:
    """A finished clip with its loudness (`kind`: by which measure) and true peak in dBTP.

    shift: by how many samples everything moved.
    """

    samples: Samples
    loudness: float
    peak: float
    kind: Kind
    shift: int


def finish(samples: Samples, rate: int, keep: tuple[int, int] | None = None) -> Levelled:
    """Trim (never into `keep`), fade, pad and level. ValueError when there is no sound at all."""
    first, past = _sounding(samples, rate)
    if past - first < count(LEAST, rate):
        raise ValueError("a clip with next to no sound")
    if keep:
        first, past = min(first, keep[0]), max(past, keep[1])
    pad = count(SILENCE, rate)
    padded = np.pad(_faded(samples[first:past], rate), pad)
    kind: Kind = "LUFS" if past - first >= count(BLOCK, rate) else "gated RMS"
    return Levelled(*_raised(padded, rate, kind), kind=kind, shift=pad - first)


def _raised(samples: Samples, rate: int, kind: Kind) -> tuple[Samples, float, float]:
    """The samples at the wanted loudness, that loudness, their true peak.

    Where peaks are in the way they are limited, slowly. What is too short for LUFS is not: a
    stop said alone is one spike of milliseconds, keeps its shape and stays softer than a word.
    """
    heard = weighted(samples, rate)
    measure = integrated_loudness if kind == "LUFS" else short_loudness
    found = measure(heard, rate)
    if not np.isfinite(found):
        raise ValueError("a clip with next to no sound")
    peak = true_peak(samples)
    gain = min(LOUDNESS - found, CEILING - peak)
    if kind == "gated RMS" or gain < CEILING - peak:
        return samples * 10 ** (gain / 20), found + gain, peak + gain
    slow, found = _gain(samples, heard, rate, found, CEILING - peak)
    over = max(0.0, true_peak(samples * slow) - CEILING)  # between samples it may miss a little
    return samples * slow * 10 ** (-over / 20), found - over, CEILING


def _gain(
    samples: Samples, heard: Samples, rate: int, found: float, room: float
) -> tuple[Samples, float]:
    """The gain of each sample that brings `samples` nearest to the wanted loudness, and what
    they reach by it.

    heard: they, K-weighted (the gain is slow beside those filters); found: their loudness; room:
    how far their greatest peak may be raised, in dB. Ever more gain until it is near enough.
    More is not always louder: a weak sound held long comes to count in the gated mean once the
    vowel beside it is less than 10 LU louder; so the nearest try is taken.
    """
    piece = count(PIECE, rate)
    size = np.maximum(np.abs(samples), np.abs(midpoints(samples)))
    peaks = np.pad(size, (0, -len(size) % piece)).reshape(-1, piece).max(axis=1)
    places = (np.arange(len(peaks)) + 0.5) * piece
    gain, tries = 0.0, []
    for push in PUSHES:
        gain += push * (LOUDNESS - found)
        curve = _limits(peaks, room - gain) * 10 ** (gain / 20)
        slow = np.interp(np.arange(len(samples)), places, curve)
        found = integrated_loudness(heard * slow, rate)
        tries.append((slow, found))
        if abs(found - LOUDNESS) < NEAR:
            break
    return min(tries, key=lambda each: abs(each[1] - LOUDNESS))


def _limits(peaks: Samples, decibels: float) -> Samples:
    """The gain of each piece that brings the greatest peak down by `-decibels`.

    What each piece needs, the least of that over the pieces near, and the mean of those by a
    Hann window: it changes more slowly than a voice's periods.
    """
    most = peaks.max() * 10 ** (decibels / 20)
    needed = np.minimum(1.0, most / np.maximum(peaks, 1e-9))
    wide = np.pad(needed, 2 * SLOW + 1, mode="edge")
    least = np.lib.stride_tricks.sliding_window_view(wide, 2 * SLOW + 3).min(axis=1)
    window = np.hanning(2 * SLOW + 3)[1:-1]
    return np.convolve(least, window / window.sum(), "valid")


def _sounding(samples: Samples, rate: int) -> tuple[int, int]:
    """The samples [first, past) that sound, with a small margin where there is noise around."""
    piece = count(FADE, rate)
    pieces = -(-len(samples) // piece)
    power = (np.pad(samples, (0, pieces * piece - len(samples))).reshape(-1, piece) ** 2).sum(1)
    if not np.any(power):
        raise ValueError("a clip without any sound")
    room = float(np.percentile(power, 5)) * 10 ** (ROOM / 10)
    loudest = float(power.max())
    loud = np.flatnonzero(power > max(loudest * 10 ** (QUIET / 10), min(room, loudest / 1000)))
    margin = count(MARGIN, rate) if room > 0 else 0
    return (
        max(0, int(loud[0]) * piece - margin),
        min(len(samples), (int(loud[-1]) + 1) * piece + margin),
    )


def _faded(samples: Samples, rate: int) -> Samples:
    lap = min(count(FADE, rate), len(samples) // 2)
    rise = 0.5 - 0.5 * np.cos(np.pi * (np.arange(lap) + 0.5) / lap)
    faded: Samples = samples - samples.mean()
    faded[:lap] *= rise
    faded[len(faded) - lap :] *= rise[::-1]
    return faded
