"""One planned clip -> finished samples: which voice speaks it, in which form, how loud."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from builder.audio.alone import alone
from builder.audio.lengthen import held
from builder.audio.level import Levelled, finish
from builder.audio.speech import Speech, Voice
from builder.audio.voices import embedded
from builder.phonetics.inventory import Sound, bare, sounds
from builder.problems import UsageError

if TYPE_CHECKING:
    from builder.plan import Clip

HOLD = 1.5  # seconds, when the plan names none
SHORTEST = 0.25  # seconds of a take with the silence around it


@dataclass(frozen=True)
class Recording:
    """A finished clip: samples and their measure, and where the target lies in them."""

    levelled: Levelled
    rate: int
    target: tuple[int, int] | None
    voice: Voice


def record(clip: Clip) -> Recording:
    """Speak one clip. ValueError: a form that its sound cannot have. UsageError: a bad take."""
    refuse(clip)
    speech = _recorded(clip) or _embedded(clip)
    levelled = _finished(clip, speech)
    return Recording(levelled, speech.rate, _moved(speech, levelled), speech.voice)


def _finished(clip: Clip, speech: Speech) -> Levelled:
    # In a recording of a sound alone the target is the whole file, silence included.
    if speech.voice == "embedded":
        return finish(speech.samples, speech.rate, speech.target)
    try:
        return finish(speech.samples, speech.rate)
    except ValueError:
        raise UsageError(
            f"{clip.take or clip.text}: this recording is too quiet or damaged; record it again, "
            "nearer to the microphone."
        ) from None


def trouble(take: str) -> str:
    """Why a take cannot become a clip, as a sentence; "" when it can."""
    from builder.audio.voices import takes

    try:
        speech = takes.read(take, alone=False)
        levelled = finish(speech.samples, speech.rate)
    except UsageError as problem:
        return str(problem).partition(": ")[2].rstrip(".").capitalize() + "."
    except ValueError:
        return "This recording is too quiet or damaged."
    if len(levelled.samples) < SHORTEST * speech.rate:
        return "This recording is too short to be a word."
    return ""


def refuse(clip: Clip) -> None:
    """ValueError when a long form is asked of no sound, or of one that cannot be held."""
    if clip.form != "long":
        return
    if clip.focus is None and not clip.alone:
        raise ValueError(f"'{clip.text}' has no target that could be held")
    sound = _target(clip)
    if sound.hold == "no":
        raise ValueError(f"/{sound.ipa}/ cannot be held: no long form of '{clip.text}'")


def _recorded(clip: Clip) -> Speech | None:
    """By a voice that tells no positions; None when it cannot make this form."""
    if clip.voice == "take":
        from builder.audio.voices import takes

        made = clip.form == "natural" or clip.alone or takes.is_long(clip.take)
        return takes.read(clip.take, alone=clip.alone) if made else None
    if clip.voice == "online" and clip.form == "natural" and not clip.alone:
        from builder.audio.voices import online

        return online.speak(clip.text, clip.language)
    return None


def _embedded(clip: Clip) -> Speech:
    seed, seconds = int(clip.key[:8], 16), clip.hold if clip.hold > 0 else HOLD
    if clip.alone:
        return alone(clip.words[0], _target(clip), seconds, seed)
    speech = embedded.speak(clip.words, clip.focus, clip.text)
    if clip.form == "natural":
        return speech
    sound = _target(clip)
    noisy = sound.manner == "fricative"
    return held(speech, seconds, voiced=sound.voiced, noisy=noisy, seed=seed)


def _target(clip: Clip) -> Sound:
    word, first, past = clip.focus if clip.focus and not clip.alone else (0, 0, None)
    phones = tuple(map(bare, clip.words[word][first:past]))
    for sound in sounds().values():
        if phones in sound.phones:
            return sound
    raise ValueError(f"'{' '.join(phones)}' of '{clip.text}' is no sound of the table")


def _moved(speech: Speech, levelled: Levelled) -> tuple[int, int] | None:
    if speech.target is None:
        return None
    start, stop = (at + levelled.shift for at in speech.target)
    return max(0, start), min(stop, len(levelled.samples))
