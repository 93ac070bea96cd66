"""One loudness, gentle ends, silence around."""

from __future__ import annotations

import numpy as np
import pytest

from builder.audio.level import CEILING, LOUDNESS, SILENCE, finish
from builder.audio.measure import loudness, true_peak
from builder.audio.speech import Samples
from tests.audio.helpers import RATE, hold, say, sine

PAD = round(SILENCE * RATE)


@pytest.mark.parametrize(
    ("word", "symbol", "long"),
    [
        ("key", "K", False), ("cow", "K", False), ("kiss", "S", False), ("bus", "S", True),
        ("messy", "S", True), ("dish", "SH", True), ("fish", "F", True), ("shell", "SH", False),
        ("moon", "M", True), ("ring", "NG", True), ("wave", "V", True), ("thumb", "TH", True),
    ],
)  # fmt: skip
def test_every_word_is_equally_loud(word: str, symbol: str, long: bool) -> None:
    speech = say(word, symbol)
    clip = finish((hold(speech, symbol) if long else speech).samples, RATE)
    assert clip.kind == "LUFS"
    assert loudness(clip.samples, RATE) == pytest.approx(LOUDNESS, abs=1.0)
    assert loudness(clip.samples, RATE) == pytest.approx(clip.loudness, abs=0.05)
    assert true_peak(clip.samples) <= CEILING + 0.1


@pytest.mark.parametrize("gain", [0.01, 1.0])
def test_the_level_of_the_source_does_not_count(gain: float) -> None:
    source = say("cow", "K").samples
    assert np.allclose(finish(source * gain, RATE).samples, finish(source, RATE).samples)


def test_peaks_are_limited_and_the_rest_keeps_its_shape() -> None:
    noise = np.random.default_rng(3).standard_normal(2 * RATE) * 0.05
    noise[RATE : RATE + 2000] *= 12
    clip = finish(noise, RATE)
    assert true_peak(clip.samples) <= CEILING + 0.1
    quiet = slice(PAD + 2000, PAD + RATE // 2)
    assert _alike(clip.samples[quiet], noise[2000 : RATE // 2]) > 0.9999


def _alike(one: Samples, other: Samples) -> float:
    return float(np.corrcoef(one, other)[0, 1])


def test_a_click_alone_keeps_its_shape_and_stays_softer() -> None:
    click = np.exp(-np.arange(600) / 30.0) * np.random.default_rng(4).standard_normal(600)
    clip = finish(click, RATE)
    assert clip.kind == "gated RMS"
    assert clip.peak <= CEILING
    assert clip.loudness <= LOUDNESS


def test_a_short_sound_is_levelled_by_gated_rms() -> None:
    clip = finish(sine(997, 0.2, RATE) * 0.01, RATE)
    assert clip.kind == "gated RMS"
    assert clip.loudness == pytest.approx(LOUDNESS)
    # A sine at -18 on this scale has an amplitude of -18 + 3.01 dB, as 997 Hz is weighted by 0 dB.
    assert 20 * np.log10(np.abs(clip.samples).max()) == pytest.approx(-15, abs=1.5)


def test_silence_lies_around_and_the_ends_are_gentle() -> None:
    clip = finish(say("bus", "S").samples, RATE)
    heard = np.flatnonzero(np.abs(clip.samples) > 1e-3)
    assert 0.05 <= heard[0] / RATE <= 0.1
    assert 0.05 <= (len(clip.samples) - heard[-1]) / RATE <= 0.11
    assert np.all(clip.samples[:PAD] == 0)
    assert np.all(clip.samples[-PAD:] == 0)


def test_the_shift_tells_where_everything_went() -> None:
    silent = np.zeros(RATE)
    tone = sine(500, 0.5, RATE)
    clip = finish(np.concatenate([silent, tone, silent]), RATE)
    assert clip.shift == pytest.approx(PAD - RATE, abs=round(0.005 * RATE))


def test_noise_of_a_room_is_cut_away_at_the_ends() -> None:
    random = np.random.default_rng(6)
    room = random.standard_normal(3 * RATE) * 0.001
    room[RATE : 2 * RATE] += sine(500, 1.0, RATE) * 0.3
    clip = finish(room, RATE)
    assert len(clip.samples) / RATE == pytest.approx(1.0 + 2 * SILENCE, abs=0.1)


def test_without_sound_there_is_no_clip() -> None:
    with pytest.raises(ValueError, match="without any sound"):
        finish(np.zeros(RATE), RATE)


def test_a_faint_target_is_never_trimmed() -> None:
    tone, faint = sine(500, 0.5, RATE), 0.001 * sine(3000, 0.3, RATE)
    word = np.concatenate([tone, faint])
    kept = finish(word, RATE, keep=(len(tone), len(word)))
    assert len(kept.samples) == len(word) + 2 * PAD
    assert len(finish(word, RATE).samples) < len(kept.samples)
