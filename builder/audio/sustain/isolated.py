"""Isolation: one sound alone. Held when it can be, cut out of a syllable and made longer without
the syllable's vowel; else its release only, which ends before a vowel would begin."""

from __future__ import annotations

from dataclasses import replace
from typing import Literal

import numpy as np

from builder.audio.speech import Samples, Speech, count
from builder.audio.sustain.source_syllables import carrier, cut_out, without_breath
from builder.audio.sustain.sustain import held, steady
from builder.audio.voices import embedded
from builder.phonetics.inventory import Sound, bare, is_vowel

FADE = 0.040  # seconds; how softly a held sound begins and ends
CUT = 0.008  # seconds; how softly a release ends
Voice = Literal["embedded", "natural"]
Span = tuple[int, int]


def alone(
    phones: tuple[str, ...], sound: Sound, seconds: float, seed: int, voice: Voice = "embedded"
) -> Speech:
    """The sound alone, all of it target; `seconds` long when it can be held.

    ValueError when it is not found in what the voice said.
    """
    if sound.kind != "consonant":
        return _vowel(phones, sound, seconds, seed, voice)
    speech, target, cut = _carried(phones, sound, voice)
    part = cut_out(speech.samples, speech.rate, target, cut)
    if sound.hold == "yes":
        noisy = sound.manner == "fricative"
        made = steady(part, speech.rate, seconds, voiced=sound.voiced, noisy=noisy, seed=seed)
        return _whole(speech, _soft(made, speech.rate, FADE, FADE))
    return _whole(speech, _soft(part, speech.rate, 0.0, CUT))


def _vowel(
    phones: tuple[str, ...], sound: Sound, seconds: float, seed: int, voice: Voice
) -> Speech:
    speech, target, _ = _carried(phones, sound, voice)
    if voice == "natural":
        target = without_breath(speech.samples, speech.rate, target)
    said = replace(speech, target=target)
    long = held(said, seconds, voiced=True, noisy=False, seed=seed)
    start, stop = long.target or (0, len(long.samples))
    return _whole(long, _soft(long.samples[start:stop], long.rate, 0.0, FADE))


def _carried(phones: tuple[str, ...], sound: Sound, voice: Voice) -> tuple[Speech, Span, str]:
    """The syllable that carries the sound, where the sound lies in it, what to take of it."""
    around = carrier(voice, sound.symbol, sound.kind)
    spoken = tuple(p + "1" if is_vowel(p) and p == bare(p) else p for p in phones)
    first = len(around.before)
    syllable = (*around.before, *spoken, *around.after)
    speech = _said(voice, syllable, (first, first + len(spoken)))
    if speech.target is None:
        raise ValueError(f"the {voice} voice does not say /{sound.ipa}/ clearly by itself")
    return speech, speech.target, around.cut


def _said(voice: Voice, syllable: tuple[str, ...], focus: Span) -> Speech:
    """The syllable by a voice, phones [first, past) of it the target."""
    if voice == "embedded":
        return embedded.speak((syllable,), (0, *focus))
    from builder.audio.align.forced import locate
    from builder.audio.voices import natural

    speech = natural.speak((syllable,))
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
