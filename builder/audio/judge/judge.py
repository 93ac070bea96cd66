"""Whether a finished clip teaches its sound: after cutting, sustaining and levelling, what will be
coded is measured by what makes that sound that sound."""

from __future__ import annotations

from collections.abc import Iterator

from builder.audio.judge.fault import Fault
from builder.audio.judge.level import level_faults
from builder.audio.judge.pieces import HELD_STEP_S, STEP_S, Pieces
from builder.audio.judge.spectra import fall_faults, rival_faults
from builder.audio.judge.tail import tail_faults
from builder.audio.judge.voicing import friction_faults, voice_faults
from builder.audio.speech import Samples
from builder.phonetics.inventory import Sound, sounds

Span = tuple[int, int]
# A sound that ends without a voice, and is followed by nothing (h ends no word).
VOICELESS = ("P", "T", "K", "CH", "F", "TH", "S", "SH")


def faults_of_clip(
    samples: Samples,
    rate: int,
    sound: Sound | None,
    target: Span | None,
    *,
    voice: str,
    form: str = "natural",
    alone: bool = False,
    final: bool = False,
    last: tuple[str, Span] | None = None,
    vowel: Span | None = None,
) -> tuple[Fault, ...]:
    """What is wrong with a clip, the gravest first; () when nothing is.

    sound, target: what is taught, and where it lies in the samples. voice: who speaks; "recorded"
    is held to what speakers do. form: natural or long. alone: the sound by itself. final: the
    target ends its word. last: the clip's last phone and its samples, vowel: those of the last
    vowel before it, where they are known.
    """
    if sound and target and (alone or final):
        last = (sound.symbol, target)
    found = tuple(_of_end(samples, rate, last, vowel, alone=alone))
    if sound is None:
        return found
    place = (0, len(samples)) if alone and target is None else target
    if place is None:
        return found
    held = form == "long"
    part = samples[slice(*place)]
    return (
        *found,
        *_of_target(part, rate, sound, voice, held=held, final=final),
        *(level_faults(samples, rate, place, sound) if held and not alone else ()),
        *(rival_faults(part, rate, sound, voice) if held else ()),
    )


def _of_end(
    samples: Samples,
    rate: int,
    last: tuple[str, Span] | None,
    vowel: Span | None,
    *,
    alone: bool,
) -> Iterator[Fault]:
    """Of the last sound, where its place is known."""
    if last is None or last[0] not in VOICELESS:
        return
    margin = max(0, last[1][0] - rate)  # a second of the word before it holds its vowel
    end = _earlier(last[1], margin)
    before = _earlier(vowel, margin) if vowel and vowel[0] >= margin else None
    ipa = sounds()[last[0]].ipa
    yield from tail_faults(Pieces(samples[margin:], rate), end, ipa, alone=alone, vowel=before)


def _earlier(span: Span, by: int) -> Span:
    return span[0] - by, span[1] - by


def _of_target(
    part: Samples, rate: int, sound: Sound, voice: str, *, held: bool, final: bool
) -> Iterator[Fault]:
    """Of the target by itself. Speakers let the voice of a final fricative go (C. Smith: The
    devoicing of /z/ in American English. Journal of Phonetics 25 (1997) 471-500), and their /v/
    has as little friction as a hum: a recording is not refused for that."""
    recorded = voice == "recorded"
    pieces = Pieces(part, rate, HELD_STEP_S if held else STEP_S)
    if held or not (recorded and final):
        yield from voice_faults(pieces, sound, held=held, person=recorded)
    if not recorded:
        yield from friction_faults(pieces, sound)
    yield from fall_faults(part, rate, sound)
