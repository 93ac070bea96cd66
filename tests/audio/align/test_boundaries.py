"""Boundaries on signals whose boundaries are known because they were made so."""

from __future__ import annotations

import numpy as np
import pytest

from builder.audio.align.boundaries import refine_boundaries
from builder.audio.speech import Samples, count

RATE = 22050


def quiet(seconds: float) -> Samples:
    return np.zeros(count(seconds, RATE))


def hiss(seconds: float) -> Samples:
    """Friction: noise that rises with frequency."""
    white = np.random.default_rng(2).standard_normal(count(seconds, RATE) + 1)
    return 0.1 * np.diff(white)


def tone(seconds: float) -> Samples:
    """A voice: harmonics of 120 Hz that fall with frequency."""
    at = np.arange(count(seconds, RATE)) / RATE
    return np.asarray(sum(0.3 / n * np.sin(2 * np.pi * 120 * n * at) for n in range(1, 20)))


def spans(*edges: float) -> list[tuple[int, int]]:
    """Contiguous spans with these edges in seconds."""
    places = [count(edge, RATE) for edge in edges]
    return list(zip(places, places[1:], strict=False))


def seconds(found: tuple[tuple[int, int], ...]) -> list[tuple[float, float]]:
    return [(start / RATE, stop / RATE) for start, stop in found]


@pytest.mark.parametrize("off", [-0.03, -0.01, 0.0, 0.01, 0.03])
def test_friction_ends_where_the_voice_begins(off: float) -> None:
    samples = np.concatenate([quiet(0.1), hiss(0.15), tone(0.3), quiet(0.1)])
    found = seconds(refine_boundaries(samples, RATE, spans(0.1, 0.25 + off, 0.55), ("S", "IY")))
    assert found[0][1] == found[1][0] == pytest.approx(0.25, abs=0.008)


@pytest.mark.parametrize("off", [-0.04, 0.0])
def test_a_stop_begins_at_its_release(off: float) -> None:
    samples = np.concatenate([tone(0.3), quiet(0.08), hiss(0.05), tone(0.2)])
    aligned = spans(0.05, 0.36 + off, 0.42, 0.62)
    vowel, stop, _ = seconds(refine_boundaries(samples, RATE, aligned, ("AE", "K", "ER")))
    assert vowel[1] == pytest.approx(0.3, abs=0.006)
    assert stop[0] == pytest.approx(0.38, abs=0.006)


@pytest.mark.parametrize("off", [-0.06, 0.06])
def test_a_sound_ends_with_its_level(off: float) -> None:
    samples = np.concatenate([tone(0.3), hiss(0.2), quiet(0.3)])
    found = seconds(refine_boundaries(samples, RATE, spans(0.0, 0.3, 0.5 + off), ("AH", "S")))
    assert found[1][1] == pytest.approx(0.5, abs=0.01)


def test_an_echo_is_no_sound() -> None:
    samples = np.concatenate([hiss(0.1), tone(0.3), 0.01 * tone(0.3)])
    found = seconds(refine_boundaries(samples, RATE, spans(0.0, 0.1, 0.43), ("S", "IY")))
    assert found[1][1] == pytest.approx(0.4, abs=0.015)


def test_a_last_nasal_is_not_the_breath_after_it() -> None:
    # As an aligner does that takes the murmur for the vowel: /u/ and /m/ are much alike.
    murmur = 0.2 * np.sin(2 * np.pi * 240 * np.arange(count(0.2, RATE)) / RATE)
    samples = np.concatenate([hiss(0.1), tone(0.25), murmur, 0.02 * hiss(0.1), quiet(0.2)])
    aligned = spans(0.0, 0.1, 0.56, 0.64)
    _, vowel, nasal = seconds(refine_boundaries(samples, RATE, aligned, ("S", "UW", "M")))
    assert vowel[1] == nasal[0] == pytest.approx(0.35, abs=0.015)
    assert nasal[1] == pytest.approx(0.55, abs=0.02)


def test_where_nothing_is_seen_the_aligned_boundary_stays() -> None:
    aligned = spans(0.1, 0.2, 0.3)
    found = refine_boundaries(tone(0.5), RATE, aligned, ("IY", "AH"))
    assert found[0] == aligned[0]
    assert found[1][0] == aligned[1][0]


def test_spans_stay_within_the_samples() -> None:
    samples = hiss(0.1)
    found = refine_boundaries(samples, RATE, [(-900, 200), (200, 99999)], ("S", "IY"))
    assert found[0][0] == 0
    assert found[1][1] <= len(samples)
