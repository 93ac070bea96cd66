"""Boundaries between two sounds, and the steadiest stretch of one."""

from __future__ import annotations

import numpy as np
import pytest

from builder.audio.dsp.spectrum import STEP_S, Cue, bands, boundary, steadiest
from builder.audio.speech import Samples
from tests.support.audio import RATE, sine


def tones(*parts: tuple[float, float, float]) -> Samples:
    """Tones of (hertz, seconds, level), one after the other."""
    return np.concatenate([level * sine(hz, seconds, RATE) for hz, seconds, level in parts])


@pytest.mark.parametrize("cue", ["spectrum", "level", "jump"])
def test_a_boundary_lies_where_one_tone_becomes_another(cue: Cue) -> None:
    samples = tones((300, 0.2, 0.5), (2000, 0.2, 0.5))
    found = boundary(samples, RATE, 0, len(samples) - 500, cue)
    assert found / RATE == pytest.approx(0.2, abs=3 * STEP_S)


@pytest.mark.parametrize("cue", ["level", "jump"])
def test_level_alone_may_make_a_border(cue: Cue) -> None:
    samples = tones((300, 0.15, 0.02), (300, 0.25, 0.5))
    found = boundary(samples, RATE, 0, len(samples) - 500, cue)
    assert found / RATE == pytest.approx(0.15, abs=3 * STEP_S)


def test_without_room_the_boundary_is_the_middle() -> None:
    assert boundary(tones((300, 0.1, 0.5)), RATE, 100, 300) == 200


def test_level_does_not_count_in_the_bands() -> None:
    samples = np.random.default_rng(2).standard_normal(3000)
    quiet, loud = bands(samples / 10, RATE), bands(samples, RATE)
    assert np.allclose(quiet[:, :24], loud[:, :24], atol=0.01)
    assert np.all(loud[:, 24] > quiet[:, 24] + 3)


def test_the_steadiest_stretch_avoids_the_glide() -> None:
    time = np.arange(RATE // 5) / RATE
    glide = np.sin(2 * np.pi * (300 * time + 8000 * time**2))
    samples = np.concatenate([glide, sine(1000, 0.2, RATE)])
    assert steadiest(samples, RATE, 1000) >= len(glide) - 450


def test_a_short_sound_is_taken_whole() -> None:
    assert steadiest(np.ones(500), RATE, 1000) == 0
