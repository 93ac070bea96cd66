"""Voiced sounds are held with their voice, also where it dies away before their friction does."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from builder.audio.align.forced import locate
from builder.audio.assess.measurements import voiced
from builder.audio.dsp.measures import spectral_mean
from builder.audio.speech import Samples, Speech, count
from builder.audio.sustain.isolated import isolated_sound
from builder.audio.sustain.sustain import sustain_target
from builder.audio.voices import natural
from builder.model.clinic import Speaker
from builder.phonetics.inventory import bare, sounds
from builder.phonetics.lexicon.dictionary import pronunciations
from tests.support.audio import target
from tests.support.long_form_measures import marks, replaced

RATE = 24000
EDGE = 0.1  # seconds at either end of a held sound that lead over
LEAST = 0.9  # share of frames with a voice
HOARSE = 0.03  # jitter; friction blurs the measure to 0.015, noise in place of a voice has 0.1
# As in most words of English, the natural voice lets the voice of a last /z/ die away early.
FADING = [
    ("nose", "Z"),
    ("maze", "Z"),
    ("buzz", "Z"),
    ("music", "Z"),
    ("easy", "Z"),
    ("zebra", "Z"),
    ("measure", "ZH"),
    ("beige", "ZH"),
    ("five", "V"),
    ("cave", "V"),
]


def said(word: str, symbol: str) -> Speech:
    """By the natural voice, its target the last `symbol`, as alignment finds it."""
    phones = pronunciations(word)[0]
    at = max(i for i, phone in enumerate(phones) if bare(phone) == symbol)
    speech = natural.speak((phones,), word)
    found = locate(speech.samples, speech.rate, (phones,), (0, at, at + 1))
    assert found is not None
    return replace(speech, target=found.target)


def hold(speech: Speech) -> Speech:
    return sustain_target(speech, 1.5, voiced=True, noisy=True, seed=7)


def inner(speech: Speech) -> Samples:
    edge = count(EDGE, speech.rate)
    return target(speech)[edge:-edge]


@pytest.mark.parametrize(("word", "symbol"), FADING)
def test_a_held_sound_keeps_the_voice_that_its_middle_had_lost(word: str, symbol: str) -> None:
    long = hold(said(word, symbol))
    assert voiced(inner(long), long.rate) >= LEAST


def test_the_middle_as_it_was_had_none() -> None:
    natural_one = said("nose", "Z")
    part = target(natural_one)
    assert voiced(part[len(part) // 4 :], natural_one.rate) < 0.2


@pytest.mark.parametrize(("word", "symbol"), FADING)
def test_its_friction_is_the_steady_part_of_the_natural_one(word: str, symbol: str) -> None:
    natural_one = said(word, symbol)
    part, long = target(natural_one), hold(natural_one)
    steady = spectral_mean(part[len(part) // 3 : 2 * len(part) // 3], natural_one.rate)
    mean = spectral_mean(inner(long), long.rate)
    assert steady is not None
    assert mean is not None
    assert abs(mean - steady) < 0.2 * steady


@pytest.mark.parametrize(("word", "symbol"), FADING)
def test_the_rest_of_the_word_stays_and_nothing_clicks(word: str, symbol: str) -> None:
    natural_one = said(word, symbol)
    long = hold(natural_one)
    first, past = replaced(natural_one.samples, long.samples)
    start, stop = natural_one.target or (0, 0)
    assert first >= start
    assert len(long.samples) - past >= len(natural_one.samples) - stop
    steps, near = np.abs(np.diff(long.samples)), count(0.001, RATE)
    joins = max(steps[first - near : first + near].max(), steps[past - near : past + near].max())
    assert joins <= np.percentile(steps, 99.9)


@pytest.mark.parametrize("word", ["bathe", "genre"])
def test_what_has_hardly_any_voice_is_not_held(word: str) -> None:
    symbol = "DH" if word == "bathe" else "ZH"
    with pytest.raises(ValueError, match="too little voice"):
        hold(said(word, symbol))


@pytest.mark.parametrize("voice", ["embedded", "natural"])
@pytest.mark.parametrize("symbol", ["M", "N", "NG", "L", "V", "DH", "Z", "ZH"])
def test_a_voiced_sound_alone_is_a_voice_and_no_hoarse_noise(symbol: str, voice: Speaker) -> None:
    sound = sounds()[symbol]
    speech = isolated_sound(sound.phones[0], sound, 1.5, 5, voice)
    part = inner(speech)
    assert voiced(part, speech.rate) >= LEAST
    found = np.diff(marks(part, speech.rate))
    assert np.abs(np.diff(found)).mean() / found.mean() <= HOARSE
