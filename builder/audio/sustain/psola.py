"""A voiced sound sustained period by period [1]: each period leads over into one of its
neighbors, chosen by chance, at the distance and the level that the voice has there. So the voice
is as regular as it was, and no loop is heard.

[1] E. Moulines, F. Charpentier: Pitch-synchronous waveform processing techniques for
    text-to-speech synthesis using diphones. Speech Communication 9 (1990) 453-467.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from builder.audio.dsp.measures import fft_size
from builder.audio.speech import Samples, count
from builder.audio.sustain.grains import contour
from builder.audio.sustain.steady_state import rms

PITCH_LOWEST_HZ, PITCH_HIGHEST_HZ = 60.0, 450.0  # Hz of a voice
VOICED_CORRELATION = 0.5  # normalized autocorrelation below it: no voice
PITCH_WINDOW_S = 0.030  # seconds on either side in which the period is measured
FILTER_PADDING_S = 0.020  # seconds of zeros that keep the ends of a filtered sound apart
PITCH_BAND_HZ = 900.0  # Hz below which periods are told apart: friction lies above
VOICING_BANDS_HZ = (1000.0, 2000.0, 4000.0)  # Hz at which a voice may turn into friction
PERIODS_MIN = 2  # periods

PitchMarks = NDArray[np.intp]


def pitch_marks(target: Samples, rate: int, middle: int) -> PitchMarks:
    """Where each period begins, looked for from `middle` on to both ends; none without a voice."""
    low, half = low_passed(target, rate, PITCH_BAND_HZ), count(PITCH_WINDOW_S, rate)
    first = max(0, min(middle - half, len(low) - 2 * half))
    period = period_of(low[first : first + 2 * half], rate)
    if not period:
        return np.zeros(0, np.intp)
    at = max(0, min(middle - period, len(low) - 2 * period))
    at += _quietest(target[at : at + 2 * period], period)
    after = [at + step for step in _steps(low[at:], period)]
    before = [at - step for step in _steps(low[:at][::-1], period)] if at > period else []
    return np.asarray([*reversed(before), at, *after], np.intp)


def _quietest(samples: Samples, period: int) -> int:
    """Where within a period no pulse of the voice is split."""
    quarter = max(1, period // 4)
    moved = np.convolve(np.abs(np.diff(samples)), np.ones(quarter), "valid")
    return int(moved[:period].argmin()) + quarter // 2


def _steps(low: Samples, period: int) -> list[int]:
    """The beginnings of the next periods, from 0 on."""
    at, found = 0, []
    while at + 2 * period <= len(low):
        period = _next(low, at, period)
        at += period
        found.append(at)
    return found


def marks_within(found: PitchMarks, left: int, right: int, size: int) -> PitchMarks:
    """The marks in [left, right) of `size` samples; where those are fewer than PERIODS_MIN + 1 with
    their neighbors, on the side where more is left."""
    first, past = map(int, np.searchsorted(found, (left, right)))
    while past - first <= PERIODS_MIN and past - first < len(found):
        before = found[first - 1] if first else -1
        after = size - found[past] if past < len(found) else -1
        first, past = (first - 1, past) if before > after else (first, past + 1)
    return found[first:past]


def period_of(low: Samples, rate: int) -> int:
    """The period in samples; 0 without a voice. The shortest lag that is nearly the best."""
    size = len(low)
    shortest, longest = (
        round(rate / PITCH_HIGHEST_HZ),
        min(round(rate / PITCH_LOWEST_HZ), size // 2),
    )
    if longest - shortest < 3:
        return 0
    energy = np.cumsum(np.concatenate([[0.0], low * low]))
    lags = np.arange(shortest, longest)
    products = np.correlate(low, low, "full")[size - 1 :][lags]
    like = products / np.sqrt(energy[size - lags] * (energy[size] - energy[lags]) + 1e-12)
    peaks = np.flatnonzero((like[1:-1] >= like[:-2]) & (like[1:-1] >= like[2:])) + 1
    good = (
        peaks[like[peaks] > max(VOICED_CORRELATION, 0.9 * like[peaks].max())]
        if len(peaks)
        else peaks
    )
    return int(lags[good[0]]) if len(good) else 0


def _next(low: Samples, at: int, period: int) -> int:
    """How far on the next period begins: where it is most like this one."""
    lags = np.arange(round(0.85 * period), round(1.15 * period) + 1)
    lags = lags[at + lags + period <= len(low)]
    if len(lags) == 0:
        return period
    rows = low[at + lags[:, None] + np.arange(period)]
    like = rows @ low[at : at + period] / np.sqrt((rows**2).sum(axis=1) + 1e-12)
    return int(lags[int(like.argmax())])


def low_passed(samples: Samples, rate: int, hertz: float) -> Samples:
    """What lies below `hertz`, fading out over half an octave."""
    size = fft_size(len(samples) + count(FILTER_PADDING_S, rate))
    spectrum = np.fft.rfft(samples, size)
    at = np.fft.rfftfreq(size, 1 / rate) / hertz
    spectrum *= 0.5 + 0.5 * np.cos(np.pi * np.clip((at - 0.85) / 0.4, 0, 1))
    return np.asarray(np.fft.irfft(spectrum, size)[: len(samples)])


def voicing_limit(part: Samples, rate: int, period: int) -> float:
    """Hz up to which the sound repeats itself from period to period."""
    top, lower = 0.0, np.zeros(len(part))
    for hertz in VOICING_BANDS_HZ:
        upper = low_passed(part, rate, hertz)
        if _periodicity(upper - lower, period) < VOICED_CORRELATION:
            return top or VOICING_BANDS_HZ[0] * 0.8
        top, lower = hertz, upper
    return top


def _periodicity(samples: Samples, period: int) -> float:
    one, other = samples[:-period], samples[period:]
    return float(one @ other / np.sqrt((one @ one) * (other @ other) + 1e-12))


def sustain_voice(
    part: Samples,
    found: PitchMarks,
    wanted: int,
    rate: int,
    *,
    random: np.random.Generator,
    gain: float = 1.0,
) -> Samples:
    """About `wanted` samples that begin and end as `part` does, between them `gain` times as loud.

    found: its marks, the first and last at its ends.
    """
    spans, row = _spans(found, wanted, rate), len(found) - 1
    order = _walk(len(spans) + 1, row, random)
    places = np.cumsum(np.concatenate([[0], spans]))
    sizes = _sizes(part, found)
    due = contour(sizes[0], gain * rms(part), sizes[-1], int(places[-1]) + 1, rate)[places]
    gains = due / sizes[order]
    gains[0] = gains[-1] = 1.0
    return _laid(part, found[order], spans, gains)


def _spans(found: PitchMarks, wanted: int, rate: int) -> PitchMarks:
    """The distances of the marks to come."""
    own = np.diff(found)
    usual = float(np.median(own))
    size = max(wanted, len(found) * round(usual))
    due = contour(float(own[0]), usual, float(own[-1]), size, rate)
    spans, at = [], 0.0
    while at + usual / 2 < wanted:
        spans.append(due[min(round(at), size - 1)])
        at += spans[-1]
    ends = np.round(np.cumsum(spans)).astype(np.intp)
    return np.diff(np.concatenate([[0], ends]))


def _walk(length: int, last: int, random: np.random.Generator) -> PitchMarks:
    """Which period follows which: from 0 to `last`, between them at most one step at a time."""
    low, high = (2, last - 2) if last >= 6 else (1, last - 1)
    row, here = [0], low
    steps = random.choice([-1, 0, 1], length).tolist()
    for step in steps[: length - 2 - (last - high)]:
        row.append(here)
        here += step if low <= here + step <= high else -step
        here = min(max(here, low), high)
    row += list(range(high, last + 1))
    return np.asarray([*row[: length - 1], last])


def _sizes(part: Samples, found: PitchMarks) -> Samples:
    """Root mean square of the two periods around each mark, of one at the ends."""
    energy = np.cumsum(np.concatenate([[0.0], part * part]))
    ends = np.concatenate([found[:1], found, found[-1:]])
    first, past = ends[:-2], ends[2:]
    return np.asarray(np.sqrt((energy[past] - energy[first]) / (past - first) + 1e-12))


def _laid(part: Samples, at: PitchMarks, spans: PitchMarks, gains: Samples) -> Samples:
    """Between two marks the period after the first one leads over into that before the second."""
    join = np.repeat(np.arange(len(spans)), spans)
    offset = np.arange(len(join)) - np.repeat(np.cumsum(spans) - spans, spans)
    rise = 0.5 - 0.5 * np.cos(np.pi * offset / spans[join])
    out = np.minimum(at[:-1][join] + offset, len(part) - 1)
    into = np.maximum(at[1:][join] - spans[join] + offset, 0)
    return np.asarray(
        part[out] * (gains[:-1][join] * (1 - rise)) + part[into] * (gains[1:][join] * rise)
    )
