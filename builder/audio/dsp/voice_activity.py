"""Where somebody makes a sound, in pieces of 10 ms.

Two questions, two functions. `detect_voice`: of one item, where it begins and ends and how loud
the room is; the noise is one level, told from the soft pieces. `sound_segments`: of a recording of
many items, everything that stands out from a floor which follows the room. Both weigh levels
by K (builder.audio.dsp.measures), join what a short quiet parts and add weak edges.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from builder.audio.dsp.measures import (
    SHORT_BLOCK_S,
    fft_size,
    integrated_loudness,
    k_weighted,
    short_loudness,
)
from builder.audio.dsp.runs import Mask, leading_length, runs
from builder.audio.speech import Samples, count

PIECE_S = 0.010
SMOOTHING_PIECES = 3
WEAK_DB = 3.0  # above the noise: a weak sound that leads in or dies away
BELOW_PEAK_DB = 50.0  # below the loudest; what is softer does not count, be it digital zero

# One item.
ENDS_S = 0.090  # at both ends of the recording, where nobody speaks if it holds any silence
END_PART_S = 0.040  # of it
NOISE_SPREAD_DB = 8.0  # above the softest part: still nobody speaking
STEADY_S = 0.1  # so long together; what fades away passes sooner
NOISE_ONLY_SHARE = 0.85  # of a recording of noise alone
# Where the file fades in or out some of the noise lies lower; what is longer is the true noise.
FADE_DB, FADE_S = 20.0, 0.020
SPEECH_RANGE_DB = 60.0  # below the speech; softer pieces are all alike
NOISE_MIN_S = 0.200  # that nobody speaks, without which the noise is not known
CLEAN_SNR_DB = 42.0  # below the speech: softer noise is no matter
CLEAR_SNR_DB = 15.0  # below the speech
CODER_PADDING_S = 0.06  # of zeros that coders put at the ends
SPEECH_DB = 10.0  # above the noise: somebody speaks
LEAD_MAX_S, TRAIL_MAX_S = 0.15, 0.30  # that a weak sound may last
PAUSE_MIN_S = 0.25  # of quiet that no closure of a stop lasts
CLICK_MAX_S = 0.060  # what sounds for less, apart from all else, is a key or a switch
POWER_FLOOR = 1e-15  # keeps silence finite
LUFS_OFFSET_DB = -0.691  # of BS.1770

# A recording of many items.
BLOCK_S = 30.0  # weighted at once: a long recording would fill the memory
FLOOR_WINDOW_S, FLOOR_HOP_S = 6.0, 0.5  # in which the floor is looked for, and how often
FLOOR_PERCENTILE = 10  # of the levels in a window: nobody speaks all the time
PEAK_PERCENTILE = 99  # of the levels: the loudest speech, whatever a bang may reach
SILENT_DB = -190.0
FRICTION_HZ = 3000.0  # above it a soft /s/ stands out from the hum and rumble of a room
SOUND_DB = 6.0  # above the floor: somebody makes a sound
SEGMENT_LEAD_MAX_S, SEGMENT_TRAIL_MAX_S = 0.08, 0.12  # that a weak sound may last
SEGMENT_GAP_MIN_S = 0.12  # of quiet that the closure of a stop seldom lasts
SEGMENT_MIN_S = 0.070  # with the smoothing; what lasts less is a click, or
RELEASE_GAP_MAX_S = 0.22  # after a segment at most: the release of a last stop

Segment = tuple[int, int]
"""[first, past): samples, or pieces."""


@dataclass(frozen=True, kw_only=True)
class VoiceActivity:
    """levels: of every piece, from sample `first`; zeros at both ends of a recording tell nothing
    of its noise and are left out (`past`: where they begin again).

    loudness: LUFS, gated RMS under 400 ms; -inf for silence.
    noise:    its level; None when there is no silent part.
    quiet:    the pieces that hold nothing but noise.
    weighted: the samples from `first` to `past`, K-weighted.
    spoken:   [first, past) piece in which somebody speaks.
    """

    first: int
    past: int
    levels: Samples
    loudness: float
    noise: float | None
    quiet: Mask
    spoken: tuple[int, int]
    weighted: Samples

    def span(self, rate: int, margin: float = 0.0) -> tuple[int, int]:
        """[first, past) sample that sounds, with `margin` seconds around where there are any."""
        size, more = count(PIECE_S, rate), count(margin, rate)
        start, stop = (self.first + at * size for at in self.spoken)
        return max(self.first, start - more), min(self.past, stop + more)


def detect_voice(samples: Samples, rate: int) -> VoiceActivity:
    """Look through a recording; its offset does not count."""
    first, past = _stripped(samples)
    inner = samples[first:past]
    weighted = k_weighted(inner - inner.mean(), rate) if len(inner) else inner
    levels = _levels(weighted, rate)
    loudness = _loudness(weighted, rate)
    zeros = min(first, len(samples) - past) > count(CODER_PADDING_S, rate)
    noise, quiet = _noise(levels, loudness, zeros=zeros)
    clear = noise is not None and noise < loudness - CLEAR_SNR_DB
    spoken = _speech_span(levels, noise if clear else None)
    return VoiceActivity(
        first=first,
        past=past,
        levels=levels,
        loudness=loudness,
        noise=noise,
        quiet=quiet,
        spoken=spoken,
        weighted=weighted,
    )


def _stripped(samples: Samples) -> tuple[int, int]:
    weighted = np.flatnonzero(samples)
    return (int(weighted[0]), int(weighted[-1]) + 1) if len(weighted) else (0, 0)


def _loudness(weighted: Samples, rate: int) -> float:
    found = integrated_loudness(weighted, rate)
    return (
        found
        if np.isfinite(found)
        else short_loudness(np.pad(weighted, count(SHORT_BLOCK_S, rate)), rate)
    )


def _levels(weighted: Samples, rate: int) -> Samples:
    return np.asarray(LUFS_OFFSET_DB + 10 * np.log10(_piece_power(weighted, rate) + POWER_FLOOR))


def _piece_power(samples: Samples, rate: int) -> Samples:
    size = count(PIECE_S, rate)
    pieces = np.pad(samples, (0, -len(samples) % size)).reshape(-1, size)
    return np.asarray((pieces**2).mean(axis=1))


def _noise(levels: Samples, loudness: float, *, zeros: bool) -> tuple[float | None, Mask]:
    """The noise is steady and sounds before and after the word; speech that dies away is not. Where
    too few pieces are about as soft as the softest part, or an end is louder, there is no telling,
    unless that part is so soft that the noise must be, too.

    zeros: a gate or a hand made the silent parts zero; what is left is speech, or very noisy.
    """
    nothing = None, np.zeros(len(levels), bool)
    if len(levels) * PIECE_S < 2 * ENDS_S:
        return nothing
    soft = np.sort(np.maximum(levels, loudness - SPEECH_RANGE_DB))
    alike = np.searchsorted(soft, soft + NOISE_SPREAD_DB) - np.arange(len(soft))
    steady = np.flatnonzero(alike * PIECE_S >= STEADY_S)
    lowest = float(soft[round(FADE_S / PIECE_S)])
    softest = float(soft[steady[0]]) if len(steady) else lowest
    quiet = levels < softest + NOISE_SPREAD_DB
    long = quiet.sum() * PIECE_S >= NOISE_MIN_S and len(steady) > 0
    known = long and all(abs(end - softest) < NOISE_SPREAD_DB for end in _end_levels(levels))
    known = known and lowest > softest - FADE_DB
    if softest > loudness - CLEAR_SNR_DB:
        known = known and not zeros and quiet.mean() > NOISE_ONLY_SHARE
    if not known and softest > loudness - CLEAN_SNR_DB:
        return nothing
    return 10 * float(np.log10((10 ** (levels[quiet] / 10)).mean())), quiet


def _end_levels(levels: Samples) -> tuple[float, float]:
    """Of both ends, each where it is loudest: a file may fade in and out."""
    end, piece = round(ENDS_S / PIECE_S), round(END_PART_S / PIECE_S)
    power = 10 ** (levels / 10)
    parts = (
        np.convolve(part, np.ones(piece) / piece, "valid") for part in (power[:end], power[-end:])
    )
    first, last = (10 * float(np.log10(part.max())) for part in parts)
    return first, last


def _speech_span(levels: Samples, noise: float | None) -> Segment:
    floor = -np.inf if noise is None else noise
    deepest = levels.max(initial=-np.inf) - BELOW_PEAK_DB
    loud = runs(levels > max(floor + SPEECH_DB, deepest))
    found = _without_clicks(_joined(loud, lambda first, past: PAUSE_MIN_S), levels)
    if not found:
        return 0, 0
    smooth = np.convolve(levels, np.ones(SMOOTHING_PIECES) / SMOOTHING_PIECES, "same")
    weak = smooth > max(floor + WEAK_DB, deepest)
    return _with_edges(weak, (found[0][0], found[-1][1]), LEAD_MAX_S, TRAIL_MAX_S)


def _without_clicks(parts: list[Segment], levels: Samples) -> list[Segment]:
    """Without what is short and far from all else; the part of the most energy always stays."""
    if not parts:
        return []
    power = 10 ** (levels / 10)
    most = max(parts, key=lambda part: power[slice(*part)].sum())
    return [p for p in parts if p is most or (p[1] - p[0]) * PIECE_S >= CLICK_MAX_S]


def _joined(parts: list[Segment], gap_s: Callable[[int, int], float]) -> list[Segment]:
    """Runs of pieces, one with the run before it where less than `gap_s` of it (first and past
    piece) lies between."""
    found: list[Segment] = []
    for first, past in parts:
        if found and (first - found[-1][1]) * PIECE_S < gap_s(first, past):
            found[-1] = (found[-1][0], past)
        else:
            found.append((first, past))
    return found


def _with_edges(weak: Mask, part: Segment, lead_s: float, trail_s: float) -> Segment:
    """A run of pieces with the weak sound before and after it."""
    first, past = part
    lead, trail = round(lead_s / PIECE_S), round(trail_s / PIECE_S)
    first -= leading_length(weak[max(0, first - lead) : first][::-1])
    return first, past + leading_length(weak[past : past + trail])


def sound_segments(samples: Samples, rate: int) -> tuple[Segment, ...]:
    """[first, past) sample of everything that sounds in a long recording, in order; clicks are
    left out.

    Segments are parted by SEGMENT_GAP_MIN_S or more of quiet. A recording without any gives ().
    """
    levels = _smoothed(piece_levels(samples, rate))
    if not len(levels) or levels.max() < SILENT_DB:
        return ()
    bright = _smoothed(piece_levels(samples, rate, FRICTION_HZ))
    over = np.maximum(above_floor(levels), above_floor(bright, levels))
    parts = _joined(runs(over > SOUND_DB), _segment_gap_s)
    loud = [part for part in parts if (part[1] - part[0]) * PIECE_S >= SEGMENT_MIN_S]
    edges = SEGMENT_LEAD_MAX_S, SEGMENT_TRAIL_MAX_S
    found = _apart([_with_edges(over > WEAK_DB, part, *edges) for part in loud])
    size = count(PIECE_S, rate)
    return tuple((first * size, min(past * size, len(samples))) for first, past in found)


def _segment_gap_s(first: int, past: int) -> float:
    """A short run may follow later: it may be a release."""
    short = (past - first) * PIECE_S < SEGMENT_MIN_S
    return RELEASE_GAP_MAX_S if short else SEGMENT_GAP_MIN_S


def piece_levels(samples: Samples, rate: int, above_hz: float = 0.0) -> Samples:
    """dB of every piece, K-weighted, of what lies above a frequency in Hz; silence is -200."""
    block = count(PIECE_S, rate) * round(BLOCK_S / PIECE_S)
    parts = [samples[at : at + block] for at in range(0, len(samples), block)]
    return np.concatenate([_block_levels(part, rate, above_hz) for part in parts] or [np.zeros(0)])


def _block_levels(samples: Samples, rate: int, above_hz: float) -> Samples:
    weighted = _high_passed(k_weighted(samples - samples.mean(), rate), rate, above_hz)
    return np.asarray(10 * np.log10(_piece_power(weighted, rate) + 1e-20))


def _high_passed(samples: Samples, rate: int, hertz: float) -> Samples:
    if not hertz:
        return samples
    size = fft_size(len(samples))
    spectrum = np.fft.rfft(samples, size)
    spectrum[: round(hertz / rate * size)] = 0
    return np.asarray(np.fft.irfft(spectrum, size)[: len(samples)])


def _smoothed(levels: Samples) -> Samples:
    """The mean power of neighboring pieces, in dB."""
    if len(levels) < SMOOTHING_PIECES:
        return levels
    padded = np.pad(10 ** (levels / 10), SMOOTHING_PIECES // 2, mode="edge")
    mean = np.convolve(padded, np.ones(SMOOTHING_PIECES) / SMOOTHING_PIECES, "valid")
    return np.asarray(10 * np.log10(mean))


def above_floor(levels: Samples, speech: Samples | None = None) -> Samples:
    """How many dB each piece of a long recording lies above the level of the room beside it.

    The floor is that of the soft pieces around, never more than BELOW_PEAK_DB below the loudest
    of `speech` (without it, of `levels`).
    """
    loudest = float(np.percentile(levels if speech is None else speech, PEAK_PERCENTILE))
    half, hop = round(FLOOR_WINDOW_S / PIECE_S / 2), round(FLOOR_HOP_S / PIECE_S)
    middles = np.arange(0, len(levels), hop)
    around = [levels[max(0, middle - half) : middle + half] for middle in middles]
    soft = [np.percentile(part, FLOOR_PERCENTILE) for part in around]
    floor = np.interp(np.arange(len(levels)), middles, soft)
    return np.asarray(levels - np.maximum(floor, loudest - BELOW_PEAK_DB))


def _apart(parts: list[Segment]) -> list[Segment]:
    """Runs that do not overlap: where their weak edges meet, the middle parts them."""
    found = list(parts)
    for at in range(1, len(found)):
        left, right = found[at - 1], found[at]
        if right[0] < left[1]:
            middle = (right[0] + left[1]) // 2
            found[at - 1], found[at] = (left[0], middle), (middle, right[1])
    return found
