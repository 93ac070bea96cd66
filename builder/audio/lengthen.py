"""The long form: the steady middle of the target made longer inside the real clip, all else
left as it is. Friction is drawn at random (noise), a voice goes on period by period (periods); a
sound with both is taken apart, and each is made longer in its own way, also where the voice does
not last (devoiced).
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from builder.audio.core import Core, core, rms
from builder.audio.devoiced import apart, devoiced_middle
from builder.audio.noise import LAP, RAMP, evened, noise_middle
from builder.audio.periods import LEAST, Marks, below, marks, periods_middle, voice_top, within
from builder.audio.speech import Samples, Speech, count

__all__ = ["LAP", "held", "steady"]

RUMBLE = 150.0  # Hz; below it lies nothing of a voiceless sound
BESIDE = 0.025  # seconds; two periods of a low voice


def held(speech: Speech, seconds: float, *, voiced: bool, noisy: bool, seed: int) -> Speech:
    """`speech` with its target `seconds` long (a voiced one within a period of the voice).

    noisy: the target holds friction. Raises ValueError when the target is not known, or nothing
    in it is steady.
    """
    if speech.target is None:
        raise ValueError("a sound can only be held where its place is known")
    start, stop = speech.target
    left, middle, right = _longer(speech, seconds, voiced=voiced, noisy=noisy, seed=seed)
    parts = (speech.samples[: start + left], middle, speech.samples[start + right :])
    samples = np.concatenate(parts)
    return replace(
        speech, samples=samples, target=(start, len(samples) - len(speech.samples) + stop)
    )


def steady(
    target: Samples, rate: int, seconds: float, *, voiced: bool, noisy: bool, seed: int
) -> Samples:
    """Nothing but the steady middle of `target`, about `seconds` long and of even level.

    ValueError as `held`.
    """
    random, wanted = np.random.default_rng(seed), count(seconds, rate)
    at = core(target, rate, voiced=voiced, noisy=noisy)
    target, _ = _without_room(target, rate, voiced=voiced)
    if voiced and noisy and (two := apart(target, rate, at)):
        return devoiced_middle(target, rate, two, wanted, random)
    found = _marks(target, rate, at, target, 0) if voiced else np.array([at.left, at.right])
    part = target[found[0] : found[-1]]
    flat, _ = evened(part - part.mean(), rate)
    return _middle(flat, found - found[0], wanted, rate, random, 1.0, voiced=voiced, noisy=noisy)


def _longer(
    speech: Speech, seconds: float, *, voiced: bool, noisy: bool, seed: int
) -> tuple[int, Samples, int]:
    """What stands for [left, right) of the target, so that all of it lasts `seconds`."""
    rate, (start, stop) = speech.rate, speech.target or (0, 0)
    random = np.random.default_rng(seed)
    whole = speech.samples[start:stop]
    at = core(whole, rate, voiced=voiced, noisy=noisy)
    target, room = _without_room(whole, rate, voiced=voiced)
    two = apart(target, rate, at) if voiced and noisy else None
    found = np.array([at.left, at.right])
    if voiced and not two:
        before = min(start, count(BESIDE, rate))
        wide = speech.samples[start - before : stop + count(BESIDE, rate)]
        found = _marks(target, rate, at, wide, before)
    left, right = (int(two.found[0]), two.friction[1]) if two else (int(found[0]), int(found[-1]))
    wanted = count(seconds, rate) - left - (len(target) - right)
    if two:
        return left, devoiced_middle(target, rate, two, wanted, random), right
    part = target[left:right]
    gain = at.level(target) / rms(part)
    long = _middle(part, found - left, wanted, rate, random, gain, voiced=voiced, noisy=noisy)
    return left, long + _fading(room[left:right], len(long), rate), right


def _without_room(target: Samples, rate: int, *, voiced: bool) -> tuple[Samples, Samples]:
    """The target, and what of it is no part of a voiceless sound: the rumble of the room, of which
    random grains would make another noise."""
    room = np.zeros(len(target)) if voiced else below(target, rate, RUMBLE)
    return target - room, room


def _fading(room: Samples, wanted: int, rate: int) -> Samples:
    """The beginning and the end of the rumble, which lead out of it and into it again."""
    lap = min(count(RAMP, rate), len(room), wanted // 2)
    fade = np.cos(np.linspace(0, np.pi / 2, lap)) ** 2
    out = np.zeros(wanted)
    out[:lap] = room[:lap] * fade
    out[wanted - lap :] += room[len(room) - lap :] * fade[::-1]
    return out


def _marks(target: Samples, rate: int, at: Core, wide: Samples, before: int) -> Marks:
    """Where the periods begin that are drawn from. wide: the target with what is beside it, from
    `before` samples before it, where its last period may end.

    ValueError where there is no steady voice.
    """
    every = marks(wide, rate, before + (at.left + at.right) // 2) - before
    inside = every[(every > 0) & (every < len(target))]
    found = within(inside, at.left, at.right, len(target))
    if len(found) <= LEAST:
        raise ValueError("Its voice is too short or too rough to be held.")
    return found


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
