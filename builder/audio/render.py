"""One planned clip -> finished samples: who speaks it, in which form, how loud, how good."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from builder.audio.align.forced import align
from builder.audio.assess.quality import Quality, assess_quality
from builder.audio.dsp.levelling import LOUDNESS_LUFS, WEAK_LUFS, Levelled, finish
from builder.audio.judge.judge import VOICELESS, faults_of_clip
from builder.audio.judge.tail import without_tail
from builder.audio.speech import Speech
from builder.audio.sustain.isolated import isolated_sound
from builder.audio.sustain.liquid import with_liquid_place
from builder.audio.sustain.sustain import sustain_target
from builder.audio.voices import VOICES, in_turn, voice
from builder.audio.voices.suitability import suitability_of
from builder.audio.voices.unspeakable import target_of, why_unspeakable
from builder.phonetics.inventory import bare, is_vowel
from builder.phonetics.position import occurrences

if TYPE_CHECKING:
    from builder.audio.align.forced import Alignment
    from builder.audio.judge.fault import Fault
    from builder.audio.voices.suitability import SoundForm
    from builder.model.clinic import Speaker
    from builder.model.plan import Clip

DEFAULT_HOLD_S = 1.5  # when the plan names none
WEAK_SOUNDS = ("F", "TH")  # as people say them they stay well below /s/
Span = tuple[int, int]
EndSound = tuple[str, Span]


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
    """Speak one clip, by the next voice where what the voice that is asked says is not right.

    ValueError: no voice can make it. ServiceError: a voice that sends cannot be had now.
    """
    instead = ""
    for name in _voices(clip):
        try:
            made, faults = made_by(clip, name)
        except ValueError as problem:
            instead = instead or str(problem)
            continue
        if not faults:
            return replace(made, instead=instead)
        instead = instead or str(faults[0])
    raise ValueError(instead)


def _voices(clip: Clip) -> tuple[Speaker, ...]:
    """Who is asked: the clip's voice, then the next ones that are fit for the sound."""
    first, *others = in_turn(clip.voice)
    if not clip.words:
        return (first,)
    if not (clip.alone or clip.focus):
        return (first, *others)
    form: SoundForm = "alone" if clip.alone else clip.form
    symbol, position = target_of(clip).symbol, _position(clip)
    return (first, *(v for v in others if suitability_of(v, symbol, form, position).offered))


def made_by(clip: Clip, name: Speaker) -> tuple[RenderedClip, tuple[Fault, ...]]:
    """The clip by one voice, and what is wrong with it. ValueError, a sentence, when that voice
    cannot make it."""
    said = _spoken(clip, name)
    levelled = _finished(clip, said.speech)
    made = RenderedClip(
        levelled=levelled,
        rate=said.speech.rate,
        target=_moved(said.speech.target, levelled),
        voice=name,
        quality=said.quality,
        instead="",
        pace=voice(name).PACE,
    )
    # A recording was judged before it came here; what is made of it was not.
    judged = VOICES[name].synthetic or said.sustained
    return made, _faults(clip, made, said) if judged else ()


def _faults(clip: Clip, made: RenderedClip, said: _Said) -> tuple[Fault, ...]:
    """said: the last sound and vowel as they lay before the clip was finished."""
    end = _moved(said.last[1], made.levelled) if said.last else None
    return faults_of_clip(
        made.levelled.samples,
        made.rate,
        target_of(clip) if clip.focus or clip.alone else None,
        made.target,
        voice=made.voice,
        form=clip.form,
        alone=clip.alone,
        final=_is_last(clip),
        last=(said.last[0], end) if said.last and end else None,
        vowel=_moved(said.vowel, made.levelled),
    )


@dataclass(frozen=True)
class _Said:
    """What a voice said. last: the last phone and where it lies, vowel: where the last vowel of its
    word does; where that is known."""

    speech: Speech
    quality: Quality
    last: EndSound | None = None
    vowel: tuple[int, int] | None = None
    sustained: bool = False


def _spoken(clip: Clip, name: Speaker) -> _Said:
    """By one voice. ValueError, a sentence, when it says it badly."""
    synthetic = VOICES[name].synthetic
    if clip.alone and synthetic:
        return _isolated(clip, name)
    speech = voice(name).say(clip)
    if clip.alone:
        quality = assess_quality(speech.samples, speech.rate, None, target_of(clip), alone=True)
        return _Said(speech, quality)
    said = _assessed(clip, speech)
    if clip.form == "natural" or (clip.held and not synthetic):
        return said
    long = _sustained(clip, said.speech)
    return replace(said, speech=long, last=None, vowel=None, sustained=True)


def _isolated(clip: Clip, name: Speaker) -> _Said:
    sound = target_of(clip)
    speech = isolated_sound(clip.words[0], sound, clip.hold or DEFAULT_HOLD_S, _seed(clip), name)
    quality = assess_quality(
        speech.samples, speech.rate, None, sound, form=clip.form, alone=True, synthetic=True
    )
    return _Said(speech, quality)


def _sustained(clip: Clip, speech: Speech) -> Speech:
    if speech.target is None:
        raise ValueError("The sound was not found in what was said.")
    sound = target_of(clip)
    if sound.manner == "liquid" and _is_last(clip) and not VOICES[speech.voice].tells_positions:
        speech = with_liquid_place(speech)
    return sustain_target(
        speech,
        clip.hold or DEFAULT_HOLD_S,
        voiced=sound.voiced,
        noisy=sound.manner == "fricative",
        seed=_seed(clip),
    )


def _assessed(clip: Clip, speech: Speech) -> _Said:
    """The speech with its target, and its quality. A synthetic voice must not be refused: then
    another speaks; a recording was assessed before it came here."""
    info = VOICES[speech.voice]
    sound = target_of(clip) if clip.focus else None
    if info.tells_positions or not info.synthetic:
        quality = assess_quality(
            speech.samples, speech.rate, speech.target, sound, synthetic=info.synthetic
        )
        return _Said(speech, quality)
    found = align(speech.samples, speech.rate, clip.words)
    last = (bare(clip.words[-1][-1]), found.spans[-1]) if found else None
    if last:
        speech, last = _without_tail(speech, last)
    target = found.span_of(clip.words, clip.focus) if found and clip.focus else None
    if target:
        target = target[0], min(target[1], len(speech.samples))
    quality = assess_quality(
        speech.samples,
        speech.rate,
        target,
        sound,
        score=found.score if found else 0.0,
        synthetic=True,
    )
    if quality.refused:
        reasons = (issue for issue in quality.issues if issue.severity == "refused")
        raise ValueError(next(f"{r.sentence.rstrip('.')} ({r.figure})." for r in reasons))
    vowel = _last_vowel(clip.words[-1], found) if found else None
    return _Said(replace(speech, target=target), quality, last, vowel)


def _last_vowel(word: tuple[str, ...], found: Alignment) -> tuple[int, int] | None:
    """Where the last vowel of the last word lies; None where it ends the word, or has none."""
    places = zip(reversed(word), reversed(found.spans), strict=False)
    return next((span for phone, span in places if is_vowel(phone)), None)


def _without_tail(speech: Speech, last: EndSound) -> tuple[Speech, EndSound]:
    """A voice after a voiceless end is cut off, where the end is clean before it."""
    symbol, span = last
    if symbol not in VOICELESS:
        return speech, last
    samples = without_tail(speech.samples, speech.rate, symbol, span)
    return replace(speech, samples=samples), (symbol, (span[0], min(span[1], len(samples))))


def _finished(clip: Clip, speech: Speech) -> Levelled:
    # Of a voice the target is never trimmed; a recording has silence around it.
    exact = speech.target if VOICES[speech.voice].synthetic else None
    held = clip.form == "long" and target_of(clip).symbol in WEAK_SOUNDS
    return finish(
        speech.samples,
        speech.rate,
        exact,
        wanted=WEAK_LUFS if held and clip.alone else LOUDNESS_LUFS,
        weak=speech.target if held and not clip.alone else None,
    )


def require_speakable(clip: Clip) -> None:
    """ValueError, a clause, when no voice can make it."""
    if reason := why_unspeakable(clip):
        raise ValueError(reason)


def _seed(clip: Clip) -> int:
    return int(clip.key[:8], 16)


def _is_last(clip: Clip) -> bool:
    """Whether the target is the last that is said."""
    if not clip.focus or clip.alone:
        return False
    word, _, past = clip.focus
    return (word, past) == (len(clip.words) - 1, len(clip.words[-1]))


def _position(clip: Clip) -> str:
    """Where the target stands in its word; "" for a sound alone."""
    if not clip.focus or clip.alone:
        return ""
    word, first, _ = clip.focus
    found = occurrences(clip.words[word], target_of(clip))
    return next((one.positions[0] for one in found if one.start == first), "")


def _moved(span: Span | None, levelled: Levelled) -> Span | None:
    if span is None:
        return None
    start, stop = (at + levelled.shift for at in span)
    return max(0, start), min(stop, len(levelled.samples))
