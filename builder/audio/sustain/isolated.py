"""Isolation: one sound alone. Held when it can be, cut out of a syllable and sustained without
the syllable's vowel; else its release only, which ends before a vowel would begin."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from builder.audio.judge.tail import without_tail
from builder.audio.speech import Samples, Speech, count
from builder.audio.sustain.source_syllables import cut_out, source_syllable, without_breath
from builder.audio.sustain.sustain import sustain_target, sustained_sound
from builder.audio.voices import FALLBACK, VOICES, syllable_voice
from builder.phonetics.inventory import Sound, bare, is_vowel

if TYPE_CHECKING:
    from builder.model.clinic import Speaker

FADE_S = 0.040  # how softly a held sound begins and ends
RELEASE_FADE_S = 0.008  # how softly a release ends
Span = tuple[int, int]


def isolated_sound(
    phones: tuple[str, ...], sound: Sound, seconds: float, seed: int, voice: Speaker = FALLBACK
) -> Speech:
    """The sound alone, all of it target; `seconds` long when it can be held.

    ValueError when it is not found in what the voice said.
    """
    if sound.kind != "consonant":
        return _vowel(phones, sound, seconds, seed, voice)
    speech, target, cut = _source(phones, sound, voice)
    part = cut_out(speech.samples, speech.rate, target, cut)
    if sound.hold == "yes":
        noisy = sound.manner == "fricative"
        made = sustained_sound(
            part, speech.rate, seconds, voiced=sound.voiced, noisy=noisy, seed=seed
        )
        return _whole(speech, _soft(made, speech.rate, FADE_S, FADE_S))
    if not sound.voiced:
        part = without_tail(part, speech.rate, sound.symbol, (0, len(part)), alone=True)
    return _whole(speech, _soft(part, speech.rate, 0.0, RELEASE_FADE_S))


def _vowel(
    phones: tuple[str, ...], sound: Sound, seconds: float, seed: int, voice: Speaker
) -> Speech:
    speech, target, _ = _source(phones, sound, voice)
    if not VOICES[voice].tells_positions:
        target = without_breath(speech.samples, speech.rate, target)
    placed = replace(speech, target=target)
    long = sustain_target(placed, seconds, voiced=True, noisy=False, seed=seed)
    start, stop = long.target or (0, len(long.samples))
    return _whole(long, _soft(long.samples[start:stop], long.rate, 0.0, FADE_S))


def _source(phones: tuple[str, ...], sound: Sound, voice: Speaker) -> tuple[Speech, Span, str]:
    """The syllable out of which the sound is cut, where the sound lies in it, what to take."""
    around = source_syllable(voice, sound.symbol, sound.kind)
    spoken = tuple(p + "1" if is_vowel(p) and p == bare(p) else p for p in phones)
    first = len(around.before)
    syllable = (*around.before, *spoken, *around.after)
    speech = _spoken(voice, syllable, (first, first + len(spoken)))
    if speech.target is None:
        raise ValueError(f"the {voice} voice does not say /{sound.ipa}/ clearly by itself")
    return speech, speech.target, around.cut


def _spoken(voice: Speaker, syllable: tuple[str, ...], focus: Span) -> Speech:
    """The syllable by a voice, phones [first, past) of it the target."""
    speech = syllable_voice(voice).speak_syllable(syllable, focus)
    if VOICES[voice].tells_positions:
        return speech
    from builder.audio.align.forced import locate  # the aligner only where it is needed

    found = locate(speech.samples, speech.rate, (syllable,), (0, *focus))
    return replace(speech, target=found.target if found else None)


def _whole(speech: Speech, samples: Samples) -> Speech:
    return replace(speech, samples=samples, target=(0, len(samples)))


def _soft(samples: Samples, rate: int, rise: float, fall: float) -> Samples:
    first, last = count(rise, rate), min(count(fall, rate), len(samples))
    soft = samples.copy()
    soft[:first] *= np.sin(np.linspace(0, np.pi / 2, first)) ** 2
    soft[len(soft) - last :] *= np.cos(np.linspace(0, np.pi / 2, last)) ** 2
    return soft
