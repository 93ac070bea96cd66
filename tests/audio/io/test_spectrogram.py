"""The picture of a recording: what stands where in it."""

from __future__ import annotations

from io import BytesIO

import numpy as np
import pytest
from numpy.typing import NDArray
from PIL import Image

from builder.audio.io.spectrogram import (
    GAP_PX,
    LEFT_PX,
    RIGHT_PX,
    SPECTRUM_PX,
    TARGET_COLOUR,
    TOP_PX,
    WAVE_PX,
    WIDTH_PX,
    spectrogram_png,
)
from builder.audio.speech import Samples
from tests.support.audio import RATE, hold, say, sine

PLOT = WIDTH_PX - LEFT_PX - RIGHT_PX
BELOW = TOP_PX + WAVE_PX + GAP_PX + SPECTRUM_PX


def drawn(samples: Samples, rate: int, target: tuple[int, int] | None = None) -> NDArray[np.int_]:
    """The pixels, shape (rows, columns, 3)."""
    image = Image.open(BytesIO(spectrogram_png(samples, rate, target)))
    assert image.format == "PNG"
    return np.asarray(image.convert("RGB"), int)


def darkness(pixels: NDArray[np.int_], low: float, high: float, highest: float) -> float:
    """How dark the spectrogram is between two frequencies."""
    top, past = (round(BELOW - SPECTRUM_PX * hertz / highest) for hertz in (high, low))
    return float(255 - pixels[top:past, LEFT_PX + 5 : LEFT_PX + PLOT - 5].mean())


@pytest.mark.parametrize("rate", [22050, 44100])
@pytest.mark.parametrize("hertz", [1000.0, 5000.0, 9000.0])
def test_a_tone_is_dark_at_its_frequency_only(hertz: float, rate: int) -> None:
    pixels, highest = drawn(sine(hertz, 0.5, rate), rate), min(12_000, rate / 2)
    assert darkness(pixels, hertz - 150, hertz + 150, highest) > 150
    assert darkness(pixels, hertz + 1200, hertz + 1800, highest) < 40


def test_time_runs_from_left_to_right() -> None:
    pixels = drawn(np.concatenate([np.zeros(RATE), sine(3000, 1.0, RATE)]), RATE)
    left, right = (
        pixels[TOP_PX + WAVE_PX + GAP_PX + 5 : BELOW - 5, x : x + PLOT // 2 - 40].mean()
        for x in (LEFT_PX + 10, LEFT_PX + PLOT // 2 + 20)
    )
    assert left > right + 5


@pytest.mark.parametrize(("start", "stop"), [(0.0, 0.5), (0.4, 0.6), (0.9, 1.0)])
def test_the_target_is_marked_where_it_lies(start: float, stop: float) -> None:
    pixels = drawn(sine(500, 1.0, RATE), RATE, (round(start * RATE), round(stop * RATE)))
    bar = np.abs(pixels[TOP_PX - 3] - np.array(TARGET_COLOUR)).sum(axis=1) < 60
    (columns,) = np.nonzero(bar)
    assert columns[0] == pytest.approx(LEFT_PX + start * PLOT, abs=2)
    assert columns[-1] == pytest.approx(LEFT_PX + stop * PLOT, abs=2)


def test_without_a_target_nothing_is_marked() -> None:
    pixels = drawn(sine(500, 1.0, RATE), RATE)
    assert not np.any(np.abs(pixels - np.array(TARGET_COLOUR)).sum(axis=2) < 60)


def test_a_held_word_is_small_enough_for_a_page() -> None:
    speech = hold(say("seal", "S"), "S")
    assert len(spectrogram_png(speech.samples, speech.rate, speech.target)) < 150_000


def test_the_same_recording_gives_the_same_picture() -> None:
    speech = say("cow", "K")
    first, second = (spectrogram_png(speech.samples, speech.rate, speech.target) for _ in range(2))
    assert first == second


@pytest.mark.parametrize("samples", [np.zeros(0), np.zeros(RATE), np.ones(3)])
def test_next_to_nothing_is_drawn_too(samples: Samples) -> None:
    assert drawn(samples, RATE).shape[1] == WIDTH_PX
    assert drawn(samples, 8000).shape[1] == WIDTH_PX


def test_a_long_recording_is_drawn_as_wide_as_a_short_one() -> None:
    assert drawn(sine(300, 60.0, 8000), 8000).shape[1] == WIDTH_PX
