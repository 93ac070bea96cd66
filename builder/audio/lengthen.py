"""The long form: the steady middle of the target made longer inside the real clip, all else
left as it is. Friction is drawn at random (noise), a voice goes on period by period (periods); a
sound with both is taken apart, and each is made longer in its own way.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from builder.audio.core import Core, core, rms
from builder.audio.noise import LAP, evened, noise_middle
from builder.audio.periods import LEAST, Marks, below, marks, periods_middle, voice_top, within
from builder.audio.speech import Samples, Speech, count

__all__ = ["LAP", "held", "steady"]


def held(speech: Speech, seconds: float, *, voiced: bool, noisy: bool, seed: int) -> Speech:
    """`speech` with its target `seconds` long (a voiced one within a period of the voice).

    noisy: the target holds friction. Raises ValueError when the target is not known, or nothing
    in it is steady.
    """
    if speech.target is None:
        raise ValueError("a sound can only be held where its place is known")
    start, stop = speech.target
    left, middle, right = _longer(
        speech.samples[start:stop], speech.rate, seconds, voiced=voiced, noisy=noisy, seed=seed
    )
    parts = (speech.samples[: start + left], middle, speech.samples[start + right :])
    samples = np.concatenate(parts)
    return replace(
        speech, samples=samples, target=(start, len(samples) - len(speech.samples) + stop)
    )


def steady(
    target: Samples, rate: int, seconds: float, *, voiced: bool, noisy: bool, seed: int
) -> Samples:
    """Nothing but the steady middle of `target`, `seconds` long and of even level."""
    found = core(target, rate, voiced=voiced, noisy=noisy)
    part = target[found.left : found.right]
    flat, _ = evened(part - part.mean(), rate)
    left, middle, right = _longer(
        flat, rate, seconds, voiced=voiced, noisy=noisy, seed=seed, all_of_it=True
    )
    return np.concatenate([flat[:left], middle, flat[right:]])


def _longer(
    target: Samples,
    rate: int,
    seconds: float,
    *,
    voiced: bool,
    noisy: bool,
    seed: int,
    all_of_it: bool = False,
) -> tuple[int, Samples, int]:
    """What stands for [left, right) of the target, so that all of it lasts `seconds`."""
    random = np.random.default_rng(seed)
    whole = Core(0, len(target), 0, len(target))
    at = whole if all_of_it else core(target, rate, voiced=voiced, noisy=noisy)
    found = np.zeros(0, np.intp)
    if voiced:
        every = marks(target, rate, (at.left + at.right) // 2)
        found = within(every, at.left, at.right, len(target))
    left, right = (at.left, at.right) if len(found) <= LEAST else (int(found[0]), int(found[-1]))
    part = target[left:right]
    gain = at.level(target) / rms(part)
    wanted = count(seconds, rate) - left - (len(target) - right)
    if len(found) <= LEAST:
        return left, noise_middle(part, wanted, rate, random=random, gain=gain), right
    if noisy:
        return left, _both(part, found - left, wanted, rate, random, gain), right
    return left, periods_middle(part, found - left, wanted, rate, random=random, gain=gain), right


def _both(
    part: Samples, found: Marks, wanted: int, rate: int, random: np.random.Generator, gain: float
) -> Samples:
    """Voice below, friction above where it no longer repeats itself."""
    period = int(np.median(np.diff(found)))
    voice = below(part, rate, voice_top(part, rate, period))
    long = periods_middle(voice, found, wanted, rate, random=random, gain=gain)
    return np.asarray(long + noise_middle(part - voice, len(long), rate, random=random, gain=gain))
