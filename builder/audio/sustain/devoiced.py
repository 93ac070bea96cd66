"""A voiced fricative that loses its voice while its friction goes on, as at the end of most words
and in the middle of many: sustained as it is, it would be the voiceless sound. Its voice is
sustained where it sounds, its friction where that is steady.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from builder.audio.dsp.runs import runs
from builder.audio.dsp.spectrum import FRAME_S, STEP_S
from builder.audio.speech import Samples, count
from builder.audio.sustain.grains import sustain_friction
from builder.audio.sustain.psola import (
    PERIODS_MIN,
    PitchMarks,
    low_passed,
    marks_within,
    pitch_marks,
    sustain_voice,
)
from builder.audio.sustain.steady_state import SteadyState, rms

VOICE_BAND_HZ = 500.0  # below it a voice is heard through the narrow passage of a fricative
VOICE_GONE_DB = 12.0  # dB below its loudest: there is no voice (common practice, no source)
VOICED_MAX_SHARE = 0.75  # of what is steady: a voice that lasts so long lasts through it
VOICE_WEAK_DB = 8.0  # dB below the friction: it is voiceless (common practice, no source)
VOICE_SOFTER_DB = 6.0  # dB below the loudest of the voice, as it is held
VOICE_S = 0.030  # seconds of voice that are drawn from, where there is so much
FRICTION_MIN_S = 0.010  # seconds of friction at least
ONSET_S = 0.005  # at the beginning that always stay: the voice soon fades
VOICE_FALL_S = 0.030  # in which the voice dies away at the end
NO_VOICE = "It has too little voice to be held: it would be heard as another sound."
Span = tuple[int, int]


@dataclass(frozen=True)
class DevoicedSource:
    """Where in a target voice and friction are drawn from: its pitch marks, the samples of what
    is steady. voice: the root mean square that the voice is to have."""

    marks: PitchMarks
    voice: float
    friction: Span


def devoiced_source(target: Samples, rate: int, steady: SteadyState) -> DevoicedSource | None:
    """None where the voice lasts as long as what is steady.

    ValueError, a sentence, where there is hardly any.
    """
    voiced_spans, loudest = _voice(target, rate)
    friction = target - low_passed(target, rate, 2 * VOICE_BAND_HZ)
    if loudest < rms(friction[steady.left : steady.right]) * 10 ** (-VOICE_WEAK_DB / 20):
        raise ValueError(NO_VOICE)
    first, past = voiced_spans[0]
    voiced = sum(max(0, min(b, steady.right) - max(a, steady.left)) for a, b in voiced_spans)
    if first > steady.left or voiced > VOICED_MAX_SHARE * (steady.right - steady.left):
        return None
    left = max(first, min(steady.left, past - count(VOICE_S, rate)), count(ONSET_S, rate))
    every = pitch_marks(target[:past], rate, (left + past) // 2)
    kept = marks_within(every, left, past, past)
    friction_from = max(steady.left, int(kept[0])) if len(kept) > PERIODS_MIN else steady.right
    if steady.right - friction_from < count(FRICTION_MIN_S, rate):
        raise ValueError(NO_VOICE)
    return DevoicedSource(
        kept, loudest * 10 ** (-VOICE_SOFTER_DB / 20), (friction_from, steady.right)
    )


def _voice(target: Samples, rate: int) -> tuple[list[Span], float]:
    """The samples [first, past) of each part of the target in which a voice sounds, and the root
    mean square of its loudest frame."""
    frame, step = min(count(FRAME_S, rate), len(target)), count(STEP_S, rate)
    low = low_passed(target, rate, VOICE_BAND_HZ)
    frames = np.lib.stride_tricks.sliding_window_view(low, frame)[::step]
    power = (frames**2).mean(axis=1)
    loud = runs(power > power.max() * 10 ** (-VOICE_GONE_DB / 10))
    spans = [(first * step, (past - 1) * step + frame) for first, past in loud]
    return spans, float(np.sqrt(power.max()))


def sustain_devoiced(
    target: Samples, rate: int, at: DevoicedSource, wanted: int, random: np.random.Generator
) -> Samples:
    """About `wanted` samples in place of [first mark, end of the friction) of the target."""
    left, (first, right) = int(at.marks[0]), at.friction
    voice = low_passed(target, rate, VOICE_BAND_HZ)  # above it is what is left of a vowel
    voiced = voice[left : int(at.marks[-1])]
    gain = at.voice / rms(voiced)
    long = sustain_voice(voiced, at.marks - left, wanted, rate, random=random, gain=gain)
    fall = min(count(VOICE_FALL_S, rate), len(long))
    long[len(long) - fall :] *= np.cos(np.linspace(0, np.pi / 2, fall)) ** 2
    rest = target - voice
    still = rest[first:right]
    gain = rms(still) / rms(rest[left:right])
    return np.asarray(
        long
        + sustain_friction(
            rest[left:right], len(long), rate, random=random, gain=gain, source=still
        )
    )
