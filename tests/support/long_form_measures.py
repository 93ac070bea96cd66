"""What is measured on a held sound beside the natural one: level, spectrum, voice, joins."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from builder.audio.assess.measurements import voiced
from builder.audio.dsp.measures import spectral_mean
from builder.audio.speech import Samples, Speech, count
from builder.phonetics.inventory import Sound
from tests.support.audio import above, autocorrelation

LEVEL_DB = 2.0  # dB between the held part, or 100 ms of it, and the middle of the natural target
MEAN_SHARE = 0.05  # of the spectral mean of the natural target's middle
LOOP_CORRELATION = 0.15  # autocorrelation from which a loop is heard
REST_S = 0.010  # seconds of the rest of the word that may have been changed
VOICED_SHARE = 0.9  # share of a held voiced sound in which a voice is heard
LOST_DB = 6.0  # dB that the voice of a voiced fricative lies below its friction, where it is lost
# Jitter and shimmer (local) above which a sustained voice is not normal (1.04 % and 3.81 %):
# D. Deliyski: Acoustic model and evaluation of pathological voice production, Eurospeech 1993; the
# figures from memory.
JITTER, SHIMMER = 0.0104, 0.0381
WORSE_FACTOR = 1.5  # times the natural target's own, which may lie above
UNVOICED_JITTER = 0.05  # jitter above it: there is no steady voice in the natural target
FALL_SHARE = 0.06  # of the frequency of the voice from the first to the last third; a semitone
BANDS_DB = 3.0  # dB by which voice or friction of a voiced fricative may change
PIECE_S = 0.100  # seconds
RUMBLE_HZ = 150.0  # Hz; what lies below is the room, not a voiceless sound
VOICE_LOWEST_HZ, VOICE_HIGHEST_HZ = 60.0, 400.0  # Hz of a voice


@dataclass(frozen=True)
class LongFormMeasures:
    """lasts, rest, click, level, mean, loop, voice, bands: what was found and its bound, as
    (figure, bound); the figure may not be above it."""

    figures: dict[str, tuple[float, float]]

    @staticmethod
    def names() -> tuple[str, ...]:
        return (
            "lasts",
            "rest",
            "click",
            "level",
            "even",
            "mean",
            "loop",
            "voice",
            "jitter",
            "shimmer",
            "fall",
            "bands",
        )

    @property
    def missed(self) -> tuple[str, ...]:
        return tuple(name for name, (found, most) in self.figures.items() if not found <= most)

    def told(self) -> str:
        """The figures that are missed, with their bounds."""
        parts = ((name, *self.figures[name]) for name in self.missed)
        return "; ".join(f"{name} {found:.4g} > {most:.4g}" for name, found, most in parts)


def compare_long_form(
    natural: Speech, long: Speech, place: tuple[int, int], sound: Sound, seconds: float
) -> LongFormMeasures:
    """place: where the target truly lies in `natural`."""
    rate = natural.rate
    first, past = replaced(natural.samples, long.samples)
    lost = len(natural.samples) - (len(long.samples) - past)  # [first, lost) was replaced
    quarter = (place[1] - place[0]) // 4
    middle = natural.samples[place[0] + quarter : place[1] - quarter]
    part = long.samples[first:past]
    start, stop = long.target or (0, 0)

    def own(samples: Samples) -> Samples:
        return samples if sound.voiced else above(samples, rate, RUMBLE_HZ)

    figures = {
        "lasts": (abs((stop - start) / rate - seconds), 0.03),
        "rest": (max(place[0] - first, lost - place[1]) / rate, REST_S),
        "click": _click(long.samples, rate, (first, past), natural.samples[slice(*place)]),
        "level": (abs(level(own(part)) - level(own(middle))), LEVEL_DB),
        "even": (float(np.ptp(_levels(own(part), rate))), LEVEL_DB),
    }
    if sound.manner == "fricative":
        figures["mean"] = _moved(middle, part, rate)
    if not sound.voiced:
        figures["loop"] = (autocorrelation(part, rate, (0.030, 0.400)), LOOP_CORRELATION)
    else:
        figures |= _voice(natural.samples[place[0] : place[1]], part, rate)
        figures["voice"] = (1 - voiced(part, rate), 1 - VOICED_SHARE)
    if sound.voiced and sound.manner == "fricative":
        figures["bands"] = (_bands(middle, part, rate), BANDS_DB)
    return LongFormMeasures(figures)


def replaced(natural: Samples, long: Samples) -> tuple[int, int]:
    """The part [first, past) of `long` that differs, seen from either end of the word."""
    size = len(natural)
    front, back = natural != long[:size], natural[::-1] != long[::-1][:size]
    first = int(np.argmax(front)) if front.any() else size
    return first, len(long) - (int(np.argmax(back)) if back.any() else size)


def level(samples: Samples) -> float:
    """dB of the mean square."""
    return float(10 * np.log10((samples**2).mean() + 1e-12)) if len(samples) else -120.0


def _levels(part: Samples, rate: int) -> list[float]:
    size = count(PIECE_S, rate)
    inner = range(size, len(part) - 2 * size + 1, size // 2)  # the ends lead over
    return [level(part[at : at + size]) for at in inner]


def _click(
    samples: Samples, rate: int, held: tuple[int, int], target: Samples
) -> tuple[float, float]:
    """Beside the 99.9th percentile of all steps, or the pulses of the voice."""
    first, past = held
    steps, near = np.abs(np.diff(samples)), count(0.001, rate)
    joins = (steps[max(0, first - near) : first + near], steps[past - near : past + near])
    limit = max(
        float(np.percentile(steps, 99.9)),
        float(steps[first + near : past - near].max()),
        float(np.abs(np.diff(target)).max()),
    )
    return max(float(join.max(initial=0)) for join in joins) / limit, 1.0


def _moved(middle: Samples, part: Samples, rate: int) -> tuple[float, float]:
    before, after = spectral_mean(middle, rate), spectral_mean(part, rate)
    return (abs(after - before) / before if before and after else 0.0), MEAN_SHARE


def _bands(middle: Samples, part: Samples, rate: int) -> float:
    """dB by which the voice (below 500 Hz) or the friction (4 to 10 kHz) changes; where the middle
    had lost its voice that one may only rise."""
    voice, friction = (
        _band(part, rate, low, high) - _band(middle, rate, low, high)
        for low, high in ((60, 500), (4000, 10000))
    )
    lost = _band(middle, rate, 60, 500) < _band(middle, rate, 4000, 10000) - LOST_DB
    return max(-voice if lost else abs(voice), abs(friction))


def _band(samples: Samples, rate: int, low: float, high: float) -> float:
    power = np.abs(np.fft.rfft(samples * np.hanning(len(samples)))) ** 2 / len(samples)
    hertz = np.fft.rfftfreq(len(samples), 1 / rate)
    return float(10 * np.log10(power[(hertz >= low) & (hertz < high)].sum() / len(samples) + 1e-15))


def _voice(target: Samples, part: Samples, rate: int) -> dict[str, tuple[float, float]]:
    own, of = marks(target, rate), marks(part, rate)
    if len(own) < 4 or _jitter(own) > UNVOICED_JITTER:
        return {}
    if len(of) < 20:
        return {"jitter": (float("inf"), JITTER)}
    third = len(of) // 3
    hertz = rate / np.diff(of)
    fall = abs(float(np.median(hertz[:third]) / np.median(hertz[-third:])) - 1)
    return {
        "jitter": (_jitter(of), max(JITTER, WORSE_FACTOR * _jitter(own))),
        "shimmer": (
            _shimmer(part, of, rate),
            max(SHIMMER, WORSE_FACTOR * _shimmer(target, own, rate)),
        ),
        "fall": (fall, FALL_SHARE),
    }


def marks(samples: Samples, rate: int) -> Samples:
    """Where the periods of the voice begin, as fractions of a sample: each is where the next
    period is most like the one before. Few where there is no voice."""
    low = _low(samples, rate)
    period = _period(low, rate)
    found, at = [], period * 0.6
    while period and at + 2.5 * period < len(low):
        found.append(at)
        period = 0.8 * period + 0.2 * (step := _next(low, at, period))
        at += step
    return np.asarray(found)


def _low(samples: Samples, rate: int) -> Samples:
    """Below 900 Hz: the voice without friction."""
    spectrum = np.fft.rfft(np.pad(samples - samples.mean(), count(0.01, rate)))
    hertz = np.fft.rfftfreq(len(samples) + 2 * count(0.01, rate), 1 / rate)
    spectrum *= 0.5 + 0.5 * np.cos(np.pi * np.clip((hertz - 700) / 400, 0, 1))
    low = np.fft.irfft(spectrum, len(samples) + 2 * count(0.01, rate))
    return np.asarray(low[count(0.01, rate) : count(0.01, rate) + len(samples)])


def _period(low: Samples, rate: int) -> float:
    seen = low[len(low) // 2 - count(0.025, rate) : len(low) // 2 + count(0.025, rate)]
    if len(low) < count(0.050, rate):
        seen = low
    lags = np.correlate(seen, seen, "full")[len(seen) - 1 :]
    first, last = (
        round(rate / VOICE_HIGHEST_HZ),
        min(round(rate / VOICE_LOWEST_HZ), len(lags) * 2 // 3),
    )
    if last <= first:
        return 0.0
    share = lags[first:last] / (1 - np.arange(first, last) / len(seen)) / (lags[0] + 1e-12)
    good = np.flatnonzero(share > 0.9 * share.max())
    run = good[: int(np.argmax(np.diff(np.append(good, 10**9)) > 1)) + 1]
    return float(first + run[int(np.argmax(share[run]))])


def _next(low: Samples, at: float, period: float) -> float:
    size, start = round(period), round(at)
    piece = low[start : start + size]
    lags = np.arange(round(0.8 * period), round(1.2 * period) + 1)
    lags = lags[start + lags + size <= len(low)]
    if len(lags) < 3:
        return period
    rows = low[start + lags[:, None] + np.arange(size)]
    like = rows @ piece / np.sqrt((rows**2).sum(axis=1) + 1e-12)
    k = int(np.clip(like.argmax(), 1, len(lags) - 2))
    bend = like[k - 1] - 2 * like[k] + like[k + 1]
    shift = 0.5 * (like[k - 1] - like[k + 1]) / bend if bend < 0 else 0.0
    return float(lags[k] + np.clip(shift, -1, 1))


def _jitter(found: Samples) -> float:
    """The mean difference of neighboring periods, by their mean; 0 for less than 4 periods."""
    periods = np.diff(found)
    return float(np.abs(np.diff(periods)).mean() / periods.mean()) if len(found) > 4 else 0.0


def _shimmer(samples: Samples, found: Samples, rate: int) -> float:
    """The same of the amplitudes, of the voice below 900 Hz."""
    low = _low(samples, rate)
    edges = np.round(found).astype(int)
    sizes = [np.sqrt((low[a:b] ** 2).mean()) for a, b in zip(edges, edges[1:], strict=False)]
    if len(sizes) < 4:
        return 0.0
    return float(np.abs(np.diff(sizes)).mean() / np.mean(sizes))
