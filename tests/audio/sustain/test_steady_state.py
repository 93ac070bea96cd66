"""The steady part of a target that was told too wide, on signals made so."""

from __future__ import annotations

import numpy as np
import pytest

from builder.audio.speech import Samples, count
from builder.audio.sustain.steady_state import rms, steady_state
from tests.support.audio import RATE, sine


def hiss(seconds: float) -> Samples:
    """Friction: noise that rises with frequency."""
    return 0.1 * np.diff(np.random.default_rng(2).standard_normal(count(seconds, RATE) + 1))


def vowel(seconds: float) -> Samples:
    return np.asarray(
        np.sum([0.2 / n * sine(120 * n, seconds, RATE) for n in range(1, 12)], axis=0)
    )


@pytest.mark.parametrize("before", [True, False])
def test_a_vowel_told_with_friction_is_no_part_of_it(before: bool) -> None:
    parts = [vowel(0.06), hiss(0.2)] if before else [hiss(0.2), vowel(0.06)]
    found = steady_state(np.concatenate(parts), RATE, voiced=False, noisy=True)
    start, stop = (0.06, 0.26) if before else (0.0, 0.2)
    assert found.first / RATE == pytest.approx(start, abs=0.015)
    assert found.past / RATE == pytest.approx(stop, abs=0.015)
    assert found.first <= found.left < found.right <= found.past


def test_edges_of_a_pure_sound_stay() -> None:
    found = steady_state(hiss(0.3), RATE, voiced=False, noisy=True)
    assert 0.02 <= found.left / RATE <= 0.045
    assert 0.255 <= found.right / RATE <= 0.28


def test_a_voiced_sound_is_drawn_from_40_ms() -> None:
    found = steady_state(vowel(0.3), RATE, voiced=True, noisy=False)
    assert (found.right - found.left) / RATE == pytest.approx(0.04, abs=0.001)


def test_the_level_is_that_of_the_middle() -> None:
    samples = hiss(0.3)
    samples[: RATE // 50] = 0
    found = steady_state(samples, RATE, voiced=False, noisy=True)
    assert found.level(samples) == pytest.approx(rms(hiss(0.3)), rel=0.05)


@pytest.mark.parametrize("samples", [np.zeros(5000), np.ones(100)])
def test_too_little_is_told(samples: Samples) -> None:
    with pytest.raises(ValueError, match="too short to be held"):
        steady_state(samples, RATE, voiced=False, noisy=True)
