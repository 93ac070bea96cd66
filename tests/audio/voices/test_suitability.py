"""What each voice is for each sound and form."""

from __future__ import annotations

from itertools import product
from typing import get_args

import pytest

from builder.audio.voices.suitability import SoundForm, suitability_of
from builder.model.clinic import Speaker
from builder.phonetics.inventory import sounds
from builder.phonetics.position import POSITIONS, Position
from tests.benchmarks.held_words import say
from tests.benchmarks.likeness import likeness
from tests.benchmarks.voice_survey import one_of

SPEAKERS: tuple[Speaker, ...] = get_args(Speaker)
FORMS: tuple[SoundForm, ...] = get_args(SoundForm)
SHORT = [s.symbol for s in sounds().values() if s.hold == "no"]


def test_there_is_an_answer_and_a_reason_for_everything() -> None:
    for voice, symbol, form, position in product(SPEAKERS, sounds(), FORMS, ("", *POSITIONS)):
        assert suitability_of(voice, symbol, form, position).reason


def test_a_recording_is_a_model_of_all_that_can_be_said() -> None:
    for symbol, form in product(sounds(), FORMS):
        held_stop = symbol in SHORT and form == "long"
        assert (suitability_of("recorded", symbol, form).grade == "model") != held_stop


@pytest.mark.parametrize("voice", SPEAKERS)
def test_nobody_holds_a_stop(voice: Speaker) -> None:
    assert {suitability_of(voice, symbol, "long").grade for symbol in SHORT} == {"not offered"}


def test_a_machine_is_at_best_a_stand_in() -> None:
    machines: tuple[Speaker, ...] = ("embedded", "online")
    for voice, symbol, form in product(machines, sounds(), FORMS):
        assert suitability_of(voice, symbol, form).grade != "model"


def test_words_are_always_said_by_the_embedded_voice() -> None:
    assert {suitability_of("embedded", symbol, "natural").grade for symbol in sounds()} == {
        "stand-in"
    }


def test_the_online_voice_says_words_only() -> None:
    assert not suitability_of("online", "S", "alone").offered
    assert not suitability_of("online", "K", "long").offered


@pytest.mark.parametrize("voice", ["natural", "embedded"])
def test_r_is_not_held_before_a_vowel(voice: Speaker) -> None:
    """Another syllable would be heard (common practice, no source)."""
    for position in ("initial", "medial"):
        assert not suitability_of(voice, "R", "long", position).offered
    assert suitability_of(voice, "R", "long", "final").offered


def test_no_machine_says_th_by_itself_or_holds_it() -> None:
    """Its friction is hardly told from that of /s/: the tongue would go between the teeth for s."""
    machines: tuple[Speaker, ...] = ("natural", "man", "embedded", "online")
    for voice, form, position in product(machines, ("long", "alone"), ("", *POSITIONS)):
        assert not suitability_of(voice, "TH", form, position).offered  # type: ignore[arg-type]
    assert suitability_of("recorded", "TH", "alone").grade == "model"


@pytest.mark.parametrize("symbol", ["V", "DH", "Z", "ZH"])
def test_the_natural_voice_ends_no_word_in_a_voiced_fricative(symbol: str) -> None:
    """It lets the voice go: five would be fife."""
    assert not suitability_of("natural", symbol, "natural", "final").offered
    assert suitability_of("embedded", symbol, "natural", "final").offered


def test_without_a_position_the_least_is_said() -> None:
    assert not suitability_of("natural", "R", "long").offered


@pytest.mark.parametrize(
    ("voice", "symbol", "form"),
    [("nobody", "S", "natural"), ("natural", "X", "natural"), ("natural", "S", "sung")],
)
def test_what_is_not_known_is_a_fault(voice: Speaker, symbol: str, form: SoundForm) -> None:
    with pytest.raises(ValueError, match=voice):
        suitability_of(voice, symbol, form)


@pytest.mark.parametrize(
    ("symbol", "position", "words"),
    [
        ("S", "initial", "sun soap seal"),
        ("CH", "initial", "chair chief chin"),
        ("Z", "medial", "music easy lazy"),
        ("M", "initial", "moon man mouse"),
        ("NG", "final", "ring king long"),
        ("L", "initial", "leg lion light"),
        ("R", "initial", "run red rain"),
        ("W", "initial", "wet web well"),
        ("K", "initial", "cow comb car"),
        ("IY", "final", "key tree knee"),
    ],
)
def test_a_model_of_the_natural_voice_is_like_a_speaker(
    symbol: str, position: Position, words: str
) -> None:
    """Against tests/outside/speakers.py: so are two of three words or more."""
    assert suitability_of("natural", symbol, "natural", position).grade == "model"
    said = [say("natural", one_of(w, sounds()[symbol], position)) for w in words.split()]
    found = [likeness(one.asked.sound, one.led, one.speech.rate, "natural") for one in said]
    assert sum(one.like for one in found if one) >= 2
