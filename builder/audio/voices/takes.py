"""Recordings that the clinic made: a WAV, FLAC or MP3 file in, one channel out, at its own rate.

Where the target lies in a take is not known here. A long form is spoken from a take only when
it was recorded as one, in a file of its own (`cow-long.wav`).
"""

from __future__ import annotations

from pathlib import Path

import numpy as np
import soundfile

from builder.audio.speech import Samples, Speech
from builder.problems import UsageError

RATES = (22050, 24000, 32000, 44100, 48000)  # Hz; the rates of MP3 from 22.05 kHz upwards
LONG = ("-long", "_long", " long")
LONGEST = 60.0  # seconds; a practice item is never longer


def is_long(path: str) -> bool:
    """Whether a take's name says that the target is held in it."""
    return Path(path).stem.lower().endswith(LONG)


def read(path: str, *, alone: bool) -> Speech:
    """The take; its channels are averaged, its rate is kept wherever MP3 has it.

    Raises UsageError when the file cannot be read or holds no sound.
    """
    try:
        with soundfile.SoundFile(path) as file:
            rate = int(file.samplerate)
            if file.frames > LONGEST * rate:
                raise UsageError(f"{path}: a take may last {LONGEST:.0f} seconds at most")
            channels = file.read(dtype="float64", always_2d=True)
    except (OSError, soundfile.LibsndfileError) as error:
        raise UsageError(f"{path}: this take cannot be read as WAV, FLAC or MP3") from error
    samples, rate = at_good_rate(channels.mean(axis=1), rate)
    if not np.all(np.isfinite(samples)) or not np.any(samples):
        raise UsageError(f"{path}: this take holds no sound")
    return Speech(samples, rate, (0, len(samples)) if alone else None, "take")


def at_good_rate(samples: Samples, rate: int) -> tuple[Samples, int]:
    """`samples` as they are when MP3 has their rate from 22.05 kHz up, else at the next one."""
    if rate in RATES:
        return samples, rate
    import soxr

    wanted = next((r for r in RATES if r >= rate), RATES[-1])
    return np.asarray(soxr.resample(samples, rate, wanted), np.float64), wanted
