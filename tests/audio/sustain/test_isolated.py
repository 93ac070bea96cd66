"""Sounds in isolation: held without a vowel, or released shortly."""

from __future__ import annotations

import numpy as np
import pytest

from builder.audio.dsp.measures import spectral_mean
from builder.audio.dsp.spectrum import BANDS, bands
from builder.audio.speech import Samples
from builder.audio.sustain.isolated import isolated_sound
from builder.audio.voices import natural
from builder.audio.voices.suitability import suitability_of
from builder.model.clinic import Speaker
from builder.phonetics.inventory import sounds
from tests.support.audio import RATE, autocorrelation, say, share_below, target
from tests.support.formants import MAN, WOMAN, formants, nucleus_levels

HELD = [s for s in sounds().values() if s.kind == "consonant" and s.hold == "yes"]
SHORT = [s.symbol for s in sounds().values() if s.kind == "consonant" and s.hold != "yes"]


# What the natural voice offers.
NATURAL = [s for s in sounds().values() if suitability_of("natural", s.symbol, "alone").offered]
NATURALLY_HELD = [s for s in NATURAL if s.kind == "consonant" and s.hold == "yes"]


def made(symbol: str, seconds: float = 1.5, voice: Speaker = "embedded") -> Samples:
    sound = sounds()[symbol]
    return isolated_sound(sound.phones[0], sound, seconds, 5, voice).samples


@pytest.mark.parametrize("symbol", [s.symbol for s in HELD])
def test_what_can_be_held_is_held_as_long_as_asked(symbol: str) -> None:
    assert len(made(symbol)) / RATE == pytest.approx(1.5, abs=0.03)
    assert len(made(symbol, 1.0)) / RATE == pytest.approx(1.0, abs=0.03)


@pytest.mark.parametrize("symbol", [s.symbol for s in HELD if not s.voiced])
def test_no_voice_is_heard_in_a_voiceless_sound(symbol: str) -> None:
    # Voice lies below 500 Hz; in the vowel of `bus` it holds a tenth of the power and more.
    assert share_below(made(symbol), RATE, 500) < -25
    assert share_below(target(say("bus", "AH")), RATE, 500) > -12


@pytest.mark.parametrize("symbol", [s.symbol for s in HELD])
def test_a_held_sound_does_not_change(symbol: str) -> None:
    seen = bands(made(symbol), RATE)[20:-20, :BANDS]
    fifths = [part.mean(axis=0) for part in np.array_split(seen, 5)]
    for part in fifths[1:]:
        assert np.abs(part - fifths[0]).mean() < 0.35  # nepers of power: 1.5 dB


def test_a_glide_into_a_vowel_would_be_seen() -> None:
    seen = bands(target(say("lake", "EY")), RATE)[:, :BANDS]
    first, last = (part.mean(axis=0) for part in (seen[:10], seen[-10:]))
    assert np.abs(last - first).mean() > 0.35


@pytest.mark.parametrize(
    ("symbol", "word"), [("M", "moon"), ("N", "net"), ("L", "lake"), ("R", "ring")]
)
def test_a_held_sound_is_nearer_to_the_consonant_than_to_a_vowel(symbol: str, word: str) -> None:
    sound, consonant = (_mean(x) for x in (made(symbol), target(say(word, symbol))[200:1400]))
    for vowel in ("IY", "AA", "UW", "EH", "AH", "OW"):
        other = _mean(made(vowel))
        assert np.linalg.norm(sound - consonant) < np.linalg.norm(sound - other)


def _mean(samples: Samples) -> Samples:
    return np.asarray(bands(samples, RATE)[:, :BANDS].mean(axis=0))


@pytest.mark.parametrize("symbol", [s.symbol for s in HELD if not s.voiced])
def test_no_loop_is_heard(symbol: str) -> None:
    assert autocorrelation(made(symbol), RATE, (0.030, 0.400)) < 0.15


@pytest.mark.parametrize("symbol", SHORT)
def test_the_rest_is_released_shortly(symbol: str) -> None:
    samples = made(symbol)
    assert 0.02 < len(samples) / RATE < 0.15
    assert abs(samples[-1]) < 0.01 * np.abs(samples).max()


@pytest.mark.parametrize("symbol", ["P", "T", "K", "CH", "HH"])
def test_no_vowel_follows_a_voiceless_release(symbol: str) -> None:
    last = made(symbol)[-441:]
    assert autocorrelation(np.diff(last), RATE, (0.006, 0.014)) < 0.6


@pytest.mark.parametrize("symbol", ["B", "D", "G", "JH"])
def test_no_vowel_follows_a_voiced_release(symbol: str) -> None:
    # Shorter than the voicing of one syllable, and without rising toward a vowel.
    samples = made(symbol)
    half = len(samples) // 2
    assert np.sum(samples[half:] ** 2) < 2 * np.sum(samples[:half] ** 2)
    assert len(samples) / RATE < 0.06


@pytest.mark.parametrize("symbol", ["IY", "AA", "OW", "AY", "ER", "AAR", "EHR"])
def test_a_vowel_is_held_with_or_without_its_r(symbol: str) -> None:
    assert len(made(symbol)) / RATE == pytest.approx(1.5, abs=0.03)


def test_the_sound_is_all_of_the_clip() -> None:
    speech = isolated_sound(("S",), sounds()["S"], 1.5, 1)
    assert speech.target == (0, len(speech.samples))


@pytest.mark.parametrize("symbol", [s.symbol for s in NATURALLY_HELD])
def test_the_natural_voice_holds_a_sound_without_its_syllable(symbol: str) -> None:
    samples = made(symbol, voice="natural")
    assert len(samples) / natural.RATE == pytest.approx(1.5, abs=0.03)
    seen = bands(samples, natural.RATE)[20:-20, :BANDS]
    fifths = [part.mean(axis=0) for part in np.array_split(seen, 5)]
    assert max(np.abs(part - fifths[0]).mean() for part in fifths) < 0.5  # nepers of power


@pytest.mark.parametrize("symbol", [s.symbol for s in NATURALLY_HELD if not s.voiced])
def test_no_loop_and_little_voice_is_heard_in_its_voiceless_sounds(symbol: str) -> None:
    samples = made(symbol, voice="natural")
    assert autocorrelation(samples, natural.RATE, (0.030, 0.400)) < 0.15
    assert share_below(samples, natural.RATE, 500) < -8


@pytest.mark.parametrize(
    "symbol", [s.symbol for s in NATURAL if s.kind == "consonant" and s.hold == "no"]
)
def test_its_releases_hold_no_vowel(symbol: str) -> None:
    samples = made(symbol, voice="natural")
    syllable = natural.speak(((symbol, "AH1"),)).samples
    vowel = nucleus_levels(syllable, natural.RATE).max()
    assert nucleus_levels(np.pad(samples, 1200), natural.RATE).max() < vowel - 12  # dB
    assert 0.01 < len(samples) / natural.RATE < 0.25
    assert spectral_mean(samples[-480:], natural.RATE) is not None


@pytest.mark.parametrize(("voice", "below"), [("natural", 2200), ("embedded", 1975)])
def test_the_third_formant_of_r_stays_low(voice: Speaker, below: float) -> None:
    """Half-way between ɝ and every other vowel of women and of men (tests/outside/speakers.py)."""
    rate = natural.RATE if voice == "natural" else RATE
    poles = WOMAN if voice == "natural" else MAN
    assert formants(made("R", voice=voice), rate, poles)[2] < below
    assert formants(made("L", voice=voice), rate, poles)[2] > below


def test_a_voice_that_was_not_heard_to_say_it_says_so(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("builder.audio.align.forced.locate", lambda *_: None)
    with pytest.raises(ValueError, match="natural voice"):
        made("S", voice="natural")
