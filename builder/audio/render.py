"""One planned clip -> finished samples: who speaks it, in which form, how loud, how good."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from builder.audio.assess.assess import heard
from builder.audio.assess.quality import Quality, judge
from builder.audio.dsp.levelling import Levelled, finish
from builder.audio.speech import Speech
from builder.audio.sustain.isolated import alone
from builder.audio.sustain.sustain import held
from builder.audio.voices import voice
from builder.audio.voices.unspeakable import refusal, target_of

if TYPE_CHECKING:
    from builder.model.clinic import Speaker
    from builder.model.plan import Clip

HOLD = 1.5  # seconds, when the plan names none


@dataclass(frozen=True)
class Recording:
    """A finished clip: samples and their measure, where the target lies in them, who speaks.

    quality: of what the voice said, before it was lengthened and levelled.
    instead: why not the voice that was asked, in a sentence; "" when it is that one.
    """

    levelled: Levelled
    rate: int
    target: tuple[int, int] | None
    voice: Speaker
    quality: Quality
    instead: str
    pace: str


def record(clip: Clip) -> Recording:
    """Speak one clip, by the embedded voice where the one that is asked says it badly.

    ValueError: no voice can make it. UsageError: the online voice cannot be reached.
    """
    instead = ""
    others: tuple[Speaker, ...] = ("embedded",) if clip.words else ()
    for name in dict.fromkeys((clip.voice, *others)):
        try:
            speech, quality = _said(clip, name)
            levelled = _finished(speech)
        except ValueError as problem:
            instead = instead or str(problem)
            continue
        target = _moved(speech, levelled)
        pace = voice(name).PACE
        return Recording(levelled, speech.rate, target, name, quality, instead, pace)
    raise ValueError(instead)


def _said(clip: Clip, name: Speaker) -> tuple[Speech, Quality]:
    """By one voice. ValueError, a sentence, when it says it badly."""
    if clip.alone and name != "recorded":
        return _alone(clip, name)
    speech = voice(name).say(clip)
    if clip.alone:
        return speech, judge(speech.samples, speech.rate, None, target_of(clip), alone=True)
    speech, quality = _measured(clip, speech)
    if clip.form == "natural" or (name == "recorded" and clip.held):
        return speech, quality
    if speech.target is None:
        raise ValueError("The sound was not to be found in what was said.")
    sound = target_of(clip)
    noisy, seed = sound.manner == "fricative", _seed(clip)
    long = held(speech, clip.hold or HOLD, voiced=sound.voiced, noisy=noisy, seed=seed)
    return long, quality


def _alone(clip: Clip, name: Speaker) -> tuple[Speech, Quality]:
    sound = target_of(clip)
    if name not in ("natural", "embedded"):
        raise ValueError(f"The {name} voice speaks words only.")
    made = alone(clip.words[0], sound, clip.hold or HOLD, _seed(clip), name)
    said = judge(made.samples, made.rate, None, sound, form=clip.form, alone=True, machine=True)
    return made, said


def _measured(clip: Clip, speech: Speech) -> tuple[Speech, Quality]:
    """The speech with its target, and its quality. A synthetic voice must not be refused: then
    another speaks; a recording was judged before it came here."""
    sound = target_of(clip) if clip.focus else None
    if speech.voice == "recorded":
        return speech, judge(speech.samples, speech.rate, speech.target, sound)
    if speech.voice == "embedded":
        return speech, judge(speech.samples, speech.rate, speech.target, sound, machine=True)
    quality, target = heard(
        speech.samples,
        speech.rate,
        clip.words,
        clip.focus,
        sound,
        form="natural",
        alone=False,
        machine=True,
    )
    if quality.refused:
        reasons = (r for r in quality.remarks if r.degree == "refused")
        raise ValueError(next(f"{r.sentence.rstrip('.')} ({r.figure})." for r in reasons))
    return replace(speech, target=target), quality


def _finished(speech: Speech) -> Levelled:
    # Where a voice tells positions its target is never trimmed; a take has silence around it.
    exact = speech.target if speech.voice != "recorded" else None
    return finish(speech.samples, speech.rate, exact)


def refuse(clip: Clip) -> None:
    """ValueError when no voice can make it: refusal.py tells why."""
    if reason := refusal(clip):
        raise ValueError(reason)


def _seed(clip: Clip) -> int:
    return int(clip.key[:8], 16)


def _moved(speech: Speech, levelled: Levelled) -> tuple[int, int] | None:
    if speech.target is None:
        return None
    start, stop = (at + levelled.shift for at in speech.target)
    return max(0, start), min(stop, len(levelled.samples))
