"""The long form: the steady middle of the target sustained inside the real clip, all else
left as it is. Friction is drawn at random (grains), a voice goes on period by period (psola); a
sound with both is taken apart, and each is sustained in its own way, also where the voice does
not last (devoiced).
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from builder.audio.speech import Samples, Speech, count
from builder.audio.sustain.devoiced import DevoicedSource, devoiced_source, sustain_devoiced
from builder.audio.sustain.grains import RAMP_S, flattened, sustain_friction
from builder.audio.sustain.psola import (
    PERIODS_MIN,
    PitchMarks,
    low_passed,
    marks_within,
    pitch_marks,
    sustain_voice,
    voicing_limit,
)
from builder.audio.sustain.steady_state import SteadyState, rms, steady_state

RUMBLE_HZ = 150.0  # below it lies nothing of a voiceless sound
PITCH_MARGIN_S = 0.025  # two periods of a low voice


@dataclass(frozen=True)
class _Source:
    """What a longer sound is drawn from.

    start:    the target's first sample.
    target:   its samples; of a voiceless sound without `room`: rumble is no part of it, and random
              grains would make another noise of that.
    marks:    its pitch marks; of a voiceless sound both ends of what is steady.
    devoiced: where voice and friction are drawn from apart.
    """

    start: int
    target: Samples
    steady: SteadyState
    marks: PitchMarks
    devoiced: DevoicedSource | None = None
    room: Samples | None = None

    @property
    def span(self) -> tuple[int, int]:
        """[left, right) of the target that is replaced."""
        return int(self.marks[0]), self.devoiced.friction[1] if self.devoiced else int(
            self.marks[-1]
        )


def sustain_target(
    speech: Speech, seconds: float, *, voiced: bool, noisy: bool, seed: int
) -> Speech:
    """`speech` with its target `seconds` long (a voiced one within a period of the voice).

    noisy: the target holds friction. Raises ValueError when the target is not known, or nothing
    in it is steady.
    """
    if speech.target is None:
        raise ValueError("A sound can only be held where its place is known.")
    random, rate = np.random.default_rng(seed), speech.rate
    source = _source(speech.samples, rate, speech.target, voiced=voiced, noisy=noisy)
    left, right = source.span
    wanted = count(seconds, rate) - left - (len(source.target) - right)
    if source.devoiced:
        middle = sustain_devoiced(source.target, rate, source.devoiced, wanted, random)
    else:
        part = source.target[left:right]
        gain = source.steady.level(source.target) / rms(part)
        marks = source.marks - left
        middle = _sustained_middle(
            part, marks, wanted, rate, random, gain, voiced=voiced, noisy=noisy
        )
        if source.room is not None:
            middle = middle + _rumble_at_ends(source.room[left:right], len(middle), rate)
    start = source.start
    before, after = speech.samples[: start + left], speech.samples[start + right :]
    samples = np.concatenate([before, middle, after])
    more = len(middle) - (right - left)
    return replace(speech, samples=samples, target=(start, start + len(source.target) + more))


def sustained_sound(
    target: Samples, rate: int, seconds: float, *, voiced: bool, noisy: bool, seed: int
) -> Samples:
    """Nothing but the steady middle of `target`, about `seconds` long and of even level.

    ValueError as `sustain_target`.
    """
    random, wanted = np.random.default_rng(seed), count(seconds, rate)
    source = _source(target, rate, (0, len(target)), voiced=voiced, noisy=noisy)
    if source.devoiced:
        return sustain_devoiced(source.target, rate, source.devoiced, wanted, random)
    left, right = source.span
    part = source.target[left:right]
    flat, _ = flattened(part - part.mean(), rate)
    marks = source.marks - left
    return _sustained_middle(flat, marks, wanted, rate, random, 1.0, voiced=voiced, noisy=noisy)


def _source(
    samples: Samples, rate: int, target: tuple[int, int], *, voiced: bool, noisy: bool
) -> _Source:
    start, stop = target
    whole = samples[start:stop]
    at = steady_state(whole, rate, voiced=voiced, noisy=noisy)
    if not voiced:
        room = low_passed(whole, rate, RUMBLE_HZ)
        return _Source(start, whole - room, at, np.array([at.left, at.right]), room=room)
    if noisy and (devoiced := devoiced_source(whole, rate, at)):
        return _Source(start, whole, at, devoiced.marks, devoiced)
    return _Source(start, whole, at, _steady_marks(samples, rate, target, at))


def _steady_marks(
    samples: Samples, rate: int, target: tuple[int, int], at: SteadyState
) -> PitchMarks:
    """Where the periods begin that are drawn from, in the target; the last one may end in what is
    beside it. ValueError where there is no steady voice.
    """
    start, stop = target
    before = min(start, count(PITCH_MARGIN_S, rate))
    wide = samples[start - before : stop + count(PITCH_MARGIN_S, rate)]
    every = pitch_marks(wide, rate, before + (at.left + at.right) // 2) - before
    inside = every[(every > 0) & (every < stop - start)]
    found = marks_within(inside, at.left, at.right, stop - start)
    if len(found) <= PERIODS_MIN:
        raise ValueError("Its voice is too short or too rough to be held.")
    return found


def _rumble_at_ends(room: Samples, wanted: int, rate: int) -> Samples:
    """The beginning and the end of the rumble, which lead out of it and into it again."""
    lap = min(count(RAMP_S, rate), len(room), wanted // 2)
    fade = np.cos(np.linspace(0, np.pi / 2, lap)) ** 2
    out = np.zeros(wanted)
    out[:lap] = room[:lap] * fade
    out[wanted - lap :] += room[len(room) - lap :] * fade[::-1]
    return out


def _sustained_middle(
    part: Samples,
    marks: PitchMarks,
    wanted: int,
    rate: int,
    random: np.random.Generator,
    gain: float,
    *,
    voiced: bool,
    noisy: bool,
) -> Samples:
    """About `wanted` samples that begin and end as `part` does. marks: if voiced."""
    if not voiced:
        return sustain_friction(part, wanted, rate, random=random, gain=gain)
    if noisy:
        return _voice_and_friction(part, marks, wanted, rate, random, gain)
    return sustain_voice(part, marks, wanted, rate, random=random, gain=gain)


def _voice_and_friction(
    part: Samples,
    marks: PitchMarks,
    wanted: int,
    rate: int,
    random: np.random.Generator,
    gain: float,
) -> Samples:
    """Voice below, friction above where it no longer repeats itself."""
    period = int(np.median(np.diff(marks)))
    voice = low_passed(part, rate, voicing_limit(part, rate, period))
    long = sustain_voice(voice, marks, wanted, rate, random=random, gain=gain)
    return np.asarray(
        long + sustain_friction(part - voice, len(long), rate, random=random, gain=gain)
    )
