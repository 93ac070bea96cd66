from __future__ import annotations

import numpy as np
import pytest

from builder.audio.dsp.voice_activity import piece_levels, sound_segments
from builder.audio.speech import Samples

RATE = 24000
Bursts = list[tuple[float, float]]


def room(seconds: float, level: float, seed: int = 1) -> Samples:
    """White noise of so much RMS."""
    size = round(seconds * RATE)
    return np.asarray(level * np.random.default_rng(seed).standard_normal(size))


def tones(seconds: float, bursts: Bursts, level: float = 0.2) -> Samples:
    """Tones of 400 Hz from and to so many seconds."""
    made = np.zeros(round(seconds * RATE))
    for start, stop in bursts:
        at = np.arange(round(start * RATE), round(stop * RATE))
        made[at] = level * np.sin(2 * np.pi * 400 * at / RATE)
    return made


def found(samples: Samples) -> Bursts:
    return [(first / RATE, past / RATE) for first, past in sound_segments(samples, RATE)]


def assert_near(got: Bursts, wanted: Bursts, off: float = 0.03) -> None:
    assert len(got) == len(wanted), got
    assert np.abs(np.array(got) - np.array(wanted)).max() <= off, got


BURSTS = [(1.0, 1.5), (2.5, 2.9), (5.0, 5.6)]


@pytest.mark.parametrize("noise", [0.0, 1e-5, 1e-3, 2e-2])
def test_bursts_in_noise(noise: float) -> None:
    assert_near(found(tones(7, BURSTS) + room(7, noise)), BURSTS)


def test_the_floor_follows_a_room_that_gets_louder() -> None:
    bursts = [(at + 0.5, at + 1.0) for at in range(0, 40, 2)]
    fan = np.concatenate([room(20, 0.001), room(20, 0.02, seed=2)])
    got = found(tones(40, bursts) + fan)
    near = [burst for burst in got if not 18 < burst[0] < 24]  # the fan itself may be heard
    assert_near(near, [burst for burst in bursts if not 18 < burst[0] < 24])


def test_a_quiet_voice_is_found_as_well_as_a_loud_one() -> None:
    soft = tones(7, BURSTS, level=0.002) + room(7, 0.0001)
    assert_near(found(soft), BURSTS)


def test_a_bang_hides_nothing() -> None:
    samples = tones(7, BURSTS, level=0.01) + room(7, 0.0005)
    samples[round(3.5 * RATE) : round(3.5 * RATE) + 240] += 0.9
    got = [burst for burst in found(samples) if not 3.4 < burst[0] < 3.6]
    assert_near(got, BURSTS)


def test_the_closure_of_a_stop_parts_nothing_but_a_pause_does() -> None:
    assert len(found(tones(3, [(1.0, 1.2), (1.29, 1.5)]) + room(3, 0.001))) == 1
    assert len(found(tones(3, [(1.0, 1.2), (1.45, 1.7)]) + room(3, 0.001))) == 2


def test_the_release_of_a_last_stop_belongs_to_its_word() -> None:
    got = found(tones(3, [(1.0, 1.4), (1.57, 1.59)]) + room(3, 0.001))
    assert_near(got, [(1.0, 1.59)])


def test_a_click_is_none() -> None:
    assert found(tones(3, [(1.0, 1.005)]) + room(3, 0.001)) == []


def test_a_soft_hiss_stands_out_from_a_loud_hum() -> None:
    hum = 0.1 * np.sin(2 * np.pi * 100 * np.arange(3 * RATE) / RATE)
    hiss = room(3, 0.004, seed=3)
    hiss[:RATE] = hiss[round(1.4 * RATE) :] = 0
    assert_near(found(hum + hiss + room(3, 0.0005)), [(1.0, 1.4)])


def test_an_offset_does_not_count() -> None:
    assert_near(found(tones(7, BURSTS) + room(7, 0.001) + 0.2), BURSTS)


@pytest.mark.parametrize("samples", [np.zeros(0), np.zeros(5), np.zeros(2 * RATE), np.ones(RATE)])
def test_nothing(samples: Samples) -> None:
    assert found(samples) == []


def test_noise_alone_is_nothing() -> None:
    assert found(room(20, 0.01)) == []


def test_a_long_recording_is_heard_in_parts_without_a_seam() -> None:
    bursts = [(at + 0.3, at + 0.7) for at in np.arange(25, 65, 1.0)]
    assert_near(found(tones(70, bursts) + room(70, 0.001)), bursts)


def test_a_level_is_that_of_the_sine() -> None:
    middle = piece_levels(np.sin(2 * np.pi * 1000 * np.arange(RATE) / RATE), RATE)[50]
    # K-weighting adds 0.69 dB at about 1 kHz: Recommendation ITU-R BS.1770-4, Annex 1.
    assert middle == pytest.approx(-3.01 + 0.69, abs=0.1)
