"""A voiced fricative that loses its voice while its friction goes on, as at the end of most words
and in the middle of many: held as it is it would be the voiceless sound. Its voice is made longer
where it sounds, its friction where that stands still.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from builder.audio.dsp.runs import runs
from builder.audio.dsp.spectrum import FRAME, STEP
from builder.audio.speech import Samples, count
from builder.audio.sustain.grains import noise_middle
from builder.audio.sustain.psola import LEAST, Marks, below, marks, periods_middle, within
from builder.audio.sustain.steady_state import Core, rms

HUM = 500.0  # Hz; below it a voice is heard through the narrow passage of a fricative
GONE = 12.0  # dB below its loudest: there is no voice (common practice, no source)
MOST = 0.75  # of what stands still: a voice that lasts so long lasts through it
WEAK = 8.0  # dB below the friction: it is voiceless (common practice, no source)
SOFTER = 6.0  # dB below the loudest of the voice, as it is held
VOICE = 0.030  # seconds of voice that are drawn from, where there is so much
STILL = 0.010  # seconds of friction at least
ONSET = 0.005  # seconds at the beginning that always stay: the voice soon fades
FALL = 0.030  # seconds in which the voice dies away at the end
NO_VOICE = "It has too little voice to be held: it would be heard as another sound."
Span = tuple[int, int]


@dataclass(frozen=True)
class Apart:
    """Where in a target voice and friction are drawn from: its marks, the samples of what stands
    still. voice: the root mean square that the voice is to have."""

    found: Marks
    voice: float
    friction: Span


def apart(target: Samples, rate: int, core: Core) -> Apart | None:
    """None where the voice lasts as long as what stands still.

    ValueError, a sentence, where there is hardly any.
    """
    stretches, loudest = _voice(target, rate)
    friction = target - below(target, rate, 2 * HUM)
    if loudest < rms(friction[core.left : core.right]) * 10 ** (-WEAK / 20):
        raise ValueError(NO_VOICE)
    first, past = stretches[0]
    voiced = sum(max(0, min(b, core.right) - max(a, core.left)) for a, b in stretches)
    if first > core.left or voiced > MOST * (core.right - core.left):
        return None
    left = max(first, min(core.left, past - count(VOICE, rate)), count(ONSET, rate))
    every = marks(target[:past], rate, (left + past) // 2)
    found = within(every, left, past, past)
    friction_from = max(core.left, int(found[0])) if len(found) > LEAST else core.right
    if core.right - friction_from < count(STILL, rate):
        raise ValueError(NO_VOICE)
    return Apart(found, loudest * 10 ** (-SOFTER / 20), (friction_from, core.right))


def _voice(target: Samples, rate: int) -> tuple[list[Span], float]:
    """The samples [first, past) of each stretch of the target in which a voice sounds, and the root
    mean square of its loudest frame."""
    frame, step = min(count(FRAME, rate), len(target)), count(STEP, rate)
    low = below(target, rate, HUM)
    frames = np.lib.stride_tricks.sliding_window_view(low, frame)[::step]
    power = (frames**2).mean(axis=1)
    loud = runs(power > power.max() * 10 ** (-GONE / 10))
    spans = [(first * step, (past - 1) * step + frame) for first, past in loud]
    return spans, float(np.sqrt(power.max()))


def devoiced_middle(
    target: Samples, rate: int, at: Apart, wanted: int, random: np.random.Generator
) -> Samples:
    """About `wanted` samples in place of [first mark, end of the friction) of the target."""
    left, (first, right) = int(at.found[0]), at.friction
    voice = below(target, rate, HUM)  # above it is what is left of a vowel
    voiced = voice[left : int(at.found[-1])]
    gain = at.voice / rms(voiced)
    long = periods_middle(voiced, at.found - left, wanted, rate, random=random, gain=gain)
    fall = min(count(FALL, rate), len(long))
    long[len(long) - fall :] *= np.cos(np.linspace(0, np.pi / 2, fall)) ** 2
    rest = target - voice
    still = rest[first:right]
    gain = rms(still) / rms(rest[left:right])
    return np.asarray(
        long
        + noise_middle(rest[left:right], len(long), rate, random=random, gain=gain, source=still)
    )
