"""How far up a sound reaches, whatever its file claims."""

from __future__ import annotations

import numpy as np
import pytest

from builder.audio.dsp.bandwidth import band_edge
from builder.audio.speech import Samples
from tests.support import degraded
from tests.support.audio import sine
from tests.support.degraded import (
    Take,
    joined,
    low_passed,
    recorded,
    resampled,
    telephone,
    upsampled,
)


def noise(seconds: float, rate: int, highest: float) -> Samples:
    """Even noise up to `highest` Hz."""
    size = round(seconds * rate)
    spectrum = np.fft.rfft(np.random.default_rng(2).standard_normal(size))
    spectrum[np.fft.rfftfreq(size, 1 / rate) > highest] = 0
    return np.fft.irfft(spectrum, size)


def of(take: Take) -> tuple[float, bool]:
    quiet = take.samples[: round(0.3 * take.rate)]
    return band_edge(take.samples[slice(*take.target)], take.rate, quiet)


@pytest.mark.parametrize("highest", [3400.0, 5000.0, 7000.0, 9500.0, 12000.0])
@pytest.mark.parametrize("seconds", [0.06, 0.2, 1.0])
def test_the_edge_of_noise_is_where_it_ends(highest: float, seconds: float) -> None:
    found, hidden = band_edge(noise(seconds, 44100, highest), 44100)
    assert found == pytest.approx(highest, abs=400)
    assert not hidden


def test_what_lies_30_db_below_is_within_and_40_db_below_is_not() -> None:
    low = noise(0.5, 44100, 5000)
    high = noise(0.5, 44100, 12000) - noise(0.5, 44100, 5000)
    assert band_edge(low + high * 10 ** (-27 / 20), 44100)[0] > 11_500
    assert band_edge(low + high * 10 ** (-36 / 20), 44100)[0] < 5_600


def test_a_voice_below_one_kilohertz_does_not_hide_the_friction() -> None:
    friction = noise(0.3, 44100, 10_000) * 0.01
    assert band_edge(friction + sine(150, 0.3, 44100), 44100)[0] == pytest.approx(10_000, abs=400)


def test_the_noise_of_the_recording_is_not_the_sound() -> None:
    room = np.random.default_rng(3).standard_normal(2 * 44100) * 0.05
    sound = noise(0.3, 44100, 5000) + room[:13230]
    assert band_edge(sound, 44100)[0] > 20_000
    found, hidden = band_edge(sound, 44100, room[20_000:])
    assert found == pytest.approx(5000, abs=400)
    assert hidden


def test_a_sound_that_ends_where_it_is_quiet_is_not_hidden() -> None:
    room = np.random.default_rng(3).standard_normal(2 * 44100) * 1e-4
    assert not band_edge(noise(0.3, 44100, 5000) + room[:13230], 44100, room)[1]


@pytest.mark.parametrize("word", ["seal", "bus", "messy"])
def test_a_clean_s_reaches_as_far_as_its_voice(word: str) -> None:
    take = recorded(word, "S")  # the voice itself ends at 11 kHz
    assert 10_000 < of(take)[0] < 11_500


@pytest.mark.parametrize("hertz", [3400.0, 5000.0, 7000.0])
def test_a_low_pass_is_found_in_the_word(hertz: float) -> None:
    assert of(low_passed(recorded("seal", "S"), hertz))[0] == pytest.approx(hertz, abs=500)


@pytest.mark.parametrize("rate", [8000, 11025, 16000])
def test_a_claimed_rate_does_not_deceive(rate: int) -> None:
    take = recorded("bus", "S")
    for narrow in (upsampled(take, rate), joined(take, rate)):
        assert of(narrow)[0] == pytest.approx(rate / 2, abs=400)


def test_images_are_not_the_sound() -> None:
    # Joined by straight lines, 7 kHz comes again at 9 kHz, only 4 dB softer.
    take = joined(recorded("seal", "S", 48000), 16000)
    spectrum = np.abs(np.fft.rfft(take.samples[slice(*take.target)])) ** 2
    hertz = np.linspace(0, 24000, len(spectrum))
    above, below = (spectrum[(hertz > a) & (hertz < a + 1000)].mean() for a in (8500, 6500))
    assert 10 * np.log10(above / below) > -12
    assert of(take)[0] < 8000


def test_a_telephone_ends_at_4_khz() -> None:
    assert of(telephone(recorded("bus", "S")))[0] <= 4000


@pytest.mark.parametrize("rate", [22050, 24000, 48000])
def test_coders_of_good_rates_leave_the_band(rate: int) -> None:
    take = recorded("seal", "S", rate)
    assert of(degraded.coded(take, "libmp3lame", "mp3", 64000))[0] > 9000


def test_a_border_inside_the_vowel_changes_little() -> None:
    take = recorded("seal", "S")
    wide = Take(take.samples, take.rate, (take.target[0], take.target[1] + 1300))
    assert of(wide)[0] == pytest.approx(of(take)[0], abs=500)


def test_nothing_has_no_edge() -> None:
    assert band_edge(np.zeros(0), 44100) == (0.0, False)
    assert band_edge(np.zeros(44100), 44100) == (0.0, False)
    assert band_edge(np.ones(100), 44100) == (0.0, False)


def test_a_good_resampling_keeps_the_edge() -> None:
    sound = noise(0.5, 48000, 9500)
    assert band_edge(resampled(sound, 48000, 44100), 44100)[0] == pytest.approx(9500, abs=300)
