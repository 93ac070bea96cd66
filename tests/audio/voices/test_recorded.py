"""Recordings in: any rate, one channel out (every kind of file: test_decode.py)."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
import soundfile
from numpy.typing import NDArray

from builder.audio.assess.assess import assess_file
from builder.audio.voices.recorded import read_take, say
from builder.model.plan import Clip
from builder.phonetics.inventory import sounds
from builder.problems import UsageError
from tests.support.audio import sine


def recorded(path: Path, rate: int, channels: int = 1) -> str:
    tone = 0.3 * sine(1000, 0.5, rate)
    soundfile.write(path, np.stack([tone] * channels, axis=1), rate)
    return str(path)


@pytest.mark.parametrize("name", ["cow.wav", "cow.flac", "cow.mp3"])
@pytest.mark.parametrize("rate", [22050, 44100, 48000])
def test_a_take_keeps_its_rate(tmp_path: Path, name: str, rate: int) -> None:
    take = read_take(recorded(tmp_path / name, rate), alone=False)
    assert (take.rate, take.voice, take.target) == (rate, "recorded", None)
    assert len(take.samples) / rate == pytest.approx(0.5, abs=0.06)


@pytest.mark.parametrize(
    ("rate", "kept"), [(8000, 22050), (16000, 22050), (23000, 24000), (96000, 48000)]
)
def test_a_rate_that_mp3_lacks_becomes_the_next(tmp_path: Path, rate: int, kept: int) -> None:
    take = read_take(recorded(tmp_path / "cow.wav", rate), alone=False)
    assert take.rate == kept
    spectrum = np.abs(np.fft.rfft(take.samples))
    assert np.argmax(spectrum) * kept / len(take.samples) == pytest.approx(1000, abs=5)


def test_two_channels_become_one(tmp_path: Path) -> None:
    take = read_take(recorded(tmp_path / "cow.wav", 44100, channels=2), alone=False)
    assert take.samples.ndim == 1
    assert np.abs(take.samples).max() == pytest.approx(0.3, abs=0.01)


def test_a_sound_alone_is_its_own_target(tmp_path: Path) -> None:
    take = read_take(recorded(tmp_path / "s.wav", 44100), alone=True)
    assert take.target == (0, len(take.samples))


def test_the_target_stands_where_it_was_found(tmp_path: Path) -> None:
    file = recorded(tmp_path / "cow.wav", 16000)
    phones, key = (("K", "AW1"),), "0" * 32
    clip = Clip(
        key=key,
        path="",
        text="cow",
        words=phones,
        focus=(0, 0, 1),
        form="natural",
        alone=False,
        hold=0,
        voice="recorded",
        take=file,
        span=(0.1, 9.0),
    )
    speech = say(clip)
    assert speech.target == (2205, len(speech.samples))
    assert say(replace(clip, span=None)).target is None


def test_faulty_takes_are_said_plainly(tmp_path: Path) -> None:
    (tmp_path / "text.wav").write_text("no sound at all")
    (tmp_path / "empty.wav").write_bytes(b"")
    soundfile.write(tmp_path / "silent.wav", np.zeros(4410), 44100)
    soundfile.write(tmp_path / "endless.wav", np.zeros(61 * 8000), 8000)
    for name, message in {
        "text.wav": "cannot be read",
        "empty.wav": "cannot be read",
        "gone.wav": "cannot be read",
        "silent.wav": "no sound",
        "endless.wav": "60 seconds at most",
    }.items():
        with pytest.raises(UsageError, match=message):
            read_take(str(tmp_path / name), alone=False)


@pytest.mark.parametrize(
    "samples",
    [
        pytest.param(
            np.random.default_rng(1).integers(-3, 4, 44100) / 32768, id="a muted microphone"
        ),
        pytest.param(np.full(88200, 0.99), id="a constant"),
        pytest.param(np.eye(1, 4000, 2000)[0] * 0.9, id="one click"),
    ],
)
def test_a_take_without_speech_is_never_good(tmp_path: Path, samples: NDArray[np.float64]) -> None:
    file = tmp_path / "leaf.wav"
    soundfile.write(file, samples, 44100)
    words, focus = (("L", "IY1", "F"),), (0, 2, 3)
    found = assess_file(str(file), words, focus, sounds()["F"], form="natural", alone=False)
    assert found.verdict == "again"
    assert found.issues[0].sentence.endswith(".")
