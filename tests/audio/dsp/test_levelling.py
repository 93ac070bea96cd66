"""One loudness, gentle ends, silence around."""

from __future__ import annotations

import numpy as np
import pytest

from builder.audio.dsp.levelling import finish
from builder.audio.dsp.measures import block_power, gated_loudness, k_weighted, loudness, true_peak
from builder.audio.speech import Samples
from tests.support.audio import RATE, hold, say, sine

# Speech on the internet: AES TD1008 (2021). The peak before coding: 1 dB under what EBU R 128
# (2023) allows after it, as MP3 adds up to 0.7 dB.
WANTED_LUFS, HIGHEST_DBTP = -18.0, -2.0
PADDING_S = 0.050
PAD = round(PADDING_S * RATE)


@pytest.mark.parametrize(
    ("word", "symbol", "long"),
    [
        ("key", "K", False),
        ("cow", "K", False),
        ("kiss", "S", False),
        ("bus", "S", True),
        ("messy", "S", True),
        ("dish", "SH", True),
        ("fish", "F", True),
        ("shell", "SH", False),
        ("moon", "M", True),
        ("ring", "NG", True),
        ("wave", "V", True),
        ("thumb", "TH", True),
    ],
)
def test_every_word_is_equally_loud(word: str, symbol: str, long: bool) -> None:
    speech = say(word, symbol)
    clip = finish((hold(speech, symbol) if long else speech).samples, RATE)
    assert clip.kind == "LUFS"
    assert loudness(clip.samples, RATE) == pytest.approx(WANTED_LUFS, abs=1.0)
    assert loudness(clip.samples, RATE) == pytest.approx(clip.loudness, abs=0.05)
    assert true_peak(clip.samples) <= HIGHEST_DBTP + 0.1


@pytest.mark.parametrize("gain", [0.01, 1.0])
def test_the_level_of_the_source_does_not_count(gain: float) -> None:
    source = say("cow", "K").samples
    assert np.allclose(finish(source * gain, RATE).samples, finish(source, RATE).samples)


def test_peaks_are_limited_and_the_rest_keeps_its_shape() -> None:
    noise = np.random.default_rng(3).standard_normal(2 * RATE) * 0.05
    noise[RATE : RATE + 2000] *= 12
    clip = finish(noise, RATE)
    assert true_peak(clip.samples) <= HIGHEST_DBTP + 0.1
    quiet = slice(PAD + 2000, PAD + RATE // 2)
    assert _alike(clip.samples[quiet], noise[2000 : RATE // 2]) > 0.9999


def _alike(one: Samples, other: Samples) -> float:
    return float(np.corrcoef(one, other)[0, 1])


def test_a_click_alone_keeps_its_shape_and_stays_softer() -> None:
    click = np.exp(-np.arange(600) / 30.0) * np.random.default_rng(4).standard_normal(600)
    clip = finish(click, RATE)
    assert clip.kind == "gated RMS"
    assert clip.peak <= HIGHEST_DBTP
    assert clip.loudness <= WANTED_LUFS


def test_a_short_sound_is_levelled_by_gated_rms() -> None:
    clip = finish(sine(997, 0.2, RATE) * 0.01, RATE)
    assert clip.kind == "gated RMS"
    assert clip.loudness == pytest.approx(WANTED_LUFS)
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
    assert PAD - RATE - 0.01 * RATE <= clip.shift <= 2 * PAD - RATE
    heard = np.flatnonzero(np.abs(clip.samples) > 0.01)
    assert heard[0] == pytest.approx(len(silent) + clip.shift, abs=round(0.005 * RATE))


def test_noise_of_a_room_is_cut_away_at_the_ends() -> None:
    random = np.random.default_rng(6)
    room = random.standard_normal(3 * RATE) * 0.001
    room[RATE : 2 * RATE] += sine(500, 1.0, RATE) * 0.3
    clip = finish(room, RATE)
    assert len(clip.samples) / RATE == pytest.approx(1.0 + 2 * PADDING_S, abs=0.1)


def test_without_sound_there_is_no_clip() -> None:
    with pytest.raises(ValueError, match="without any sound"):
        finish(np.zeros(RATE), RATE)


def test_a_faint_target_is_never_trimmed() -> None:
    tone, faint = sine(500, 0.5, RATE), 0.001 * sine(3000, 0.3, RATE)
    word = np.concatenate([tone, faint])
    kept = finish(word, RATE, keep=(len(tone), len(word)))
    assert 2 * PAD <= len(kept.samples) - len(word) <= 4 * PAD
    assert len(finish(word, RATE).samples) < len(kept.samples)


def in_room(samples: Samples, before: float = 1.0, after: float = 1.0) -> Samples:
    """With room noise around, 60 dB below full scale."""
    padded = np.pad(samples, (round(before * RATE), round(after * RATE)))
    return padded + np.random.default_rng(9).standard_normal(len(padded)) * 3e-4


@pytest.mark.parametrize(("word", "symbol"), [("fan", "F"), ("leaf", "F"), ("bath", "TH")])
def test_a_weak_first_or_last_sound_is_not_cut(word: str, symbol: str) -> None:
    speech = say(word, symbol)
    assert speech.target
    clip = finish(in_room(speech.samples), RATE)
    start, stop = (at + RATE + clip.shift for at in speech.target)
    assert start >= PAD
    assert stop <= len(clip.samples) - PAD


@pytest.mark.parametrize(("before", "after"), [(0.1, 3.0), (2.0, 0.2)])
def test_a_long_silence_is_cut_and_50_to_100_ms_stay(before: float, after: float) -> None:
    word = say("cow", "K").samples
    clip = finish(in_room(word, before, after), RATE)
    loud = np.flatnonzero(np.abs(clip.samples) > 0.02)
    assert 0.05 <= loud[0] / RATE <= 0.15
    assert 0.05 <= (len(clip.samples) - loud[-1]) / RATE <= 0.25  # the vowel dies away


def test_a_click_far_after_the_word_is_cut_away() -> None:
    word = in_room(say("cow", "K").samples, after=2.0)
    clicked = word.copy()
    clicked[-RATE:][:200] += 0.3 * np.random.default_rng(2).standard_normal(200)
    assert len(finish(clicked, RATE).samples) == len(finish(word, RATE).samples)


@pytest.mark.parametrize("hertz", [8.0, 20.0])
def test_a_rumble_goes_and_the_word_stays(hertz: float) -> None:
    word = in_room(say("leg", "L").samples)
    clean, found = finish(word, RATE), finish(word + sine(hertz, 9.0, RATE)[: len(word)], RATE)
    assert found.loudness == pytest.approx(WANTED_LUFS, abs=1.0)
    least = min(clean.shift, found.shift)
    one, other = clean.samples[clean.shift - least :], found.samples[found.shift - least :]
    shared = min(len(one), len(other)) - RATE // 10
    assert _alike(one[RATE // 10 : shared], other[RATE // 10 : shared]) > 0.99


def test_a_low_voice_is_no_rumble() -> None:
    hum = np.sum([sine(70 * n, 1.0, RATE) / n for n in range(1, 20)], axis=0)
    clip = finish(hum, RATE)
    kept = clip.samples[clip.shift :][: len(hum)]
    assert _alike(kept[500:-500], hum[500 : len(kept) - 500]) > 0.999


def test_a_short_word_with_peaks_is_as_loud_as_others() -> None:
    burst = np.random.default_rng(3).standard_normal(round(0.3 * RATE)) * 0.02
    burst[1000:1060] *= 30
    clip = finish(burst, RATE)
    assert clip.kind == "gated RMS"
    assert clip.loudness == pytest.approx(WANTED_LUFS, abs=1.0)
    assert clip.peak <= HIGHEST_DBTP + 0.1


def test_whole_blocks_of_the_measure_cover_the_clip() -> None:
    for word, symbol in (("cow", "K"), ("bus", "S"), ("moon", "M")):
        assert len(finish(say(word, symbol).samples, RATE).samples) % round(0.1 * RATE) == 0


def test_a_gate_that_moves_a_little_does_not_change_the_loudness() -> None:
    # A soft sound held long, 10 LU under a short vowel: it lies on the gate.
    for level in np.linspace(0.14, 0.18, 11):
        soft = level * sine(997, 2.0, RATE)
        clip = finish(np.concatenate([soft, sine(997, 0.6, RATE)]) * 0.1, RATE)
        power = block_power(k_weighted(clip.samples, RATE), round(0.4 * RATE), round(0.1 * RATE))
        for gate in (9.8, 10.2):
            assert gated_loudness(power, gate) == pytest.approx(WANTED_LUFS, abs=1.0)
