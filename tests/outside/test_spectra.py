"""Fricatives of the voices beside published measurements of speakers.

Source of the directions: A. Jongman, R. Wayland, S. Wong: Acoustic characteristics of English
fricatives, Journal of the Acoustical Society of America 108(3), 2000, 1252-1263. Spectral means
(first moment) of adult speakers: /s z/ 6133 Hz, /ʃ ʒ/ 4229 Hz, the former always above the
latter; mean frication 178 ms for both. Sibilants are narrower than /f θ/ (variances 2.92, 3.38
against 6.37 MHz² of /f v/), and the skewness of /s z/ is below that of /ʃ ʒ/ (-0.229, 0.693).
Source of the ranges: the project's own bounds for the embedded voice between 0.5 and 11 kHz (a
voice at 22.05 kHz has no more), set around those means.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import cache

import numpy as np
import pytest

from builder.audio.align.forced import locate
from builder.audio.assess.target_issues import (
    FRICTION_MAX_FACTOR,
    FRICTION_MIN_S,
    FRICTION_S,
    SPECTRAL_MEAN_HZ,
)
from builder.audio.dsp.measures import MEAN_HIGHEST_HZ, MEAN_LOWEST_HZ, spectral_mean
from builder.audio.speech import Samples
from builder.audio.voices import natural
from tests.support.audio import RATE, place, say, target

PUBLISHED = {"S": 6133.0, "SH": 4229.0}  # Hz
BOUNDS = {"S": (5000.0, 7500.0), "SH": (3300.0, 5000.0)}  # Hz
S = "soup bus messy house mouse pencil basket spoon desk box fox mask lesson goose ice".split()  # noqa: SIM905
SH = "shell ship shoe shark fish dish brush fishing ocean bushes wash splash sugar push".split()  # noqa: SIM905


def mean(word: str, symbol: str) -> float:
    found = spectral_mean(target(say(word, symbol)), RATE)
    assert found is not None
    return found


@pytest.mark.parametrize(
    ("word", "symbol"), [(word, "S") for word in S] + [(word, "SH") for word in SH]
)
def test_the_spectral_mean_is_that_of_a_speaker(word: str, symbol: str) -> None:
    low, high = BOUNDS[symbol]
    assert low <= mean(word, symbol) <= high


def test_every_s_lies_above_every_sh() -> None:
    assert min(mean(word, "S") for word in S) > max(mean(word, "SH") for word in SH)


@pytest.mark.parametrize(("symbol", "words"), [("S", S), ("SH", SH)])
def test_the_mean_over_words_is_near_the_published_one(symbol: str, words: list[str]) -> None:
    average = sum(mean(word, symbol) for word in words) / len(words)
    assert average == pytest.approx(PUBLISHED[symbol], rel=0.15)


@pytest.mark.parametrize(("word", "symbol"), [("bus", "S"), ("fish", "SH"), ("shell", "SH")])
def test_frication_lasts_about_as_long_as_a_speakers(word: str, symbol: str) -> None:
    assert len(target(say(word, symbol))) / RATE == pytest.approx(0.178, rel=0.5)


Voice = Callable[[str, str], tuple[Samples, int]]


@cache
def embedded_voice(word: str, symbol: str) -> tuple[Samples, int]:
    """The samples of the target, and their rate."""
    return target(say(word, symbol)), RATE


@cache
def natural_voice(word: str, symbol: str) -> tuple[Samples, int]:
    """The same of the other voice, its target found by alignment."""
    if not natural.available():
        # Not under CI a failure either: some Pythons of the lock have no wheel of its runtime.
        pytest.skip("the natural voice is not installed")
    phones, at = place(word, symbol)
    speech = natural.speak((phones,), word)
    found = locate(speech.samples, speech.rate, (phones,), (0, at, at + 1))
    assert found is not None
    return speech.samples[slice(*found.target)], speech.rate


def moments(voice: Voice, word: str, symbol: str) -> tuple[float, float, float]:
    """Mean and standard deviation in Hz, and skewness, between 0.5 and 11 kHz."""
    samples, rate = voice(word, symbol)
    size = round(0.02 * rate)
    windows = np.lib.stride_tricks.sliding_window_view(samples, size)[:: size // 2]
    power = (np.abs(np.fft.rfft(windows * np.hamming(size))) ** 2).mean(axis=0)
    hertz = np.fft.rfftfreq(size, 1 / rate)
    weight = power * ((hertz >= MEAN_LOWEST_HZ) & (hertz <= MEAN_HIGHEST_HZ)) / power.sum()
    weight = weight / weight.sum()
    mean = float((hertz * weight).sum())
    deviation = float(((hertz - mean) ** 2 * weight).sum() ** 0.5)
    return mean, deviation, float(((hertz - mean) ** 3 * weight).sum() / deviation**3)


VOICES = pytest.mark.parametrize("voice", [embedded_voice, natural_voice])
WORDS = {
    "S": ("seal", "bus", "soup", "house", "goose"),
    "SH": ("shoe", "fish", "ship", "dish", "shell"),
    "F": ("fan", "leaf", "feet", "knife"),
    "TH": ("thumb", "bath", "thin", "tooth"),
    "Z": ("zoo", "zip", "nose", "buzz"),
    "V": ("van", "vase", "wave"),
}


def average(voice: Voice, symbol: str) -> tuple[float, float, float]:
    found = np.mean([moments(voice, word, symbol) for word in WORDS[symbol]], axis=0)
    return float(found[0]), float(found[1]), float(found[2])


@VOICES
def test_s_lies_above_sh_in_every_word(voice: Voice) -> None:
    high = [moments(voice, word, "S")[0] for word in WORDS["S"]]
    low = [moments(voice, word, "SH")[0] for word in WORDS["SH"]]
    assert min(high) > max(low)


@VOICES
def test_s_is_skewed_towards_the_top(voice: Voice) -> None:
    assert average(voice, "S")[2] < average(voice, "SH")[2]


@VOICES
@pytest.mark.parametrize("sibilant", ["S", "SH"])
def test_sibilants_are_narrower_than_f(voice: Voice, sibilant: str) -> None:
    assert average(voice, sibilant)[1] < average(voice, "F")[1]


@VOICES
@pytest.mark.parametrize("symbol", ["S", "SH"])
def test_the_bounds_of_a_warning_hold_the_voices_and_the_published_mean(
    voice: Voice, symbol: str
) -> None:
    low, high = SPECTRAL_MEAN_HZ[symbol]
    assert low <= PUBLISHED[symbol] <= high
    for word in WORDS[symbol]:
        assert low <= moments(voice, word, symbol)[0] <= high


@VOICES
@pytest.mark.parametrize("symbol", list(WORDS))
def test_friction_lasts_as_long_as_the_bounds_of_a_warning_say(voice: Voice, symbol: str) -> None:
    for word in WORDS[symbol]:
        samples, rate = voice(word, symbol)
        assert FRICTION_MIN_S <= len(samples) / rate <= FRICTION_MAX_FACTOR * FRICTION_S[symbol], (
            word
        )
