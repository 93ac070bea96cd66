"""Periods of a voice on signals whose periods are known because they were made so."""

from __future__ import annotations

import numpy as np
import pytest

from builder.audio.speech import Samples
from builder.audio.sustain.psola import (
    low_passed,
    marks_within,
    period_of,
    pitch_marks,
    sustain_voice,
    voicing_limit,
)
from tests.support.audio import RATE, share_below, sine

NOISE = np.random.default_rng(1).standard_normal(RATE // 5)


def voice(hertz: float, seconds: float = 0.2) -> Samples:
    """Harmonics that fall with frequency."""
    return np.asarray(
        np.sum([sine(hertz * n, seconds, RATE) / n for n in range(1, 12)], axis=0) * 0.1
    )


@pytest.mark.parametrize("hertz", [80.0, 120.0, 220.0, 380.0])
def test_the_period_is_that_of_the_voice(hertz: float) -> None:
    low = low_passed(voice(hertz), RATE, 900.0)
    assert period_of(low[:1500], RATE) == pytest.approx(RATE / hertz, rel=0.02)


def test_noise_and_silence_have_no_period() -> None:
    assert period_of(NOISE[:1500], RATE) == 0
    assert period_of(np.zeros(1500), RATE) == 0
    assert len(pitch_marks(NOISE, RATE, len(NOISE) // 2)) == 0


@pytest.mark.parametrize("hertz", [90.0, 150.0, 300.0])
def test_marks_are_a_period_apart_from_end_to_end(hertz: float) -> None:
    samples = voice(hertz)
    found = pitch_marks(samples, RATE, len(samples) // 2)
    assert np.abs(np.diff(found) - RATE / hertz).max() <= 2
    assert found[0] < 2.5 * RATE / hertz
    assert found[-1] > len(samples) - 2.5 * RATE / hertz


def test_marks_within_are_at_least_three_where_there_are_as_many() -> None:
    found = np.arange(0, 1000, 100)
    assert marks_within(found, 200, 600, 1000).tolist() == [200, 300, 400, 500]
    assert marks_within(found, 610, 720, 1000).tolist() == [500, 600, 700]
    assert marks_within(found[:2], 0, 50, 1000).tolist() == [0, 100]


def test_a_low_pass_keeps_what_lies_below_and_nothing_above() -> None:
    both = sine(200, 0.5, RATE) + sine(2000, 0.5, RATE)
    assert share_below(low_passed(both, RATE, 900.0), RATE, 900) == pytest.approx(0, abs=0.01)
    inner = slice(1000, -1000)
    kept = low_passed(both, RATE, 900.0)[inner]
    assert np.allclose(kept, sine(200, 0.5, RATE)[inner], atol=0.02)


def test_friction_above_a_voice_is_told_from_it() -> None:
    hiss = NOISE - low_passed(NOISE, RATE, 2000.0)
    samples = low_passed(voice(150.0), RATE, 1000.0) + 0.1 * hiss
    assert voicing_limit(samples, RATE, round(RATE / 150)) < 2000
    assert voicing_limit(voice(150.0), RATE, round(RATE / 150)) >= 1000


def test_a_voice_goes_on_at_its_pitch_and_gets_as_loud_as_asked() -> None:
    samples = voice(150.0)
    found = pitch_marks(samples, RATE, len(samples) // 2)
    part, marks = samples[found[0] : found[-1]], found - found[0]
    long = sustain_voice(part, marks, RATE, RATE, random=np.random.default_rng(3), gain=2.0)
    assert len(long) == pytest.approx(RATE, abs=RATE / 150)
    assert np.array_equal(long[:1], part[:1])
    middle = long[RATE // 3 : 2 * RATE // 3]
    assert np.sqrt((middle**2).mean() / (part**2).mean()) == pytest.approx(2.0, rel=0.1)
    assert period_of(low_passed(middle, RATE, 900.0)[:1500], RATE) == pytest.approx(147, abs=3)
