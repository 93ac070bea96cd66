"""Friction sustained: its level, its spectrum and its ends, on noise that is known."""

from __future__ import annotations

import numpy as np
import pytest

from builder.audio.dsp.measures import spectral_mean
from builder.audio.sustain.grains import contour, flattened, sustain_friction
from builder.audio.sustain.steady_state import rms
from tests.support.audio import RATE

WHITE = np.random.default_rng(2).standard_normal(RATE // 5) * 0.1
BRIGHT = np.diff(WHITE, 2)


def test_a_contour_goes_from_one_end_to_the_middle_and_to_the_other_end() -> None:
    found = contour(1.0, 4.0, 2.0, RATE, RATE)
    assert len(found) == RATE
    assert (found[0], found[RATE // 2]) == (1.0, 4.0)
    assert found[-1] == pytest.approx(2.0, abs=0.01)
    assert np.all(np.diff(found[: RATE // 2]) >= 0)


def test_a_rise_of_level_is_taken_out_and_told() -> None:
    rise = np.exp(np.linspace(0, np.log(10), len(WHITE)))
    flat, (first, last) = flattened(WHITE * rise, RATE)
    assert last / first == pytest.approx(10, rel=0.15)
    quarter = len(flat) // 4
    assert rms(flat[:quarter]) == pytest.approx(rms(flat[-quarter:]), rel=0.1)


@pytest.mark.parametrize("gain", [0.5, 1.0, 2.0])
def test_it_lasts_sounds_and_is_as_loud_as_asked(gain: float) -> None:
    long = sustain_friction(BRIGHT, RATE, RATE, random=np.random.default_rng(3), gain=gain)
    middle = long[RATE // 4 : -RATE // 4]
    assert len(long) == RATE
    assert rms(middle) == pytest.approx(gain * rms(BRIGHT), rel=0.1)
    assert spectral_mean(middle, RATE) == pytest.approx(spectral_mean(BRIGHT, RATE), rel=0.02)


def test_it_begins_and_ends_as_the_part_does() -> None:
    long = sustain_friction(WHITE, RATE, RATE, random=np.random.default_rng(3))
    assert long[0] == pytest.approx(WHITE[0])
    assert long[-1] == pytest.approx(WHITE[-1])


def test_it_is_drawn_from_the_source_that_is_named() -> None:
    random = np.random.default_rng(3)
    long = sustain_friction(WHITE, RATE, RATE, random=random, source=BRIGHT)
    middle = spectral_mean(long[RATE // 4 : -RATE // 4], RATE)
    assert middle == pytest.approx(spectral_mean(BRIGHT, RATE), rel=0.02)
    assert middle != pytest.approx(spectral_mean(WHITE, RATE), rel=0.02)
