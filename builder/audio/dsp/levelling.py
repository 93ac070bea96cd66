"""One loudness for all clips, gentle ends, a little silence around."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from builder.audio.dsp.limiter import curve, peaks_of
from builder.audio.dsp.measures import (
    BLOCK,
    GATE,
    HOP,
    Kind,
    block_power,
    integrated,
    quick,
    short_loudness,
    true_peak,
)
from builder.audio.dsp.voice_activity import presence
from builder.audio.speech import Samples, count

LOUDNESS = -18.0  # LUFS; speech on the internet, AES TD1008 (2021)
CEILING = -2.0  # dBTP before coding: MP3 adds up to 0.7 dB, and -1 is the bound (EBU R 128)
UNSURE = 0.3  # LU by which coding may move the gate
SURE = 0.8  # LU that the loudness may jump by that
LESS, ROUNDS = 1.5, 4  # dB by which peaks are limited where it jumps more, and how often
NEAR = 0.4  # LU from the wanted loudness that are near enough
# Of what is missing, try by try: the limiter takes a part of it away again.
PUSHES = (1.0, 1.6, 1.6, 1.6)
LEAST = 0.008  # seconds; what sounds for less is a click
SILENCE = 0.050  # seconds before and after; up to as much again, see _silence
MARGIN = 0.030  # seconds kept around what sounds, for a weak onset
SILENT = -70.0  # LUFS of the source; the absolute gate of BS.1770
NONE = -85.0  # LUFS beside full scale; softer noise needs no margin
FADE, EDGE = 0.030, 0.005  # seconds: within the margin, and where there is none
RUMBLE = (30.0, 55.0)  # Hz; the lowest voices begin at 60
RUMBLING = 0.01  # share of the power; voices have less there
RELEASE = 0.15  # seconds; what is shorter is the release of a stop


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
    settled, peak = _settled(samples, rate)
    found = presence(settled, rate, keep)
    first, past = found.span(rate)
    if not found.loudness + peak > SILENT or _sounding(settled, rate) < LEAST:
        raise ValueError("a clip with next to no sound")
    start, stop = found.span(rate, MARGIN if found.noise and found.noise > NONE else 0.0)
    if keep:
        start, stop = min(start, max(0, keep[0])), max(stop, min(len(samples), keep[1]))
    pad = _silence(stop - start, rate)
    heard = np.pad(found.heard, (found.first, len(settled) - found.past))
    padded, weighted = (
        np.pad(_faded(part[start:stop], rate, first - start, stop - past), pad)
        for part in (settled, heard)  # the fades are slow beside the filters of the weighting
    )
    kind: Kind = "LUFS" if stop - start >= count(BLOCK, rate) else "gated RMS"
    shape = stop - start < count(RELEASE, rate)
    raised = _raised(padded, weighted, rate, kind, shape=shape)
    return Levelled(*raised, kind=kind, shift=pad[0] - start)


def _silence(length: int, rate: int) -> tuple[int, int]:
    """Samples of silence before and after, at least SILENCE each.

    The whole is made to measure a multiple of HOP: blocks of 400 ms then end where it ends, and
    meters that treat an unfinished block in other ways read the same.
    """
    least, hop = count(SILENCE, rate), count(HOP, rate)
    more = -(length + 2 * least) % hop
    return least + more // 2, least + more - more // 2


def _settled(samples: Samples, rate: int) -> tuple[Samples, float]:
    """The samples at full scale, and the dB by which their peak was below it.

    Without offset, and without rumble where there is much.
    """
    level = _without_rumble(samples - samples.mean(), rate) if len(samples) else samples
    peak = float(np.abs(level).max(initial=0.0))
    if peak == 0.0:
        raise ValueError("a clip without any sound")
    return level / peak, 20 * float(np.log10(peak))


def _without_rumble(level: Samples, rate: int) -> Samples:
    """Below 30 Hz nothing of a voice lies, but it would take the room of the peaks. Zero phase;
    from 55 Hz up nothing changes.
    """
    if len(level) < rate // 4 or _rumble(level, rate) < RUMBLING:
        return level
    around = rate // 8
    longer = np.pad(level, around, mode="reflect", reflect_type="odd")  # no step at the ends
    size = quick(len(longer))
    hertz = np.fft.rfftfreq(size, 1 / rate)
    rise = np.clip((hertz - RUMBLE[0]) / (RUMBLE[1] - RUMBLE[0]), 0, 1)
    kept = np.fft.irfft(np.fft.rfft(longer, size) * np.sin(rise * np.pi / 2) ** 2, size)
    return np.asarray(kept[around : around + len(level)])


def _rumble(level: Samples, rate: int) -> float:
    """Share of the power below 55 Hz, by means of a millisecond each."""
    piece = max(1, rate // 1000)
    means = level[: len(level) // piece * piece].reshape(-1, piece).mean(axis=1)
    power = np.abs(np.fft.rfft(means, quick(2 * len(means)))) ** 2
    low = power[: int(len(power) * 2 * RUMBLE[1] * piece / rate)].sum() / len(power)
    total = float((level * level).sum()) / piece
    return float(low / total) if total > 0 else 0.0


def _sounding(samples: Samples, rate: int) -> float:
    """Seconds that sound, in pieces of 5 ms not more than 40 dB below the loudest."""
    size = count(EDGE, rate)
    power = (np.pad(samples, (0, -len(samples) % size)).reshape(-1, size) ** 2).sum(axis=1)
    return float((power > 1e-4 * power.max()).sum()) * EDGE


def _raised(
    samples: Samples, heard: Samples, rate: int, kind: Kind, *, shape: bool
) -> tuple[Samples, float, float]:
    """The samples at the wanted loudness, that loudness, their true peak. heard: K-weighted.

    Where peaks are in the way they are limited, slowly. A stop said alone is one spike of
    milliseconds: it keeps its shape and stays softer than a word.
    """
    samples, heard = (samples, heard) if shape else _surely(samples, heard, rate, kind)
    found, _ = _read(heard, rate, kind)
    if not np.isfinite(found):
        raise ValueError("a clip with next to no sound")
    peak = true_peak(samples)
    gain = min(LOUDNESS - found, CEILING - peak)
    if shape or gain < CEILING - peak:
        return samples * 10 ** (gain / 20), found + gain, peak + gain
    slow, found = _gain(samples, heard, rate, kind, found, CEILING - peak)
    over = max(0.0, true_peak(samples * slow) - CEILING)  # between samples it may miss a little
    return samples * slow * 10 ** (-over / 20), found - over, CEILING


def _surely(samples: Samples, heard: Samples, rate: int, kind: Kind) -> tuple[Samples, Samples]:
    """Peaks limited until no part lies on the gate of the measure."""
    for _ in range(ROUNDS):
        if _read(heard, rate, kind)[1] < SURE:
            break
        slow = curve(peaks_of(samples, rate), len(samples), rate, -LESS)
        samples, heard = samples * slow, heard * slow
    return samples, heard


def _read(heard: Samples, rate: int, kind: Kind) -> tuple[float, float]:
    """The loudness of K-weighted samples, and by how much it jumps when the gate moves a little.

    A weak sound held long lies now above, now below the gate; coding may then change the loudness
    by some LU.
    """
    if kind == "gated RMS":
        return short_loudness(heard, rate), 0.0
    power = block_power(heard, count(BLOCK, rate), count(HOP, rate))
    around = [integrated(power, GATE + side) for side in (-UNSURE, UNSURE)]
    return integrated(power), abs(around[0] - around[1]) if np.isfinite(around[0]) else 0.0


def _gain(
    samples: Samples, heard: Samples, rate: int, kind: Kind, found: float, room: float
) -> tuple[Samples, float]:
    """The gain of each sample that brings `samples` nearest to the wanted loudness, and what
    they reach by it.

    heard: they, K-weighted (the gain is slow beside those filters); found: their loudness; room:
    how far their greatest peak may be raised, in dB. Ever more gain until it is near enough.
    More is not always louder: a weak sound held long comes to count in the gated mean once the
    vowel beside it is less than 10 LU louder; so the try that is nearest and surest is taken.
    """
    peaks, gain, tries = peaks_of(samples, rate), 0.0, []
    for push in PUSHES:
        gain += push * (LOUDNESS - found)
        slow = curve(peaks, len(samples), rate, room - gain) * 10 ** (gain / 20)
        found, span = _read(heard * slow, rate, kind)
        tries.append((abs(found - LOUDNESS) + span, slow, found))
        if tries[-1][0] < NEAR:
            break
    _, slow, found = min(tries, key=lambda each: each[0])
    return slow, found


def _faded(samples: Samples, rate: int, before: int, after: int) -> Samples:
    """Fades of at most FADE at both ends, within the `before` and `after` samples of margin, but
    EDGE where there are less: what sounds keeps its level."""
    faded = samples.copy()
    for side, margin in ((faded, before), (faded[::-1], after)):
        lap = max(min(count(FADE, rate), margin), count(EDGE, rate))
        lap = min(lap, len(samples) // 2)
        side[:lap] *= 0.5 - 0.5 * np.cos(np.pi * (np.arange(lap) + 0.5) / lap)
    return faded
