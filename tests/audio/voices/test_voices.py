"""The table of voices beside the types and the modules that it speaks of."""

from __future__ import annotations

from typing import get_args

import pytest

from builder.audio import voices
from builder.audio.voices import FALLBACK, LOCAL_VOICES, VOICES, in_turn, syllable_voice, voice
from builder.model.clinic import AskedVoice, Speaker, asked_voice
from builder.model.clinic import Voice as Choice

NAMES: tuple[Speaker, ...] = get_args(Speaker)


def test_every_speaker_has_an_entry_and_every_choice_is_a_speaker() -> None:
    assert set(VOICES) == set(NAMES)
    meant = {asked_voice(choice) for choice in get_args(Choice)}
    assert meant - {"helper"} == {n for n in NAMES if VOICES[n].synthetic}
    assert meant == set(get_args(AskedVoice))


def test_a_womans_and_a_mans_voice_are_asked_for_by_what_they_are() -> None:
    assert (asked_voice("woman"), asked_voice("man")) == ("natural", "man")
    assert asked_voice("natural") == "natural"  # as it was written before there were two
    assert (VOICES["natural"].called, VOICES["man"].called) == ("woman's voice", "man's voice")


def test_what_a_voice_says_badly_is_said_by_the_nearest(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(voices, "missing_modules", lambda name: ())
    assert in_turn("man") == ("man", "natural", "embedded")
    assert in_turn("natural") == ("natural", "embedded")
    assert in_turn("embedded") == ("embedded",)
    monkeypatch.setattr(voices, "missing_modules", lambda n: ("x",) if n == "natural" else ())
    assert in_turn("man") == ("man", "embedded")


@pytest.mark.parametrize("name", NAMES)
def test_every_entry_has_a_module_that_does_what_it_says(name: Speaker) -> None:
    assert VOICES[name].licence
    assert callable(voice(name).say)
    assert bool(voice(name).PACE) is VOICES[name].synthetic
    assert hasattr(voice(name), "speak_syllable") is VOICES[name].speaks_alone


def test_only_the_online_voice_sends_anything_and_nobody_has_to_use_it() -> None:
    assert [name for name, info in VOICES.items() if info.sends] == ["online"]
    assert LOCAL_VOICES == ("natural", "embedded")
    assert FALLBACK == "embedded"


@pytest.mark.parametrize("name", ["online", "recorded"])
def test_who_speaks_words_only_says_so(name: Speaker) -> None:
    with pytest.raises(ValueError, match=f"The {name} voice speaks words only"):
        syllable_voice(name)


@pytest.mark.parametrize("name", LOCAL_VOICES)
def test_a_target_is_told_by_who_tells_positions_only(name: Speaker) -> None:
    said = syllable_voice(name).speak_syllable(("S", "IY1"), (0, 1))
    assert (said.target is not None) is VOICES[name].tells_positions
