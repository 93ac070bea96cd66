"""Recordings in: three kinds of file, any rate, one channel out."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
import soundfile
from numpy.typing import NDArray

from builder.audio.studio import record
from builder.audio.voices.takes import is_long, read
from builder.plan import Clip
from builder.problems import UsageError
from tests.audio.helpers import sine


def recorded(path: Path, rate: int, channels: int = 1) -> str:
    tone = 0.3 * sine(1000, 0.5, rate)
    soundfile.write(path, np.stack([tone] * channels, axis=1), rate)
    return str(path)


@pytest.mark.parametrize("name", ["cow.wav", "cow.flac", "cow.mp3"])
@pytest.mark.parametrize("rate", [22050, 44100, 48000])
def test_a_take_keeps_its_rate(tmp_path: Path, name: str, rate: int) -> None:
    take = read(recorded(tmp_path / name, rate), alone=False)
    assert (take.rate, take.voice, take.target) == (rate, "take", None)
    assert len(take.samples) / rate == pytest.approx(0.5, abs=0.06)


@pytest.mark.parametrize(
    ("rate", "kept"), [(8000, 22050), (16000, 22050), (23000, 24000), (96000, 48000)]
)
def test_a_rate_that_mp3_lacks_becomes_the_next(tmp_path: Path, rate: int, kept: int) -> None:
    take = read(recorded(tmp_path / "cow.wav", rate), alone=False)
    assert take.rate == kept
    spectrum = np.abs(np.fft.rfft(take.samples))
    assert np.argmax(spectrum) * kept / len(take.samples) == pytest.approx(1000, abs=5)


def test_two_channels_become_one(tmp_path: Path) -> None:
    take = read(recorded(tmp_path / "cow.wav", 44100, channels=2), alone=False)
    assert take.samples.ndim == 1
    assert np.abs(take.samples).max() == pytest.approx(0.3, abs=0.01)


def test_a_sound_alone_is_its_own_target(tmp_path: Path) -> None:
    take = read(recorded(tmp_path / "s.wav", 44100), alone=True)
    assert take.target == (0, len(take.samples))


@pytest.mark.parametrize(
    ("name", "long"),
    [("cow.wav", False), ("Cow-Long.WAV", True), ("cow_long.flac", True), ("long.wav", False)],
)
def test_the_name_tells_a_long_take(name: str, long: bool) -> None:
    assert is_long(f"takes/{name}") is long


def test_faulty_takes_are_said_plainly(tmp_path: Path) -> None:
    (tmp_path / "text.wav").write_text("no sound at all")
    (tmp_path / "empty.wav").write_bytes(b"")
    soundfile.write(tmp_path / "silent.wav", np.zeros(4410), 44100)
    soundfile.write(tmp_path / "endless.wav", np.zeros(61 * 8000), 8000)
    for name, message in {
        "text.wav": "cannot be read", "empty.wav": "cannot be read", "gone.wav": "cannot be read",
        "silent.wav": "no sound", "endless.wav": "60 seconds at most",
    }.items():  # fmt: skip
        with pytest.raises(UsageError, match=message):
            read(str(tmp_path / name), alone=False)


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
def test_a_take_without_speech_is_told_by_its_name(
    tmp_path: Path, samples: NDArray[np.float64]
) -> None:
    file = tmp_path / "leaf.wav"
    soundfile.write(file, samples, 44100)
    phones = (("L", "IY1", "F"),)
    clip = Clip("0" * 32, "", "leaf", phones, (0, 2, 3), "natural", False, 0, "take", str(file))
    with pytest.raises(UsageError, match=r"leaf\.wav: this recording is too quiet or damaged"):
        record(clip)
