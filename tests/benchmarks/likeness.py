"""Whether a sound is like a speaker's: a figure or two by its manner beside published ones
(tests/outside/speakers.py)."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from builder.audio.dsp.measures import spectral_mean
from builder.audio.speech import Samples, count
from builder.audio.sustain.source_syllables import burst
from builder.phonetics.inventory import Sound
from tests.outside.speakers import FRICTION, MEN, MURMUR, ONSET, WOMEN
from tests.support.formants import MAN, NASAL, WOMAN, formants

MEAN_FACTOR = 1.25  # a mean of speakers lies within this factor, up or down
FRICTION_FACTOR = 1.5  # the same for friction, whose mean hangs on the band and on the speaker
# The natural voice is a woman's, the others are men's.
VOWELS = {"natural": WOMEN, "man": MEN, "embedded": MEN}
POLES = {"natural": WOMAN, "man": MAN, "embedded": MAN}
# Hz; F3 of ɝ is about 1950 in women, 1700 in men, of every other vowel 2670 or 2240 and more.
RHOTIC_MAX_HZ = {"natural": 2200.0, "man": 1975.0, "embedded": 1975.0}
LEAD_S = 0.025  # seconds before a release in which a voice is looked for
RHOTIC_S = 0.150  # seconds of a vowel + ɹ that are ɹ
SILENCE_LEVEL = 0.003  # of full scale; softer is silence
GLIDES = {"W": "UW", "Y": "IY"}  # the vowel in whose place a glide begins


@dataclass(frozen=True)
class Likeness:
    """What was measured, in `unit`, and whether it lies where that of speakers does."""

    like: bool
    names: tuple[str, ...]
    values: tuple[float, ...]
    unit: str = "Hz"


def likeness(sound: Sound, samples: Samples, rate: int, voice: str) -> Likeness | None:
    """The samples of a target against speakers; None where nothing is published."""
    middle = samples[len(samples) // 4 : len(samples) - len(samples) // 4]
    if sound.symbol in FRICTION or sound.manner == "affricate":
        return _friction(sound, middle, rate)
    if sound.symbol in ONSET:
        return _onset(sound, samples, rate)
    if sound.manner == "nasal":
        first = formants(middle, rate, NASAL)[0]
        return Likeness(first < MURMUR, ("F1",), (first,))
    if sound.symbol in GLIDES:
        return _glide(sound, samples, rate, voice)
    if sound.symbol in ("L", "R", "ER") or sound.kind == "rhotic":
        return _liquid(sound, samples if sound.kind == "rhotic" else middle, rate, voice)
    return _vowel(sound, middle, rate, voice) if sound.symbol in WOMEN else None


def told(found: Sequence[Likeness]) -> str:
    """The medians of what was measured: `F1 275 Hz`."""
    values = np.nanmedian([one.values for one in found], axis=0)
    parts = (f"{name} {value:.0f}" for name, value in zip(found[0].names, values, strict=True))
    return ", ".join(parts) + f" {found[0].unit}"


def _vowel(sound: Sound, samples: Samples, rate: int, voice: str) -> Likeness:
    found = formants(samples, rate, POLES[voice])[:2]
    ranges = VOWELS[voice][sound.symbol][:2]
    like = all(
        low / MEAN_FACTOR <= value <= high * MEAN_FACTOR
        for value, (low, high) in zip(found, ranges, strict=True)
    )
    return Likeness(like, ("F1", "F2"), found)


def _friction(sound: Sound, samples: Samples, rate: int) -> Likeness:
    usual = FRICTION[{"CH": "SH", "JH": "ZH"}.get(sound.symbol, sound.symbol)]
    mean = spectral_mean(samples, rate) or float("nan")
    return Likeness(
        usual / FRICTION_FACTOR <= mean <= usual * FRICTION_FACTOR, ("spectral mean",), (mean,)
    )


def _onset(sound: Sound, samples: Samples, rate: int) -> Likeness:
    """From the release, where the high part of the spectrum leaps up, to the end of the samples;
    0 where the voice is there before.
    """
    low, high = ONSET[sound.symbol]
    release = burst(samples, rate)
    before = samples[max(0, release - count(LEAD_S, rate)) : release]
    lasts = 0.0 if _voice(before, rate) else 1000 * (len(samples) - release) / rate
    return Likeness(
        low / MEAN_FACTOR <= lasts <= high * MEAN_FACTOR, ("release to voice",), (lasts,), "ms"
    )


def _voice(samples: Samples, rate: int) -> bool:
    """Whether a voice is heard behind closed lips: most of the power lies below 400 Hz, and there
    is some.
    """
    power = np.abs(np.fft.rfft(samples * np.hanning(len(samples)), 4096)) ** 2
    low = power[: round(4096 * 400 / rate)].sum()
    return bool(np.sqrt((samples**2).mean()) > SILENCE_LEVEL and low > 0.8 * power.sum())


def _liquid(sound: Sound, samples: Samples, rate: int, voice: str) -> Likeness:
    """ɹ has a low F3, at the end of a vowel + ɹ as well; l has not."""
    ends = sound.kind == "rhotic"
    part = samples[-min(len(samples) // 2, count(RHOTIC_S, rate)) :] if ends else samples
    third = formants(part, rate, POLES[voice])[2]
    return Likeness((third < RHOTIC_MAX_HZ[voice]) == (sound.symbol != "L"), ("F3",), (third,))


def _glide(sound: Sound, samples: Samples, rate: int, voice: str) -> Likeness:
    """w begins as u, j as i."""
    low, high = VOWELS[voice][GLIDES[sound.symbol]][1]
    start = samples[: max(len(samples) // 2, count(0.05, rate))]
    second = formants(start, rate, POLES[voice])[1]
    like = second < high * MEAN_FACTOR if sound.symbol == "W" else second > low / MEAN_FACTOR
    return Likeness(like, ("F2",), (second,))
