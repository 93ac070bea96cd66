"""The long form: the target held, all else as it was."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from builder.audio.dsp.measures import spectral_mean
from builder.audio.dsp.spectrum import BANDS, bands
from builder.audio.speech import Samples, Speech
from builder.audio.sustain.grains import CROSSFADE_S
from builder.audio.sustain.sustain import sustain_target
from builder.phonetics.inventory import sounds
from tests.support.audio import RATE, autocorrelation, hold, say, target
from tests.support.long_form_measures import compare_long_form

# initial, medial and final, alone and inside clusters
UNVOICED = [
    ("shell", "SH"),
    ("fish", "SH"),
    ("fishing", "SH"),
    ("bus", "S"),
    ("messy", "S"),
    ("soup", "S"),
    ("spoon", "S"),
    ("box", "S"),
    ("desk", "S"),
    ("mask", "S"),
    ("splash", "S"),
    ("fish", "F"),
    ("coffee", "F"),
    ("leaf", "F"),
    ("shelf", "F"),
    ("flag", "F"),
    ("thumb", "TH"),
    ("bath", "TH"),
    ("toothbrush", "TH"),
]
VOICED = [
    ("moon", "M"),
    ("hammer", "M"),
    ("lamp", "M"),
    ("moon", "N"),
    ("ring", "NG"),
    ("monkey", "NG"),
    ("lake", "L"),
    ("yellow", "L"),
    ("shell", "L"),
    ("milk", "L"),
    ("ring", "R"),
    ("car", "R"),
    ("zoo", "Z"),
    ("nose", "Z"),
    ("vest", "V"),
    ("wave", "V"),
    ("feather", "DH"),
    ("measure", "ZH"),
    ("bird", "ER"),
    ("key", "IY"),
    ("cow", "AW"),
]

SIBILANTS = [("bus", "S"), ("messy", "S"), ("spoon", "S"), ("box", "S"), ("shell", "SH")]
SONORANTS = [("moon", "M"), ("moon", "N"), ("team", "M"), ("key", "IY"), ("book", "UH")]


@pytest.mark.parametrize(("word", "symbol"), UNVOICED + VOICED)
@pytest.mark.parametrize("seconds", [1.0, 1.5, 2.0])
def test_the_target_lasts_as_long_as_asked(word: str, symbol: str, seconds: float) -> None:
    long = hold(say(word, symbol), symbol, seconds)
    assert len(target(long)) / RATE == pytest.approx(seconds, abs=0.03)


@pytest.mark.parametrize(("word", "symbol"), UNVOICED + VOICED)
def test_everything_but_the_middle_of_the_target_is_untouched(word: str, symbol: str) -> None:
    natural = say(word, symbol)
    long = hold(natural, symbol)
    assert natural.target is not None
    assert long.target is not None
    start, stop = natural.target
    edge = min(round(0.012 * RATE), (stop - start) // 4)
    after = len(natural.samples) - stop + edge
    assert long.target[0] == start
    assert np.array_equal(long.samples[: start + edge], natural.samples[: start + edge])
    assert np.array_equal(long.samples[-after:], natural.samples[-after:])
    assert len(long.samples) - long.target[1] == len(natural.samples) - stop


@pytest.mark.parametrize(("word", "symbol"), UNVOICED)
def test_a_held_noise_keeps_its_spectral_mean(word: str, symbol: str) -> None:
    natural = say(word, symbol)
    before = spectral_mean(target(natural), RATE)
    after = spectral_mean(target(hold(natural, symbol)), RATE)
    assert before is not None
    assert after == pytest.approx(before, rel=0.05)


@pytest.mark.parametrize(("word", "symbol"), UNVOICED)
@pytest.mark.parametrize("seed", [1, 2, 3])
def test_no_loop_is_heard_in_a_held_noise(word: str, symbol: str, seed: int) -> None:
    long = hold(say(word, symbol), symbol, seed=seed)
    assert autocorrelation(target(long), RATE, (0.030, 0.400)) < 0.15


def test_a_loop_would_be_seen() -> None:
    looped = np.tile(target(say("bus", "S"))[500:2500], 15)
    assert autocorrelation(looped, RATE, (0.030, 0.400)) > 0.8


@pytest.mark.parametrize(("word", "symbol"), [("zoo", "Z"), ("nose", "Z"), ("measure", "ZH")])
def test_friction_with_voice_does_not_repeat_itself(word: str, symbol: str) -> None:
    friction = np.diff(target(hold(say(word, symbol), symbol)), 2)  # the voice lies far below
    assert autocorrelation(friction, RATE, (0.030, 0.400)) < 0.15


@pytest.mark.parametrize(("word", "symbol"), UNVOICED + VOICED)
def test_no_click_at_the_joins(word: str, symbol: str) -> None:
    natural = say(word, symbol)
    long = hold(natural, symbol)
    first, past = _replaced(natural, long)
    steps = np.abs(np.diff(long.samples))
    limit = np.percentile(steps, 99.9)
    assert max(steps[first - 1 : first + 1].max(), steps[past - 1 : past + 1].max()) <= limit
    lap = round(CROSSFADE_S * RATE)
    if sounds()[symbol].voiced:  # the pulses of a voice are steps too
        limit = max(limit, steps[first + lap : past - lap].max())
        limit = 1.05 * max(limit, np.abs(np.diff(target(natural))).max())
    assert steps[first - 1 : first + lap].max() <= limit
    assert steps[past - lap - 1 : past + 1].max() <= limit


def _replaced(natural: Speech, long: Speech) -> tuple[int, int]:
    """Where the held samples begin to differ from the natural ones, from either side."""
    size = len(natural.samples)
    front = natural.samples == long.samples[:size]
    back = natural.samples[::-1] == long.samples[::-1][:size]
    return int(np.argmin(front)), len(long.samples) - int(np.argmin(back))


@pytest.mark.parametrize(("word", "symbol"), UNVOICED + VOICED)
def test_there_is_no_gap_inside_the_held_sound_or_after_it(word: str, symbol: str) -> None:
    natural = say(word, symbol)
    long = hold(natural, symbol)
    weakest = _weakest(target(natural)[200:-200])
    assert _weakest(target(long)[200:-200]) > 0.4 * weakest


def _weakest(samples: Samples) -> float:
    piece = round(0.012 * RATE)
    pieces = samples[: len(samples) // piece * piece].reshape(-1, piece)
    return float(np.sqrt((pieces**2).mean(axis=1)).min())


@pytest.mark.parametrize(
    ("word", "symbol"), [("moon", "M"), ("moon", "N"), ("ring", "NG"), ("lake", "L"), ("ring", "R")]
)
def test_a_held_voice_moves_no_more_than_the_natural_one(word: str, symbol: str) -> None:
    natural = say(word, symbol)
    assert _moved(target(hold(natural, symbol))) < 1.25 * _moved(target(natural))


def _moved(samples: Samples) -> float:
    return float(np.abs(np.diff(bands(samples, RATE)[:, :BANDS], axis=0)).mean())


# Alignment errs; a place told 30 ms off must not take a neighbor in.
@pytest.mark.parametrize(("word", "symbol"), [*SIBILANTS, *SONORANTS])
@pytest.mark.parametrize("off", [-0.030, 0.030])
def test_a_place_that_is_told_wrong_does_little_harm(word: str, symbol: str, off: float) -> None:
    natural = say(word, symbol)
    assert natural.target is not None
    start, stop = (max(0, at + round(off * RATE)) for at in natural.target)
    found = hold(replace(natural, target=(start, min(stop, len(natural.samples)))), symbol)
    measured = compare_long_form(natural, found, natural.target, sounds()[symbol], 1.5)
    assert set(measured.missed) <= {"mean", "level"}, measured.told()
    if symbol in ("S", "SH"):
        assert measured.figures["mean"][0] < 0.15


@pytest.mark.parametrize(("word", "symbol"), [*SIBILANTS, *SONORANTS])
def test_a_held_sound_is_as_loud_even_and_regular_as_the_natural_one(
    word: str, symbol: str
) -> None:
    natural = say(word, symbol)
    assert natural.target is not None
    found = compare_long_form(natural, hold(natural, symbol), natural.target, sounds()[symbol], 1.5)
    assert not found.missed, found.told()


def test_a_held_z_keeps_its_voice_and_its_friction() -> None:
    natural = say("zoo", "Z")
    assert natural.target is not None
    found = compare_long_form(natural, hold(natural, "Z"), natural.target, sounds()["Z"], 1.5)
    assert "bands" in found.figures
    assert not found.missed, found.told()


def test_what_is_cut_to_nothing_steady_says_so() -> None:
    with pytest.raises(ValueError, match="too short to be held"):
        sustain_target(
            Speech(np.ones(RATE) * 0.1, RATE, (500, 600), "recorded"),
            1.0,
            voiced=False,
            noisy=True,
            seed=0,
        )


@pytest.mark.parametrize("voiced", [False, True])
def test_silence_cannot_be_held(voiced: bool) -> None:
    with pytest.raises(ValueError, match="too short to be held"):
        sustain_target(
            Speech(np.zeros(RATE), RATE, (500, 6000), "recorded"),
            1.0,
            voiced=voiced,
            noisy=True,
            seed=0,
        )


def test_the_same_seed_gives_the_same_samples_and_another_does_not() -> None:
    natural = say("bus", "S")
    once, again, other = (hold(natural, "S", seed=seed).samples for seed in (3, 3, 4))
    assert np.array_equal(once, again)
    assert not np.array_equal(once, other)


def test_a_target_of_a_few_milliseconds_can_be_held() -> None:
    noise = np.random.default_rng(0).standard_normal(RATE) * 0.1
    voice = np.sign(np.sin(2 * np.pi * 180 * np.arange(RATE) / RATE)) * 0.1
    for samples, voiced in ((noise, False), (voice, True)):
        short = Speech(samples, RATE, (5000, 5000 + round(0.025 * RATE)), "embedded")
        long = sustain_target(short, 1.0, voiced=voiced, noisy=not voiced, seed=1)
        assert len(target(long)) / RATE == pytest.approx(1.0, abs=0.03)


@pytest.mark.parametrize("noisy", [False, True])
def test_where_there_is_no_voice_no_voiced_sound_is_held(noisy: bool) -> None:
    noise = np.random.default_rng(0).standard_normal(RATE) * 0.1
    with pytest.raises(ValueError, match="voice"):
        sustain_target(
            Speech(noise, RATE, (5000, 8000), "embedded"), 1.0, voiced=True, noisy=noisy, seed=1
        )


def test_without_a_place_nothing_can_be_held() -> None:
    unknown = Speech(np.ones(RATE), RATE, None, "recorded")
    with pytest.raises(ValueError, match="where its place is known"):
        sustain_target(unknown, 1.0, voiced=True, noisy=False, seed=0)
