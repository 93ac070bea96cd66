"""Readers whose formants lie higher or lower than the embedded voice's, whose samples are the same
on every machine. A larger table: tests/benchmarks/vocal_tracts.py."""

from __future__ import annotations

import numpy as np
import pytest

from builder.audio.dsp.voice_activity import sound_segments
from builder.audio.split.speaker_warp import NARROWEST, WIDEST, find_warp
from builder.audio.split.split import split
from tests.support.read_lists import RATE, phones, read
from tests.support.vocal_tracts import ShiftedRecording

ITEMS = [
    "candle",
    "dinosaur",
    "bicycle",
    "fossil",
    "messy",
    "lesson",
    "mouse",
    "dress",
    "shark",
    "shovel",
    "camel",
    "corn",
]
WORDS = [phones(item) for item in ITEMS]


def reading(speaker: str, factor: float, way: str = "engine") -> ShiftedRecording:
    recording = ShiftedRecording(40, speaker, (0.4, 0.6), factor=factor, way=way)
    read(recording, ITEMS)
    return recording


def warp(speaker: str, factor: float, way: str = "engine") -> float:
    samples = reading(speaker, factor, way).samples()
    return find_warp(samples, RATE, sound_segments(samples, RATE), WORDS)


def test_the_warp_follows_the_formants() -> None:
    found = [warp("", factor, way) for factor, way in ((0.9, "sampled"), (1.1, "engine"))]
    assert found[0] < 1 < found[1]
    assert found[1] < warp("f4", 1.1)  # a woman, and her formants higher still


@pytest.mark.parametrize("factor", [1.12, 1.2])
def test_a_childs_reading_has_sure_cuts_and_none_wrong(factor: float) -> None:
    # A woman's voice with higher formants; without its warp 8 and none of 12 are sure.
    recording = reading("f4", factor)
    cuts = split(recording.samples(), RATE, WORDS).cuts
    held = [recording.holds(ITEMS[cut.item], cut.span) for cut in cuts if cut.sure]
    assert all(held)
    assert len(held) >= 0.75 * len(ITEMS)


def test_where_nothing_is_said_nothing_is_warped() -> None:
    assert find_warp(np.zeros(RATE), RATE, [], WORDS) == 1.0
    assert find_warp(np.zeros(RATE), RATE, [(0, RATE)], WORDS) == 1.0


def test_noise_stays_within_the_range() -> None:
    noise = 0.1 * np.random.default_rng(2).standard_normal(2 * RATE)
    assert NARROWEST <= find_warp(noise, RATE, [(0, RATE), (RATE, 2 * RATE)], WORDS) <= WIDEST
