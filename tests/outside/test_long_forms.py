"""The long form made of recordings of people, the target where alignment finds it."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest

from builder.audio.align.forced import locate
from builder.audio.io.decode import decode
from builder.audio.speech import Speech
from builder.audio.sustain.sustain import sustain_target
from tests.outside.real_speech import RECORDINGS, Spoken, at_hand
from tests.support.long_form_measures import LongFormMeasures, compare_long_form

HELD = [one for one in RECORDINGS if one.kind != "telephone" and one.sound.hold != "no"]


@cache
def measured(one: Spoken, seconds: float = 1.5) -> LongFormMeasures:
    samples, rate = decode(at_hand(one))
    found = locate(samples, rate, one.words, one.focus)
    assert found is not None
    natural = Speech(samples, rate, found.target, "recorded")
    sound, noisy = one.sound, one.sound.manner == "fricative"
    long = sustain_target(natural, seconds, voiced=sound.voiced, noisy=noisy, seed=7)
    return compare_long_form(natural, long, found.target, sound, seconds)


@pytest.mark.parametrize("one", HELD, ids=lambda one: one.name)
@pytest.mark.parametrize("seconds", [1.0, 2.0])
def test_it_lasts_as_asked_and_nothing_else_changes(one: Spoken, seconds: float) -> None:
    assert not {"lasts", "rest"} & set(measured(one, seconds).missed)


@pytest.mark.parametrize("one", HELD, ids=lambda one: one.name)
def test_no_loop_and_no_rough_voice_is_heard(one: Spoken) -> None:
    """Jitter and shimmer: not above the published limits, or half as much again as the natural
    target has (tests/audio/compare_long_form.py)."""
    assert not {"loop", "voice", "jitter", "shimmer", "fall"} & set(measured(one).missed)


@pytest.mark.parametrize("what", ["click", "level", "even", "mean"])
def test_nearly_all_are_smooth_even_and_keep_their_spectrum(what: str) -> None:
    """Nearly: where alignment puts the target beside the sound, its middle is no reference."""
    holds = [what not in measured(one).missed for one in HELD]
    assert np.mean(holds) >= 0.85
