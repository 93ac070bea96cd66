"""One planned clip -> finished samples: who speaks it, in which form, how loud, how good."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from builder.audio.assess.assess import assess_samples
from builder.audio.assess.quality import Quality, assess_quality
from builder.audio.dsp.levelling import Levelled, finish
from builder.audio.speech import Speech
from builder.audio.sustain.isolated import isolated_sound
from builder.audio.sustain.sustain import sustain_target
from builder.audio.voices import FALLBACK, VOICES, voice
from builder.audio.voices.unspeakable import target_of, why_unspeakable

if TYPE_CHECKING:
    from builder.model.clinic import Speaker
    from builder.model.plan import Clip

DEFAULT_HOLD_S = 1.5  # when the plan names none


@dataclass(frozen=True, kw_only=True)
class RenderedClip:
    """A finished clip: samples and their measure, where the target lies in them, who speaks.

    quality: of what the voice said, before it was sustained and levelled.
    instead: why not the voice that was asked, in a sentence; "" when it is that one.
    """

    levelled: Levelled
    rate: int
    target: tuple[int, int] | None
    voice: Speaker
    quality: Quality
    instead: str
    pace: str


def render(clip: Clip) -> RenderedClip:
    """Speak one clip, by FALLBACK where the voice that is asked says it badly.

    ValueError: no voice can make it. ServiceError: a voice that sends cannot be had now.
    """
    instead = ""
    for name in dict.fromkeys((clip.voice, *([FALLBACK] if clip.words else []))):
        try:
            speech, quality = _spoken(clip, name)
            levelled = _finished(speech)
        except ValueError as problem:
            instead = instead or str(problem)
            continue
        return RenderedClip(
            levelled=levelled,
            rate=speech.rate,
            target=_moved(speech, levelled),
            voice=name,
            quality=quality,
            instead=instead,
            pace=voice(name).PACE,
        )
    raise ValueError(instead)


def _spoken(clip: Clip, name: Speaker) -> tuple[Speech, Quality]:
    """By one voice. ValueError, a sentence, when it says it badly."""
    synthetic = VOICES[name].synthetic
    if clip.alone and synthetic:
        return _isolated(clip, name)
    speech = voice(name).say(clip)
    if clip.alone:
        return speech, assess_quality(
            speech.samples, speech.rate, None, target_of(clip), alone=True
        )
    speech, quality = _assessed(clip, speech)
    if clip.form == "natural" or (clip.held and not synthetic):
        return speech, quality
    return _sustained(clip, speech), quality


def _isolated(clip: Clip, name: Speaker) -> tuple[Speech, Quality]:
    sound = target_of(clip)
    speech = isolated_sound(clip.words[0], sound, clip.hold or DEFAULT_HOLD_S, _seed(clip), name)
    return speech, assess_quality(
        speech.samples, speech.rate, None, sound, form=clip.form, alone=True, synthetic=True
    )


def _sustained(clip: Clip, speech: Speech) -> Speech:
    if speech.target is None:
        raise ValueError("The sound was not found in what was said.")
    sound = target_of(clip)
    return sustain_target(
        speech,
        clip.hold or DEFAULT_HOLD_S,
        voiced=sound.voiced,
        noisy=sound.manner == "fricative",
        seed=_seed(clip),
    )


def _assessed(clip: Clip, speech: Speech) -> tuple[Speech, Quality]:
    """The speech with its target, and its quality. A synthetic voice must not be refused: then
    another speaks; a recording was assessed before it came here."""
    info = VOICES[speech.voice]
    sound = target_of(clip) if clip.focus else None
    if info.tells_positions or not info.synthetic:
        return speech, assess_quality(
            speech.samples, speech.rate, speech.target, sound, synthetic=info.synthetic
        )
    quality, target = assess_samples(
        speech.samples,
        speech.rate,
        clip.words,
        clip.focus,
        sound,
        form="natural",
        alone=False,
        synthetic=True,
    )
    if quality.refused:
        reasons = (issue for issue in quality.issues if issue.severity == "refused")
        raise ValueError(next(f"{r.sentence.rstrip('.')} ({r.figure})." for r in reasons))
    return replace(speech, target=target), quality


def _finished(speech: Speech) -> Levelled:
    # Of a voice the target is never trimmed; a recording has silence around it.
    exact = speech.target if VOICES[speech.voice].synthetic else None
    return finish(speech.samples, speech.rate, exact)


def require_speakable(clip: Clip) -> None:
    """ValueError, a clause, when no voice can make it."""
    if reason := why_unspeakable(clip):
        raise ValueError(reason)


def _seed(clip: Clip) -> int:
    return int(clip.key[:8], 16)


def _moved(speech: Speech, levelled: Levelled) -> tuple[int, int] | None:
    if speech.target is None:
        return None
    start, stop = (at + levelled.shift for at in speech.target)
    return max(0, start), min(stop, len(levelled.samples))
