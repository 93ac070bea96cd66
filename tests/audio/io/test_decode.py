"""Any recording in: every kind of file a phone, a browser or a recorder writes, and bad ones."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
import soundfile
from numpy.typing import NDArray

from builder.audio.io.decode import LONGEST_SESSION_S, decode
from builder.problems import UsageError
from tests.support.audio import sine
from tests.support.audio_files import ahead, filmed, made

CLICK_AT = 0.3  # seconds
NOISE = np.random.default_rng(1).normal(0, 0.1, 44100)

KINDS = [
    ("wav", "pcm_u8", 8000),
    ("wav", "pcm_s16le", 44100),
    ("wav", "pcm_s24le", 96000),
    ("wav", "pcm_f32le", 192000),
    ("wav", "pcm_f64le", 48000),
    ("wav", "pcm_mulaw", 8000),
    ("aiff", "pcm_s16be", 44100),
    ("caf", "pcm_s16le", 44100),
    ("flac", "flac", 48000),
    ("mp3", "libmp3lame", 44100),
    ("mp3", "libmp3lame", 16000),
    ("ipod", "aac", 44100),
    ("ipod", "alac", 48000),
    ("mp4", "aac", 48000),
    ("mov", "aac", 44100),
    ("3gp", "aac", 32000),
    ("ogg", "libopus", 48000),
    ("webm", "libopus", 48000),
    ("matroska", "aac", 44100),
]


def click(rate: int) -> NDArray[np.float64]:
    samples = np.zeros(rate)
    samples[round(CLICK_AT * rate)] = 0.9
    return samples


@pytest.mark.parametrize(("kind", "codec", "rate"), KINDS)
def test_every_sample_comes_back_at_its_place(kind: str, codec: str, rate: int) -> None:
    samples, found = decode(made(kind, codec, click(rate), rate))
    assert found == rate
    assert int(np.abs(samples).argmax()) == round(CLICK_AT * rate)
    assert len(samples) == pytest.approx(rate, abs=0 if kind != "matroska" else 1024)


@pytest.mark.parametrize("codec", ["pcm_s16le", "pcm_s24le", "pcm_f32le"])
def test_uncompressed_samples_are_exact(codec: str) -> None:
    bits = {"pcm_s16le": 15, "pcm_s24le": 23, "pcm_f32le": 23}[codec]
    samples, _ = decode(made("wav", codec, NOISE, 44100))
    assert np.abs(samples - NOISE).max() <= 2.0**-bits


@pytest.mark.parametrize("codec", ["VORBIS", "OPUS"])
def test_ogg(codec: str, tmp_path: Path) -> None:
    soundfile.write(tmp_path / "a.ogg", click(48000), 48000, format="OGG", subtype=codec)
    samples, rate = decode(str(tmp_path / "a.ogg"))
    assert (rate, int(np.abs(samples).argmax())) == (48000, round(CLICK_AT * 48000))


def test_a_voice_memo_of_an_old_phone() -> None:
    samples, rate = decode(made("amr", "libopencore_amrnb", 0.5 * sine(440, 1.0, 8000), 8000))
    assert rate == 8000
    assert np.argmax(np.abs(np.fft.rfft(samples[:8000]))) == pytest.approx(440, abs=3)


@pytest.mark.parametrize(
    ("kind", "codec", "options"),
    [
        ("mp4", "aac", {"movflags": "frag_keyframe+empty_moov+default_base_moof"}),
        ("webm", "libopus", {"live": "1"}),
    ],
)
def test_what_a_browser_records_never_says_how_long_it_is(
    kind: str, codec: str, options: dict[str, str]
) -> None:
    samples, _ = decode(made(kind, codec, sine(440, 1.0, 48000), 48000, **options))
    assert len(samples) == pytest.approx(48000, abs=2048)


def test_pictures_in_a_file_do_not_matter() -> None:
    samples, rate = decode(filmed(0.5 * sine(440, 1.0, 44100), 44100))
    assert rate == 44100
    assert np.argmax(np.abs(np.fft.rfft(samples[:44100]))) == pytest.approx(440, abs=1)


def test_equal_channels_are_averaged() -> None:
    stereo = np.stack([NOISE, 0.8 * NOISE])
    samples, _ = decode(made("wav", "pcm_f32le", stereo, 44100))
    assert np.abs(samples - 0.9 * NOISE).max() < 1e-6


@pytest.mark.parametrize(
    "other",
    [
        pytest.param(np.zeros(44100), id="silent"),
        pytest.param(-NOISE, id="turned over"),
        pytest.param(np.full(44100, 0.5), id="a constant"),
        pytest.param(0.001 * np.random.default_rng(2).normal(0, 1, 44100), id="hiss"),
    ],
)
@pytest.mark.parametrize("first", [True, False])
def test_a_channel_that_would_spoil_the_average_is_left_out(
    other: NDArray[np.float64], first: bool
) -> None:
    stereo = np.stack([NOISE, other] if first else [other, NOISE])
    samples, _ = decode(made("wav", "pcm_f32le", stereo, 44100))
    off = min(np.abs(samples - NOISE).max(), np.abs(samples + NOISE).max())
    assert off < 1e-6


@pytest.mark.parametrize("count", [2, 6, 8])
def test_many_channels(count: int, tmp_path: Path) -> None:
    soundfile.write(tmp_path / "a.flac", np.stack([NOISE] * count, 1), 44100)
    samples, _ = decode(str(tmp_path / "a.flac"))
    assert np.abs(samples - NOISE).max() < 2.0**-15


PROTECTED = {
    "encryption_scheme": "cenc-aes-ctr",
    "encryption_key": "00" * 16,
    "encryption_kid": "11" * 16,
}
WHOLE = made("wav", "pcm_s16le", NOISE, 44100)
MP4 = made("mp4", "aac", NOISE, 44100)
MP3 = made("mp3", "libmp3lame", NOISE, 44100)
FLAC = made("flac", "flac", NOISE, 44100)
WEBM = made("webm", "libopus", sine(300, 1.0, 48000), 48000)
LIST = b"#EXTM3U\n#EXT-X-TARGETDURATION:2\n#EXTINF:1,\nfile:///etc/hostname\n#EXT-X-ENDLIST\n"


def holed(data: bytes, size: int = 3000) -> bytes:
    middle = len(data) // 2
    return data[:middle] + bytes(size) + data[middle + size :]


BAD = {
    "empty": (b"", "the file is empty"),
    "text": (b"no sound at all\n" * 99, "damaged or is not a recording"),
    "random": (np.random.default_rng(2).bytes(50000), "damaged or is not a recording"),
    "play list": (LIST, "damaged or is not a recording"),
    "list of files": (
        b"ffconcat version 1.0\nfile /etc/hostname\n",
        "damaged or is not a recording",
    ),
    "header only": (WHOLE[:44], "damaged or is not a recording"),
    "cut WAV": (WHOLE[: len(WHOLE) // 2], r"stops after 0\.5 of 1\.0 seconds"),
    "cut M4A": (MP4[: len(MP4) // 2], "not copied whole|damaged"),
    "cut WebM": (WEBM[: len(WEBM) // 2], "not copied whole"),
    "cut FLAC": (FLAC[: len(FLAC) // 2], "damaged|not copied whole"),
    "holed MP3": (holed(MP3), "damaged"),
    "holed FLAC": (holed(FLAC), "damaged|not copied whole"),
    "not a number": (made("wav", "pcm_f32le", np.full(8000, np.nan), 8000), "not sound"),
    "out of measure": (made("wav", "pcm_f32le", np.full(8000, 1e9), 8000), "not sound"),
    "slow": (made("wav", "pcm_s16le", np.zeros(4000), 4000), "recorded at 4000 Hz"),
    "fast": (made("wav", "pcm_s16le", np.zeros(4000), 384000), "recorded at 384000 Hz"),
    "bought": (MP4.replace(b"mp4a", b"drms"), "protected against copying"),
    "locked": (made("mp4", "aac", NOISE, 44100, **PROTECTED), "protected against copying"),
    "a minute": (made("flac", "flac", np.zeros(61 * 8000), 8000), "60 seconds at most"),
}


@pytest.mark.parametrize("name", BAD)
def test_a_bad_file_is_told_in_one_sentence(name: str, tmp_path: Path) -> None:
    data, message = BAD[name]
    file = tmp_path / "take.m4a"
    file.write_bytes(data)
    with pytest.raises(UsageError, match=message) as bytes_told:
        decode(data)
    with pytest.raises(UsageError, match=message) as file_told:
        decode(str(file))
    assert str(file_told.value) == f"{file}: {bytes_told.value}"
    assert "\n" not in str(file_told.value)


def test_a_file_cut_after_its_index_is_told(tmp_path: Path) -> None:
    data = ahead(MP4, str(tmp_path / "a.mp4"))
    assert len(decode(data)[0]) == 44100
    with pytest.raises(UsageError, match="stops after"):
        decode(data[: len(data) // 2])


@pytest.mark.parametrize("size", [0, 0x7FFFFFFF + 100, 0xFFFFFFFF])
def test_a_recorder_that_never_wrote_its_size_is_read(size: int) -> None:
    head = size.to_bytes(4, "little")
    at = WHOLE.index(b"data") + 4
    data = WHOLE[:4] + head + WHOLE[8:at] + head + WHOLE[at + 4 :]
    assert len(decode(data)[0]) == 44100


@pytest.mark.parametrize("tail", [b"TAG" + b"a" * 125, b"junk" * 500, bytes(5000)])
def test_what_follows_the_sound_does_not_matter(tail: bytes) -> None:
    samples, _ = decode(MP3 + tail)
    assert len(samples) == pytest.approx(44100, abs=1152)


@pytest.mark.parametrize("name", ["gone.wav", "http://localhost:1/a.wav", "/dev/zero"])
def test_only_files_are_opened(name: str) -> None:
    with pytest.raises(UsageError, match="there is no such file"):
        decode(name)


def test_a_folder_is_told_from_a_file() -> None:
    with pytest.raises(UsageError, match="this is a folder"):
        decode(".")


def test_a_long_recording_is_read_when_asked_for() -> None:
    data = made("flac", "flac", np.zeros(61 * 8000), 8000)
    assert len(decode(data, LONGEST_SESSION_S)[0]) == 61 * 8000
    with pytest.raises(UsageError, match="2 minutes at most"):
        decode(made("flac", "flac", np.zeros(121 * 8000), 8000), 120.0)


def test_what_an_encoder_added_does_not_make_a_recording_too_long() -> None:
    assert len(decode(made("adts", "aac", np.zeros(60 * 8000), 8000))[0]) >= 60 * 8000


def test_nothing_is_printed(capfd: pytest.CaptureFixture[str]) -> None:
    for data, _ in BAD.values():
        with pytest.raises(UsageError):
            decode(data)
    assert capfd.readouterr() == ("", "")
