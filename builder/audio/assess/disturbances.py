"""What rooms, cables and computers do to a recording: an echo, crackle, gaps, overdrive, an end
that breaks off. What parts two figures here was measured: python -m tests.benchmarks.spoiled.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from builder.audio.dsp.measures import fft_size
from builder.audio.dsp.runs import Mask, runs
from builder.audio.speech import Samples, count

CLICK_HZ = 5000.0  # above it a voice has little, and a click as much as below
CLICK_PIECE_S = 0.000125
CLICK_AROUND_S = 0.004  # on each side with which a piece is compared
CLICK_RATIO = 14.0  # times the median of the pieces around
# So far beside a click it is over; the pulse of a creaky voice rings on.
CLICK_OVER_S, CLICK_OVER_SHARE = 0.0006, 0.25
CLICK_APART_S = 0.002  # what lies nearer to another is the same click

GAP_S = (0.0015, 0.080)  # seconds in which the samples stand still
STILL_STEP = 0.5 / 32768  # of full scale: less than a step of 16 bits
# What sounds right before and after: of the peak, and of full scale (no wave of 60 Hz and more that
# is so high stands still at its crest for so long).
BESIDE_S, BESIDE_SHARE, BESIDE_LEAST = 0.003, 0.01, 60 / 32768

TOP_SHARE = 0.7  # of the peak

BANDS_HZ = ((250.0, 500.0), (500.0, 1000.0), (1000.0, 2000.0), (2000.0, 4000.0))  # octaves
FALL_S, FRAME_S, STEP_S = 0.150, 0.020, 0.010
FROM_PEAK_DB = 15.0  # a fall begins at most so far below the loudest of its band
FLOOR_PERCENTILE, ABOVE_FLOOR_DB = 10, 40.0  # a fall that the room's noise cannot hide

END_PIECE_S, END_PIECES = 0.005, 3  # a word breaks off within so many pieces
SPEECH_RANGE_DB, END_ABOVE_FLOOR_DB = 30.0, 15.0
POWER_FLOOR = 1e-12


@dataclass(frozen=True, kw_only=True)
class Disturbances:
    """clicks: how many spikes of the whole band; gaps: how many holes in the sound.

    top:   share of what sounds that lies near the peak, 0..1.
    fall:  dB by which the level falls within FALL_S at best; None where noise would hide it.
    broken_off: dB by which it falls at once where the word ends.
    """

    clicks: int
    gaps: int
    top: float
    fall: float | None
    broken_off: float


def disturbances(samples: Samples, rate: int, spoken: tuple[int, int]) -> Disturbances:
    """All of a recording; spoken: [first, past) sample that sounds."""
    return Disturbances(
        clicks=clicks(samples, rate),
        gaps=gaps(samples, rate),
        top=share_at_top(samples[slice(*spoken)]),
        fall=deepest_fall(samples, rate),
        broken_off=broken_off(samples, rate),
    )


def clicks(samples: Samples, rate: int) -> int:
    """How many spikes stand out from what lies beside them, above CLICK_HZ."""
    size = max(1, count(CLICK_PIECE_S, rate))
    high = _high_passed(samples, rate)
    pieces = np.abs(high[: len(high) // size * size]).reshape(-1, size).max(axis=1)
    half, over = round(CLICK_AROUND_S / CLICK_PIECE_S), round(CLICK_OVER_S / CLICK_PIECE_S)
    if len(pieces) <= 2 * half:
        return 0
    around = np.lib.stride_tricks.sliding_window_view(np.pad(pieces, half, "reflect"), 2 * half + 1)
    spikes = np.flatnonzero(pieces > CLICK_RATIO * np.median(around, axis=1) + POWER_FLOOR)
    spikes = spikes[(spikes >= half) & (spikes < len(pieces) - half)]  # a cut end is no click
    ringing = around[spikes][:, half + over : half + 2 * over + 1].max(axis=1, initial=0.0)
    spikes = spikes[ringing < CLICK_OVER_SHARE * pieces[spikes]]
    return int((np.diff(spikes, prepend=-rate) * size > CLICK_APART_S * rate).sum())


def _high_passed(samples: Samples, rate: int) -> Samples:
    size = fft_size(max(1, len(samples)))
    spectrum = np.fft.rfft(samples, size)
    spectrum[: round(min(CLICK_HZ, 0.35 * rate) / rate * size)] = 0
    return np.asarray(np.fft.irfft(spectrum, size)[: len(samples)])


def gaps(samples: Samples, rate: int) -> int:
    """How often the samples stand still for a moment, with sound right before and after."""
    still = np.abs(np.diff(samples, prepend=0.0)) <= STILL_STEP
    peak = float(np.abs(samples).max(initial=0.0))
    least = max(BESIDE_SHARE * peak, BESIDE_LEAST)
    still &= np.abs(samples) < TOP_SHARE * peak  # the flat top of an overdriven wave is no gap
    lasting = (run for run in runs(still) if GAP_S[0] * rate <= run[1] - run[0] <= GAP_S[1] * rate)
    return sum(_sounds_beside(samples, rate, run, least) for run in lasting)


def _sounds_beside(samples: Samples, rate: int, run: tuple[int, int], least: float) -> bool:
    beside = count(BESIDE_S, rate)
    before, after = samples[max(0, run[0] - beside) : run[0]], samples[run[1] : run[1] + beside]
    return all(float(np.abs(part).max(initial=0.0)) > least for part in (before, after))


def share_at_top(samples: Samples) -> float:
    """The share of samples above TOP_SHARE of the peak: overdrive rounds the tops of a wave, so
    that it stays near them."""
    size = np.abs(samples)
    return float((size > TOP_SHARE * size.max()).mean()) if size.max(initial=0.0) > 0 else 0.0


def deepest_fall(samples: Samples, rate: int) -> float | None:
    """How many dB the level falls within FALL_S where it falls most, in any band of an octave.

    Where a room echoes, no sound can die away faster than the room does. Only bands that stand
    ABOVE_FLOOR_DB above their own floor are looked at.
    """
    size, step = count(FRAME_S, rate), count(STEP_S, rate)
    if len(samples) < size + count(FALL_S, rate):
        return None
    frames = np.lib.stride_tricks.sliding_window_view(samples, size)[::step]
    power = np.abs(np.fft.rfft(frames * np.hanning(size))) ** 2
    hertz = np.fft.rfftfreq(size, 1 / rate)
    inside = (power[:, (hertz >= low) & (hertz < high)] for low, high in BANDS_HZ)
    found = (_fall(_db(band.sum(axis=1)), round(FALL_S / STEP_S)) for band in inside)
    return max((fall for fall in found if fall is not None), default=None)


def _fall(levels: Samples, steps: int) -> float | None:
    """The greatest fall of a band's levels within so many steps."""
    floor = float(np.percentile(levels, FLOOR_PERCENTILE))
    before, after = levels[:-steps], levels[steps:]
    loud = before > max(float(levels.max()) - FROM_PEAK_DB, floor + ABOVE_FLOOR_DB)
    return float((before - after)[loud].max()) if loud.any() else None


def broken_off(samples: Samples, rate: int) -> float:
    """How many dB the level falls within END_PIECES pieces after the last loud one."""
    size = count(END_PIECE_S, rate)
    whole = (samples - samples.mean())[: len(samples) // size * size] if len(samples) else samples
    levels = _db((whole.reshape(-1, size) ** 2).mean(axis=1))
    loud = np.flatnonzero(_is_loud(levels))
    if not len(loud) or loud[-1] + END_PIECES >= len(levels):
        return 0.0
    last = int(loud[-1])
    return float(levels[max(0, last - 1) : last + 1].max() - levels[last + END_PIECES])


def _is_loud(levels: Samples) -> Mask:
    if not len(levels):
        return np.zeros(0, bool)
    floor = float(np.percentile(levels, FLOOR_PERCENTILE))
    return np.asarray(levels > max(levels.max() - SPEECH_RANGE_DB, floor + END_ABOVE_FLOOR_DB))


def _db(power: Samples) -> Samples:
    return np.asarray(10 * np.log10(power + POWER_FLOOR))
