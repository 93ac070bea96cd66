"""Words as a voice says them, with the sound held, and what is measured on the held sound."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cache
from statistics import median
from types import ModuleType

import numpy as np

from builder.audio.align import forced
from builder.audio.assess.measurements import voiced
from builder.audio.dsp.measures import spectral_mean
from builder.audio.speech import Samples, Speech, count
from builder.audio.sustain.sustain import sustain_target
from builder.audio.voices import embedded, man, natural
from builder.phonetics.inventory import Sound
from tests.benchmarks.voice_survey import Asked, asked
from tests.support.audio import autocorrelation
from tests.support.formants import nucleus_levels
from tests.support.long_form_measures import VOICED_SHARE

HOLD_S = 1.5  # seconds
TARGET_MIN_S = 0.02  # seconds of a target that can be measured
LEAD_S = 0.06  # seconds before a stop's release in which its voice may begin


@dataclass(frozen=True)
class Said:
    """A word as a voice said it. score: how surely it is the word; 1 where exact places came
    with it."""

    asked: Asked
    speech: Speech
    score: float

    @property
    def sure(self) -> bool:
        """Whether this is the word and its target has a place and a length."""
        return self.score >= forced.DOUBTFUL_SCORE and len(self.target) > count(
            TARGET_MIN_S, self.speech.rate
        )

    @property
    def target(self) -> Samples:
        """The samples of the target; none where it was not found."""
        return self.speech.samples[slice(*(self.speech.target or (0, 0)))]

    @property
    def middle(self) -> Samples:
        """The middle half of the target."""
        quarter = len(self.target) // 4
        return self.target[quarter : len(self.target) - quarter]

    @property
    def led(self) -> Samples:
        """The target, of a stop with what comes before it."""
        if self.asked.sound.manner != "stop" or not self.speech.target:
            return self.target
        start, stop = self.speech.target
        return self.speech.samples[max(0, start - count(LEAD_S, self.speech.rate)) : stop]


@cache
def said(voice: str) -> tuple[Said, ...]:
    """Every word of the survey."""
    return tuple(say(voice, one) for one in asked())


def say(voice: str, one: Asked) -> Said:
    """One word by a voice, its target found."""
    if voice == "embedded":
        speech = embedded.speak((one.phones,), one.focus, one.word)
        return Said(one, speech, 1.0)
    speech = _network(voice).speak((one.phones,), one.word, focus=one.focus)
    found = forced.locate(speech.samples, speech.rate, (one.phones,), one.focus)
    return Said(
        one, replace(speech, target=found.target if found else None), found.score if found else 0.0
    )


def _network(voice: str) -> ModuleType:
    """A voice that tells no positions."""
    return man if voice == "man" else natural


def lengthened(one: Said) -> Said | None:
    """The word with its target held; None when nothing in it stands still."""
    sound = one.asked.sound
    noisy = sound.manner == "fricative"
    try:
        speech = sustain_target(one.speech, HOLD_S, voiced=sound.voiced, noisy=noisy, seed=7)
    except ValueError:
        return None
    return replace(one, speech=speech)


def beside_vowel(one: Said) -> float:
    """The level of the middle of the target beside the loudest of the rest of the word, between
    300 and 900 Hz, in dB."""
    start, stop = one.speech.target or (0, 0)
    samples, rate = one.speech.samples, one.speech.rate
    loudest = [nucleus_levels(part, rate).max() for part in (samples[:start], samples[stop:])]
    return float(np.median(nucleus_levels(one.middle, rate)) - max(loudest))


def is_voiced(one: Said) -> bool:
    """Whether a voice is heard through the middle of the target."""
    return voiced(one.middle, one.speech.rate) >= VOICED_SHARE


def loop(one: Said) -> float:
    """The greatest autocorrelation of the held sound at 30-400 ms lag."""
    tenth = len(one.target) // 10
    return autocorrelation(one.target[tenth:-tenth], one.speech.rate, (0.030, 0.400))


def shift(words: list[Said], longs: list[Said]) -> float:
    """How far the spectral mean of the middle moves when it is held: the median share."""
    moved = []
    for one, long in zip(words, longs, strict=True):
        before, after = (spectral_mean(x.middle, x.speech.rate) for x in (one, long))
        moved.append(abs(after - before) / before if before and after else 1.0)
    return median(moved)


def vowel_in(voice: str, sound: Sound, speech: Speech) -> float:
    """The loudest of a sound alone beside the vowel of a syllable with it, between 300 and 900 Hz,
    in dB."""
    words = ((sound.symbol, "AH1"),)
    whole = embedded.speak(words, None) if voice == "embedded" else _network(voice).speak(words)
    padded = np.pad(speech.samples, count(0.05, speech.rate))
    own = nucleus_levels(padded, speech.rate).max()
    return float(own - nucleus_levels(whole.samples, whole.rate).max())
