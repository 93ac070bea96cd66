"""Recordings that the clinic made: any sound file in, one channel out, at its own rate.

Where the target lies in a take was found before, by aligning it with the phones of its item.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from builder.audio.io.decode import decode
from builder.audio.speech import Samples, Speech, count
from builder.problems import UsageError

if TYPE_CHECKING:
    from builder.model.plan import Clip

PACE = ""
MP3_RATES_HZ = (22050, 24000, 32000, 44100, 48000)  # the rates of MP3 from 22.05 kHz upwards


def say(clip: Clip) -> Speech:
    """The clip's recording, with its target where it was found. UsageError: it cannot be read."""
    speech = read_take(clip.take, alone=clip.alone)
    if clip.span is None:
        return speech
    start, stop = (count(seconds, speech.rate) for seconds in clip.span)
    return replace(speech, target=(start, min(stop, len(speech.samples))))


def read_take(path: str, *, alone: bool) -> Speech:
    """The take, from one channel; its rate is kept wherever MP3 has it.

    Raises UsageError when the file cannot be read or holds no sound.
    """
    samples, rate = at_good_rate(*decode(path))
    if not np.any(samples):
        raise UsageError(f"{path}: this recording holds no sound")
    return Speech(samples, rate, (0, len(samples)) if alone else None, "recorded")


def at_good_rate(samples: Samples, rate: int) -> tuple[Samples, int]:
    """`samples` as they are when MP3 has their rate from 22.05 kHz up, else at the next one."""
    if rate in MP3_RATES_HZ:
        return samples, rate
    import soxr

    wanted = next((r for r in MP3_RATES_HZ if r >= rate), MP3_RATES_HZ[-1])
    return np.asarray(soxr.resample(samples, rate, wanted), np.float64), wanted
