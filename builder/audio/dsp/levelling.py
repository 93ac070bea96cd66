"""One loudness for all clips, gentle ends, a little silence around."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from builder.audio.dsp.limiter import gain_curve, piece_peaks
from builder.audio.dsp.measures import (
    BLOCK_S,
    GATE_LU,
    HOP_S,
    LoudnessKind,
    block_power,
    fft_size,
    gated_loudness,
    k_weighted,
    loudness,
    short_loudness,
    true_peak,
)
from builder.audio.dsp.voice_activity import detect_voice
from builder.audio.speech import Samples, count

LOUDNESS_LUFS = -18.0  # LUFS; speech on the internet, AES TD1008 (2021)
CEILING_DBTP = -2.0  # dBTP before coding: MP3 adds up to 0.7 dB, and -1 is the bound (EBU R 128)
GATE_SHIFT_LU = 0.3  # LU by which coding may move the gate
GATE_JUMP_MAX_LU = 0.8  # LU that the loudness may jump by that
# dB by which peaks are limited where it jumps more, and how often.
LIMIT_STEP_DB, LIMIT_ROUNDS = 1.5, 4
LOUDNESS_TOLERANCE_LU = 0.4  # LU from the wanted loudness that are near enough
# Of what is missing, try by try: the limiter takes a part of it away again.
GAIN_FACTORS = (1.0, 1.6, 1.6, 1.6)
SOUND_MIN_S = 0.008  # what sounds for less is a click
PADDING_S = 0.050  # before and after; up to as much again, see _silence
MARGIN_S = 0.030  # kept around what sounds, for a weak onset
SILENT_LUFS = -70.0  # LUFS of the source; the absolute gate of BS.1770
INAUDIBLE_LUFS = -85.0  # LUFS beside full scale; softer noise needs no margin
FADE_S, SHORT_FADE_S = 0.030, 0.005  # within the margin, and where there is none
RUMBLE_HZ = (30.0, 55.0)  # the lowest voices begin at 60
RUMBLE_SHARE = 0.01  # share of the power; voices have less there
RELEASE_MAX_S = 0.15  # what is shorter is the release of a stop
# LUFS of /f θ/ by themselves: /s/ is 10 to 15 dB stronger as people say them (S. Behrens, S.
# Blumstein, JASA 84 (1988) 861-867; A. Jongman, R. Wayland, S. Wong, JASA 108 (2000) 1252-1263; as
# recalled), and that is most of what tells /θ/ from it.
WEAK_LUFS = LOUDNESS_LUFS - 12.0
WEAK_EDGE_S = 0.050  # seconds of a weak sound at either end by which the gain beside it is known


@dataclass(frozen=True)
class Levelled:
    """A finished clip with its loudness (`kind`: by which measure) and true peak in dBTP.

    shift: by how many samples everything moved.
    """

    samples: Samples
    loudness: float
    peak: float
    kind: LoudnessKind
    shift: int


def finish(
    samples: Samples,
    rate: int,
    keep: tuple[int, int] | None = None,
    *,
    wanted: float = LOUDNESS_LUFS,
    weak: tuple[int, int] | None = None,
) -> Levelled:
    """Trim (never into `keep`), fade, pad and level. ValueError when there is no sound at all.

    wanted: LUFS. weak: where a weak sound is held; what is beside it is brought to `wanted`, and
    it stays as far below as it was, but not under WEAK_LUFS. The loudness is that of the whole.
    """
    normalized, peak = _normalized(samples, rate)
    found = detect_voice(normalized, rate)
    first, past = found.span(rate)
    if not found.loudness + peak > SILENT_LUFS or _sounding(normalized, rate) < SOUND_MIN_S:
        raise ValueError("a clip with almost no sound")
    start, stop = found.span(
        rate, MARGIN_S if found.noise and found.noise > INAUDIBLE_LUFS else 0.0
    )
    if keep:
        start, stop = min(start, max(0, keep[0])), max(stop, min(len(samples), keep[1]))
    pad = _silence(stop - start, rate)
    inner = np.pad(found.weighted, (found.first, len(normalized) - found.past))
    padded, weighted = (
        np.pad(_faded(part[start:stop], rate, first - start, stop - past), pad)
        for part in (normalized, inner)  # the fades are slow beside the filters of the weighting
    )
    kind: LoudnessKind = "LUFS" if stop - start >= count(BLOCK_S, rate) else "gated RMS"
    spike = stop - start < count(RELEASE_MAX_S, rate)
    shift = pad[0] - start
    levelled = (
        _levelled_beside(padded, weighted, rate, wanted, weak[0] + shift, weak[1] + shift)
        if weak and weak[1] - weak[0] > 2 * count(WEAK_EDGE_S, rate)
        else _levelled(padded, weighted, rate, kind, wanted, spike=spike)
    )
    return Levelled(*levelled, kind=kind, shift=shift)


def _silence(length: int, rate: int) -> tuple[int, int]:
    """Samples of silence before and after, at least PADDING_S each.

    The whole is made to measure a multiple of HOP: blocks of 400 ms then end where it ends, and
    meters that treat an unfinished block in other ways read the same.
    """
    least, hop = count(PADDING_S, rate), count(HOP_S, rate)
    more = -(length + 2 * least) % hop
    return least + more // 2, least + more - more // 2


def _normalized(samples: Samples, rate: int) -> tuple[Samples, float]:
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
    if len(level) < rate // 4 or _rumble(level, rate) < RUMBLE_SHARE:
        return level
    around = rate // 8
    longer = np.pad(level, around, mode="reflect", reflect_type="odd")  # no step at the ends
    size = fft_size(len(longer))
    hertz = np.fft.rfftfreq(size, 1 / rate)
    rise = np.clip((hertz - RUMBLE_HZ[0]) / (RUMBLE_HZ[1] - RUMBLE_HZ[0]), 0, 1)
    kept = np.fft.irfft(np.fft.rfft(longer, size) * np.sin(rise * np.pi / 2) ** 2, size)
    return np.asarray(kept[around : around + len(level)])


def _rumble(level: Samples, rate: int) -> float:
    """Share of the power below 55 Hz, by means of a millisecond each."""
    piece = max(1, rate // 1000)
    means = level[: len(level) // piece * piece].reshape(-1, piece).mean(axis=1)
    power = np.abs(np.fft.rfft(means, fft_size(2 * len(means)))) ** 2
    low = power[: int(len(power) * 2 * RUMBLE_HZ[1] * piece / rate)].sum() / len(power)
    total = float((level * level).sum()) / piece
    return float(low / total) if total > 0 else 0.0


def _sounding(samples: Samples, rate: int) -> float:
    """Seconds that sound, in pieces of 5 ms not more than 40 dB below the loudest."""
    size = count(SHORT_FADE_S, rate)
    power = (np.pad(samples, (0, -len(samples) % size)).reshape(-1, size) ** 2).sum(axis=1)
    return float((power > 1e-4 * power.max()).sum()) * SHORT_FADE_S


def _levelled_beside(
    samples: Samples, weighted: Samples, rate: int, wanted: float, start: int, stop: int
) -> tuple[Samples, float, float]:
    """As `_levelled`, by what lies beside the weak sound at [start, stop)."""
    edge = count(WEAK_EDGE_S, rate)
    first, past = start + edge, stop - edge
    rest, heard = (np.concatenate([part[:first], part[past:]]) for part in (samples, weighted))
    kind: LoudnessKind = "LUFS" if len(rest) >= count(BLOCK_S, rate) else "gated RMS"
    level, _, _ = _levelled(rest, heard, rate, kind, wanted, spike=False)
    before, after = (
        float(np.sqrt((level[part] ** 2).sum() / ((rest[part] ** 2).sum() + 1e-30)))
        for part in (slice(first - edge, first), slice(first, first + edge))
    )
    middle = samples[first:past] * np.linspace(before, after, past - first)
    middle *= _lift(middle, rate, edge)
    whole = np.concatenate([level[:first], middle, level[first:]])
    return whole, loudness(whole, rate), true_peak(whole)


def _lift(middle: Samples, rate: int, edge: int) -> Samples:
    """The gain that keeps a weak sound from falling under WEAK_LUFS; 1 at its ends."""
    lacking = max(0.0, WEAK_LUFS - short_loudness(k_weighted(middle, rate), rate))
    at = np.arange(len(middle))
    rise = np.minimum(1.0, np.minimum(at, at[::-1]) / edge)
    return np.asarray(10 ** (rise * (lacking if np.isfinite(lacking) else 0.0) / 20))


def _levelled(
    samples: Samples,
    weighted: Samples,
    rate: int,
    kind: LoudnessKind,
    wanted: float,
    *,
    spike: bool,
) -> tuple[Samples, float, float]:
    """The samples at the wanted loudness, that loudness, their true peak. weighted: K-weighted.

    Where peaks are in the way they are limited, slowly. A stop said alone is one spike of
    milliseconds: it keeps its shape and stays softer than a word.
    """
    samples, weighted = (
        (samples, weighted) if spike else _clear_of_gate(samples, weighted, rate, kind)
    )
    found, _ = _measured(weighted, rate, kind)
    if not np.isfinite(found):
        raise ValueError("a clip with almost no sound")
    peak = true_peak(samples)
    gain = min(wanted - found, CEILING_DBTP - peak)
    if spike or gain < CEILING_DBTP - peak:
        return samples * 10 ** (gain / 20), found + gain, peak + gain
    gains, found = _gains(
        samples, weighted, rate, kind, wanted, found=found, room=CEILING_DBTP - peak
    )
    over = max(
        0.0, true_peak(samples * gains) - CEILING_DBTP
    )  # between samples it may miss a little
    return samples * gains * 10 ** (-over / 20), found - over, CEILING_DBTP


def _clear_of_gate(
    samples: Samples, weighted: Samples, rate: int, kind: LoudnessKind
) -> tuple[Samples, Samples]:
    """Peaks limited until no part lies on the gate of the measure."""
    for _ in range(LIMIT_ROUNDS):
        if _measured(weighted, rate, kind)[1] < GATE_JUMP_MAX_LU:
            break
        gains = gain_curve(piece_peaks(samples, rate), len(samples), rate, -LIMIT_STEP_DB)
        samples, weighted = samples * gains, weighted * gains
    return samples, weighted


def _measured(weighted: Samples, rate: int, kind: LoudnessKind) -> tuple[float, float]:
    """The loudness of K-weighted samples, and by how much it jumps when the gate moves a little.

    A weak sound held long lies now above, now below the gate; coding may then change the loudness
    by some LU.
    """
    if kind == "gated RMS":
        return short_loudness(weighted, rate), 0.0
    power = block_power(weighted, count(BLOCK_S, rate), count(HOP_S, rate))
    around = [gated_loudness(power, GATE_LU + side) for side in (-GATE_SHIFT_LU, GATE_SHIFT_LU)]
    return gated_loudness(power), abs(around[0] - around[1]) if np.isfinite(around[0]) else 0.0


def _gains(
    samples: Samples,
    weighted: Samples,
    rate: int,
    kind: LoudnessKind,
    wanted: float,
    *,
    found: float,
    room: float,
) -> tuple[Samples, float]:
    """The gain of each sample that brings `samples` nearest to the wanted loudness, and what
    they reach by it.

    weighted: they, K-weighted (the gain is slow beside those filters); found: their loudness; room:
    how far their greatest peak may be raised, in dB. Ever more gain until it is near enough.
    More is not always louder: a weak sound held long comes to count in the gated mean once the
    vowel beside it is less than 10 LU louder; so the try that is nearest and surest is taken.
    """
    peaks, gain, tries = piece_peaks(samples, rate), 0.0, []
    for push in GAIN_FACTORS:
        gain += push * (wanted - found)
        gains = gain_curve(peaks, len(samples), rate, room - gain) * 10 ** (gain / 20)
        found, span = _measured(weighted * gains, rate, kind)
        tries.append((abs(found - wanted) + span, gains, found))
        if tries[-1][0] < LOUDNESS_TOLERANCE_LU:
            break
    _, gains, found = min(tries, key=lambda each: each[0])
    return gains, found


def _faded(samples: Samples, rate: int, before: int, after: int) -> Samples:
    """Fades of at most FADE_S at both ends, within the `before` and `after` samples of margin, but
    SHORT_FADE_S where there are less: what sounds keeps its level."""
    faded = samples.copy()
    for side, margin in ((faded, before), (faded[::-1], after)):
        lap = max(min(count(FADE_S, rate), margin), count(SHORT_FADE_S, rate))
        lap = min(lap, len(samples) // 2)
        side[:lap] *= 0.5 - 0.5 * np.cos(np.pi * (np.arange(lap) + 0.5) / lap)
    return faded
