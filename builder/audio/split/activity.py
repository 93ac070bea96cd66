"""Where in a long recording somebody makes a sound: stretches that stand out from a floor which
follows the room."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from builder.audio.dsp.measures import quick, weighted
from builder.audio.dsp.runs import length, runs
from builder.audio.speech import Samples, count

PIECE = 0.010  # seconds
BLOCK = 30.0  # seconds weighted at once: a long recording would fill the memory
SMOOTH = 3  # pieces over which levels are averaged
WINDOW, HOP = 6.0, 0.5  # seconds in which the floor is looked for, and how often
SILENT = -190.0  # dB
SOFTEST = 10  # percentile of the levels in a window: nobody speaks all the time
DEEP = 50.0  # dB below the loudest speech; what is softer is floor, even where it is digital zero
LOUDEST = 99  # percentile of the levels: the loudest speech, whatever a bang may reach
HIGH = 3000.0  # Hz; above it a soft /s/ stands out from the hum and rumble of a room
RISE = 6.0  # dB above the floor: somebody makes a sound
WEAK = 3.0  # dB above the floor: a weak sound that leads in or dies away
LEADS, TRAILS = 0.08, 0.12  # seconds that such a sound may last
APART = 0.12  # seconds of quiet that the closure of a stop seldom lasts
SHORT = 0.070  # seconds, SMOOTH counted in; what lasts less is a click, or
RELEASE = 0.22  # seconds after a stretch at most: the release of a last stop
Stretch = tuple[int, int]


def stretches(samples: Samples, rate: int) -> tuple[Stretch, ...]:
    """[first, past) sample of everything that sounds, in order; clicks are left out.

    Stretches are parted by APART or more of quiet. A recording without any gives ().
    """
    heard = _smooth(levels(samples, rate))
    if not len(heard) or heard.max() < SILENT:
        return ()
    high = _smooth(levels(samples, rate, HIGH))
    deepest = float(np.percentile(heard, LOUDEST)) - DEEP
    over = np.maximum(heard - floor(heard, deepest), high - floor(high, deepest))
    loud = [run for run in _joined(runs(over > RISE)) if (run[1] - run[0]) * PIECE >= SHORT]
    found = [_with_edges(over, run) for run in loud]
    size = count(PIECE, rate)
    return tuple((first * size, min(past * size, len(samples))) for first, past in _apart(found))


def levels(samples: Samples, rate: int, above: float = 0.0) -> NDArray[np.float64]:
    """dB of every piece, K-weighted (builder.audio.measure), of what lies above a frequency in
    Hz; silence is -200."""
    size = count(PIECE, rate)
    block = size * round(BLOCK / PIECE)
    parts = [samples[at : at + block] for at in range(0, len(samples), block)]
    return np.concatenate([_levels(part, rate, size, above) for part in parts] or [np.zeros(0)])


def _levels(samples: Samples, rate: int, size: int, above: float) -> NDArray[np.float64]:
    heard = _above(weighted(samples - samples.mean(), rate), rate, above)
    pieces = np.pad(heard, (0, -len(heard) % size)).reshape(-1, size)
    return np.asarray(10 * np.log10((pieces**2).mean(axis=1) + 1e-20))


def _above(samples: Samples, rate: int, hertz: float) -> Samples:
    if not hertz:
        return samples
    size = quick(len(samples))
    spectrum = np.fft.rfft(samples, size)
    spectrum[: round(hertz / rate * size)] = 0
    return np.asarray(np.fft.irfft(spectrum, size)[: len(samples)])


def _smooth(heard: NDArray[np.float64]) -> NDArray[np.float64]:
    """The mean power of neighbouring pieces, in dB."""
    if len(heard) < SMOOTH:
        return heard
    padded = np.pad(10 ** (heard / 10), SMOOTH // 2, mode="edge")
    return np.asarray(10 * np.log10(np.convolve(padded, np.ones(SMOOTH) / SMOOTH, "valid")))


def floor(heard: NDArray[np.float64], deepest: float = SILENT) -> NDArray[np.float64]:
    """The level of the room beside every piece, never below `deepest`: the soft pieces around."""
    half, hop = round(WINDOW / PIECE / 2), round(HOP / PIECE)
    middles = np.arange(0, len(heard), hop)
    found = [np.percentile(heard[max(0, m - half) : m + half], SOFTEST) for m in middles]
    return np.maximum(np.interp(np.arange(len(heard)), middles, found), deepest)


def _joined(parted: list[tuple[int, int]]) -> list[tuple[int, int]]:
    """Runs with less than APART between them as one; a short one may follow later."""
    found: list[tuple[int, int]] = []
    for first, past in parted:
        quiet = RELEASE if (past - first) * PIECE < SHORT else APART
        if found and (first - found[-1][1]) * PIECE < quiet:
            found[-1] = (found[-1][0], past)
        else:
            found.append((first, past))
    return found


def _with_edges(over: NDArray[np.float64], run: tuple[int, int]) -> tuple[int, int]:
    """A run with the weak sound before and after it."""
    first, past = run
    lead, trail = round(LEADS / PIECE), round(TRAILS / PIECE)
    first -= length(over[max(0, first - lead) : first][::-1] > WEAK)
    return first, past + length(over[past : past + trail] > WEAK)


def _apart(found: list[tuple[int, int]]) -> list[tuple[int, int]]:
    """Runs that do not overlap: where their weak edges meet, the middle parts them."""
    for at in range(1, len(found)):
        left, right = found[at - 1], found[at]
        if right[0] < left[1]:
            middle = (right[0] + left[1]) // 2
            found[at - 1], found[at] = (left[0], middle), (middle, right[1])
    return found
