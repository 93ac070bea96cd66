"""What can be wrong with a recording, measured: noise, clipping, offset, hum, cut ends, no voice.

Levels are K-weighted (builder.audio.dsp.measures) and on the scale of LUFS.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from builder.audio.assess.disturbances import Disturbances, disturbances
from builder.audio.dsp.measures import fft_size
from builder.audio.dsp.runs import Mask, runs
from builder.audio.dsp.voice_activity import CODER_PADDING_S, PIECE_S, VoiceActivity, detect_voice
from builder.audio.speech import Samples, count

CLIP_LEVEL = 0.9985  # of full scale: 32 720 of 32 768; converters stop there or a little below
CLIP_RUN_SAMPLES = 3  # samples
FLAT_TOP_SHARE = 0.002  # of the peak by which a flat top may waver
# Times FLAT_TOP_SHARE by which a flat top leaves its plateau: a smooth crest does not.
CORNER_FACTOR = 4.0
CREST_S, NEAR_CLIP_LEVEL = 0.005, 0.97  # seconds; of full scale
VOICE_LOWEST_HZ = 60.0  # below it is no voice
VOICED_CORRELATION = 0.6  # correlation of one period with the next, from which on there is a voice
PITCH_PERIODS_S = (1 / 400, 1 / 70)  # periods of voices
NOISE_MAX_S = 5.0  # seconds of silence; more would tell nothing new
# Hz; below it the periods of a voice are looked for, at four times as many samples.
PITCH_BAND_HZ = 1000.0
VOICING_FRAME_S = 0.040  # seconds over which a voice is looked for
MAINS_HZ = (50, 60)
HUM_WINDOW_S = 0.2
# Bins of 5 Hz on each side whose median a line stands above, and how far.
HUM_NEIGHBOUR_BINS, HUM_LINE_RATIO = 8, 8.0


@dataclass(frozen=True, kw_only=True)
class Measurements:
    """Figures of one recording.

    loudness: LUFS (gated RMS under 400 ms); -inf for silence.
    noise:    LUFS where nobody speaks; None when there is no such part.
    noise_samples: what is recorded there, one after the other, five seconds at most.
    spoken:   [first, past) sample that sounds.
    clipped, flat: how many runs of samples at full scale, and at a flat top below it.
    near_clipped: how many pieces of 5 ms nearly reach full scale.
    offset:   the mean, of full scale.
    head, tail: LUFS of the first and last 20 ms.
    voiced:   share of the sounding time that holds a voice, 0..1.
    pause:    seconds of the longest silence inside.
    hum:      share of the noise under 450 Hz that is the mains, 0..1.
    disturbances: by a room, a cable or a computer.
    """

    seconds: float
    loudness: float
    noise: float | None
    noise_samples: Samples
    spoken: tuple[int, int]
    clipped: int
    flat: int
    near_clipped: int
    offset: float
    head: float
    tail: float
    voiced: float
    pause: float
    hum: float
    disturbances: Disturbances


def measure(samples: Samples, rate: int) -> Measurements:
    """All figures of `samples`."""
    found = detect_voice(samples, rate)
    inner = samples[found.first : found.past]
    offset = float(inner.mean()) if len(inner) else 0.0
    quiet = (inner - offset)[np.repeat(found.quiet, count(PIECE_S, rate))[: len(inner)]]
    quiet = quiet[: count(NOISE_MAX_S, rate)]
    head, tail = _ends(found, len(samples), rate)
    span = found.span(rate)
    return Measurements(
        seconds=len(samples) / rate,
        loudness=found.loudness,
        noise=found.noise,
        noise_samples=quiet,
        spoken=span,
        clipped=clipped_runs(samples),
        flat=flat_tops(samples),
        near_clipped=near_clipped(samples, rate),
        offset=offset,
        head=head,
        tail=tail,
        voiced=voiced(samples[slice(*span)], rate),
        pause=_pause(found.quiet[slice(*found.spoken)]),
        hum=hum(quiet, rate),
        disturbances=disturbances(samples, rate, span),
    )


def _ends(found: VoiceActivity, length: int, rate: int) -> tuple[float, float]:
    """LUFS of the first and last 20 ms; -inf where zeros lie that no coder padded."""
    before, after = found.first / rate, (length - found.past) / rate
    head = float(found.levels[:2].max(initial=-np.inf)) if before < CODER_PADDING_S else -np.inf
    tail = float(found.levels[-2:].max(initial=-np.inf)) if after < CODER_PADDING_S else -np.inf
    return head, tail


def _pause(quiet: Mask) -> float:
    """Seconds of the longest run of quiet pieces."""
    return max((past - first for first, past in runs(quiet)), default=0) * PIECE_S


def near_clipped(samples: Samples, rate: int) -> int:
    """How many pieces of 5 ms nearly reach full scale: clipped before it was coded with loss."""
    size = count(CREST_S, rate)
    peaks = _pieces(np.abs(samples), size).max(axis=1, initial=0.0)
    return int((peaks >= NEAR_CLIP_LEVEL).sum())


def _pieces(samples: Samples, size: int) -> Samples:
    return np.pad(samples, (0, -len(samples) % size)).reshape(-1, size)


def clipped_runs(samples: Samples) -> int:
    """How many runs of three or more samples reach full scale."""
    return sum(
        past - first >= CLIP_RUN_SAMPLES for first, past in runs(np.abs(samples) >= CLIP_LEVEL)
    )


def flat_tops(samples: Samples) -> int:
    """How many crests are cut off flat at one level below full scale: clipped, then made softer.

    Three or more samples lie still at the greatest value of their side, and the wave leaves that
    level at a corner. A few may be chance.
    """
    return sum(_flat(side * samples) for side in (1, -1))


def _flat(samples: Samples) -> int:
    peak = float(samples.max(initial=0.0))
    if peak <= 0.0 or len(samples) < CLIP_RUN_SAMPLES:
        return 0
    first, past = np.array(runs(samples >= (1 - FLAT_TOP_SHARE) * peak)).T
    beside = [np.abs(samples[np.clip(at, 0, len(samples) - 1)]) for at in (first - 1, past)]
    corner = np.minimum(*beside) < (1 - CORNER_FACTOR * FLAT_TOP_SHARE) * peak
    return int(((past - first >= CLIP_RUN_SAMPLES) & corner).sum())


def voiced(samples: Samples, rate: int) -> float:
    """Share of frames of 40 ms in which a voice sounds: what is below 1 kHz repeats itself."""
    step = max(1, int(rate / (4 * PITCH_BAND_HZ)))
    low, rate = _low(samples, rate)[::step], rate // step
    size = count(VOICING_FRAME_S, rate)
    if len(low) < size:
        return 0.0
    frames = np.lib.stride_tricks.sliding_window_view(low, size)[:: size // 2]
    return float((_periodicity(frames, rate) > VOICED_CORRELATION).mean())


def _low(samples: Samples, rate: int) -> Samples:
    size = fft_size(max(1, len(samples)))
    spectrum = np.fft.rfft(samples, size)
    hertz = np.fft.rfftfreq(size, 1 / rate)
    spectrum[(hertz > PITCH_BAND_HZ) | (hertz < VOICE_LOWEST_HZ)] = 0
    return np.asarray(np.fft.irfft(spectrum, size)[: len(samples)])


def _periodicity(frames: Samples, rate: int) -> Samples:
    """The greatest normalized autocorrelation of each frame at the periods of voices."""
    size = frames.shape[1]
    power = np.abs(np.fft.rfft(frames, 2 * size)) ** 2
    found = np.fft.irfft(power)[:, :size]
    lags = np.arange(
        round(PITCH_PERIODS_S[0] * rate), min(size - 1, round(PITCH_PERIODS_S[1] * rate))
    )
    shape = size / (size - lags)
    return np.asarray((found[:, lags] / (found[:, :1] + 1e-15) * shape).max(axis=1))


def hum(quiet: Samples, rate: int) -> float:
    """Share of the power from 40 to 450 Hz that stands in lines on multiples of 50 or of 60 Hz."""
    size = count(HUM_WINDOW_S, rate)
    if len(quiet) < size:
        return 0.0
    windows = np.lib.stride_tricks.sliding_window_view(quiet, size)[:: size // 4]
    power = (np.abs(np.fft.rfft(windows * np.hanning(size))) ** 2).mean(axis=0)
    hertz = np.fft.rfftfreq(size, 1 / rate)
    around = np.lib.stride_tricks.sliding_window_view(
        np.pad(power, HUM_NEIGHBOUR_BINS), 2 * HUM_NEIGHBOUR_BINS + 1
    )
    lines = power > HUM_LINE_RATIO * np.median(around, axis=1)
    low = (hertz >= 40) & (hertz <= 450)
    apart = [np.abs(hertz - mains * np.round(hertz / mains)) for mains in MAINS_HZ]
    share = max(power[low & lines & (each <= 6)].sum() for each in apart)
    return float(share / power[low].sum()) if power[low].sum() > 0 else 0.0
