"""Figures of what is wrong with a recording."""

from __future__ import annotations

import numpy as np
import pytest

from builder.audio.assess.measurements import (
    clipped_runs,
    flat_tops,
    hum,
    measure,
    near_clipped,
    voiced,
)
from builder.audio.speech import Samples
from tests.support import degraded
from tests.support.audio import RATE, hold, say, sine
from tests.support.degraded import recorded

TAKE = recorded("cow", "K")


def test_a_clean_word_has_no_faults() -> None:
    found = measure(TAKE.samples, TAKE.rate)
    assert (found.clipped, found.flat, found.near_clipped) == (0, 0, 0)
    assert abs(found.offset) < 0.001
    assert found.hum < 0.1
    assert found.voiced > 0.5
    assert found.pause < 0.1
    assert found.noise is not None
    assert found.loudness - found.noise == pytest.approx(55, abs=6)


@pytest.mark.parametrize("gain", [1.5, 3.0])
def test_full_scale_runs_and_flat_tops_are_counted(gain: float) -> None:
    assert clipped_runs(degraded.clipped(TAKE, gain).samples) > 10
    assert clipped_runs(degraded.clipped(TAKE, gain, 0.5).samples) == 0
    assert flat_tops(degraded.clipped(TAKE, gain, 0.5).samples) > 10


def test_three_samples_in_a_row_are_a_run_and_two_are_not() -> None:
    assert clipped_runs(np.array([0, 1, 1, 0.2, -1, -1, -1, 0.1])) == 1


@pytest.mark.parametrize(("word", "symbol"), [("moon", "M"), ("seal", "S"), ("shoe", "SH")])
def test_loud_but_clean_is_not_clipped(word: str, symbol: str) -> None:
    samples = recorded(word, symbol).samples
    loud = np.round(samples / np.abs(samples).max() * 32766) / 32768
    assert clipped_runs(loud) + (flat_tops(loud) > 1) == 0
    assert near_clipped(loud, degraded.RATE) < 10


def test_the_crests_of_a_held_hum_are_not_flat_tops() -> None:
    held = hold(say("moon", "M"), "M").samples
    assert flat_tops(held) <= 1
    assert flat_tops(sine(120, 1.0, RATE)) == 0


def test_clipping_is_seen_through_a_coder() -> None:
    loud = degraded.clipped(recorded("leaf", "L"), 3.0)
    coded = degraded.coded(loud, "libmp3lame", "mp3", 64000)
    assert near_clipped(coded.samples, coded.rate) >= 10


@pytest.mark.parametrize("mains", [50, 60])
def test_the_hum_of_the_mains_is_told_from_other_noise(mains: int) -> None:
    time = np.arange(RATE) / RATE
    lines = np.sin(2 * np.pi * mains * time) + 0.5 * np.sin(4 * np.pi * mains * time)
    noise = np.random.default_rng(1).standard_normal(RATE)
    assert hum(lines + 0.2 * noise, RATE) > 0.8
    assert hum(noise, RATE) < 0.1
    assert hum(np.cumsum(noise), RATE) < 0.3  # a rumble, strongest where the mains is
    assert hum(lines[:100], RATE) == 0.0


@pytest.mark.parametrize("word", ["cow", "seal", "fish"])
def test_words_hold_a_voice(word: str) -> None:
    assert voiced(say(word, {"cow": "K", "seal": "S", "fish": "F"}[word]).samples, RATE) > 0.4


def test_noise_holds_no_voice() -> None:
    noise = np.random.default_rng(1).standard_normal(RATE)
    assert voiced(noise, RATE) < 0.05
    assert voiced(np.zeros(RATE), RATE) == 0.0
    assert voiced(noise[:100], RATE) == 0.0


@pytest.mark.parametrize(("first", "last"), [(0.6, 0.0), (0.0, 0.6)])
def test_a_cut_end_is_loud_and_the_other_is_not(first: float, last: float) -> None:
    take = degraded.cut(recorded("seal", "S"), first, last)
    found = measure(take.samples, take.rate)
    loud, soft = (found.head, found.tail) if first else (found.tail, found.head)
    assert loud > found.loudness - 30
    assert soft < found.loudness - 40


def test_the_zeros_of_a_coder_do_not_hide_a_cut_and_silence_is_silence() -> None:
    word = degraded.cut(recorded("seal", "S"), 0.6).samples

    def head(zeros: float) -> float:
        return measure(np.pad(word, (round(zeros * 44100), 0)), 44100).head

    assert head(0.025) == pytest.approx(head(0.0), abs=0.5)
    assert head(0.3) == -np.inf


def test_a_pause_is_measured() -> None:
    gap: Samples = TAKE.samples[:100].repeat(441)[:44100] * 0
    gap = gap + np.random.default_rng(5).standard_normal(44100) * 1e-4
    found = measure(np.concatenate([TAKE.samples, gap, TAKE.samples]), TAKE.rate)
    assert found.pause == pytest.approx(1.8, abs=0.2)
