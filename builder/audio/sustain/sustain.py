"""The long form: the steady middle of the target made longer inside the real clip, all else
left as it is. Friction is drawn at random (noise), a voice goes on period by period (periods); a
sound with both is taken apart, and each is made longer in its own way, also where the voice does
not last (devoiced).
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from builder.audio.speech import Samples, Speech, count
from builder.audio.sustain.devoiced import Apart, apart, devoiced_middle
from builder.audio.sustain.grains import LAP, RAMP, evened, noise_middle
from builder.audio.sustain.psola import (
    LEAST,
    Marks,
    below,
    marks,
    periods_middle,
    voice_top,
    within,
)
from builder.audio.sustain.steady_state import Core, core, rms

__all__ = ["LAP", "held", "steady"]

RUMBLE = 150.0  # Hz; below it lies nothing of a voiceless sound
BESIDE = 0.025  # seconds; two periods of a low voice


@dataclass(frozen=True)
class _Source:
    """What a longer sound is drawn from.

    start:  the target's first sample.
    target: its samples; of a voiceless sound without `room`: rumble is no part of it, and random
            grains would make another noise of that.
    found:  its marks; of a voiceless sound both ends of what stands still.
    two:    where voice and friction are drawn from apart.
    """

    start: int
    target: Samples
    core: Core
    found: Marks
    two: Apart | None = None
    room: Samples | None = None

    @property
    def span(self) -> tuple[int, int]:
        """[left, right) of the target that is replaced."""
        return int(self.found[0]), self.two.friction[1] if self.two else int(self.found[-1])


def held(speech: Speech, seconds: float, *, voiced: bool, noisy: bool, seed: int) -> Speech:
    """`speech` with its target `seconds` long (a voiced one within a period of the voice).

    noisy: the target holds friction. Raises ValueError when the target is not known, or nothing
    in it is steady.
    """
    random, rate = np.random.default_rng(seed), speech.rate
    source = _source(speech, voiced=voiced, noisy=noisy)
    left, right = source.span
    wanted = count(seconds, rate) - left - (len(source.target) - right)
    if source.two:
        middle = devoiced_middle(source.target, rate, source.two, wanted, random)
    else:
        part = source.target[left:right]
        gain = source.core.level(source.target) / rms(part)
        marks_ = source.found - left
        middle = _middle(part, marks_, wanted, rate, random, gain, voiced=voiced, noisy=noisy)
        if source.room is not None:
            middle = middle + _fading(source.room[left:right], len(middle), rate)
    start = source.start
    before, after = speech.samples[: start + left], speech.samples[start + right :]
    samples = np.concatenate([before, middle, after])
    more = len(middle) - (right - left)
    return replace(speech, samples=samples, target=(start, start + len(source.target) + more))


def steady(
    target: Samples, rate: int, seconds: float, *, voiced: bool, noisy: bool, seed: int
) -> Samples:
    """Nothing but the steady middle of `target`, about `seconds` long and of even level.

    ValueError as `held`.
    """
    random, wanted = np.random.default_rng(seed), count(seconds, rate)
    alone = Speech(target, rate, (0, len(target)), "embedded")
    source = _source(alone, voiced=voiced, noisy=noisy)
    if source.two:
        return devoiced_middle(source.target, rate, source.two, wanted, random)
    left, right = source.span
    part = source.target[left:right]
    flat, _ = evened(part - part.mean(), rate)
    marks_ = source.found - left
    return _middle(flat, marks_, wanted, rate, random, 1.0, voiced=voiced, noisy=noisy)


def _source(speech: Speech, *, voiced: bool, noisy: bool) -> _Source:
    if speech.target is None:
        raise ValueError("a sound can only be held where its place is known")
    (start, stop), rate = speech.target, speech.rate
    whole = speech.samples[start:stop]
    at = core(whole, rate, voiced=voiced, noisy=noisy)
    if not voiced:
        room = below(whole, rate, RUMBLE)
        return _Source(start, whole - room, at, np.array([at.left, at.right]), room=room)
    if noisy and (two := apart(whole, rate, at)):
        return _Source(start, whole, at, two.found, two)
    return _Source(start, whole, at, _marks(speech, start, stop, at))


def _marks(speech: Speech, start: int, stop: int, at: Core) -> Marks:
    """Where the periods begin that are drawn from, in [start, stop); the last one may end in what
    is beside it. ValueError where there is no steady voice.
    """
    rate = speech.rate
    before = min(start, count(BESIDE, rate))
    wide = speech.samples[start - before : stop + count(BESIDE, rate)]
    every = marks(wide, rate, before + (at.left + at.right) // 2) - before
    inside = every[(every > 0) & (every < stop - start)]
    found = within(inside, at.left, at.right, stop - start)
    if len(found) <= LEAST:
        raise ValueError("Its voice is too short or too rough to be held.")
    return found


def _fading(room: Samples, wanted: int, rate: int) -> Samples:
    """The beginning and the end of the rumble, which lead out of it and into it again."""
    lap = min(count(RAMP, rate), len(room), wanted // 2)
    fade = np.cos(np.linspace(0, np.pi / 2, lap)) ** 2
    out = np.zeros(wanted)
    out[:lap] = room[:lap] * fade
    out[wanted - lap :] += room[len(room) - lap :] * fade[::-1]
    return out


def _middle(
    part: Samples,
    found: Marks,
    wanted: int,
    rate: int,
    random: np.random.Generator,
    gain: float,
    *,
    voiced: bool,
    noisy: bool,
) -> Samples:
    """About `wanted` samples that begin and end as `part` does. found: its marks, if voiced."""
    if not voiced:
        return noise_middle(part, wanted, rate, random=random, gain=gain)
    if noisy:
        return _both(part, found, wanted, rate, random, gain)
    return periods_middle(part, found, wanted, rate, random=random, gain=gain)


def _both(
    part: Samples, found: Marks, wanted: int, rate: int, random: np.random.Generator, gain: float
) -> Samples:
    """Voice below, friction above where it no longer repeats itself."""
    period = int(np.median(np.diff(found)))
    voice = below(part, rate, voice_top(part, rate, period))
    long = periods_middle(voice, found, wanted, rate, random=random, gain=gain)
    return np.asarray(long + noise_middle(part - voice, len(long), rate, random=random, gain=gain))
