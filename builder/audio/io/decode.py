"""Any recording in, one channel of samples out, at the recording's own rate.

FFmpeg (in PyAV's wheel) reads it. What an encoder added at both ends is taken off where the file
says how much that is. Pictures, video and tags stay behind.
"""

from __future__ import annotations

import math
import os
from collections.abc import Iterator
from contextlib import contextmanager
from io import BytesIO
from typing import TYPE_CHECKING, BinaryIO

import numpy as np
from numpy.typing import NDArray

from builder.audio.speech import Samples
from builder.problems import UsageError

if TYPE_CHECKING:
    from av.audio.frame import AudioFrame
    from av.audio.stream import AudioStream
    from av.container import InputContainer

LONGEST_S = 60.0  # seconds of a take; a practice item is never longer
LONGEST_SESSION_S = 1800.0  # seconds of a recording of many items
RATES_HZ = (8000, 192000)  # lowest and highest
KINDS = "WAV, FLAC, MP3, M4A, OGG or WebM"
PROTECTED = "this file is protected against copying; use a recording of your own"
# Only what holds its own sound: a play list could point at other files or into the network.
FORMATS = "wav,w64,aiff,au,caf,flac,mp3,aac,ogg,mov,matroska,amr,amrnb,amrwb,asf"
# Here the duration is written down; elsewhere it is guessed from the size of the file.
DURATION_STATED = {"aiff", "caf", "flac", "mov", "matroska"}
MISSING_MAX_S = 0.1  # by which a file may end before the duration it states
# Seconds at most that an encoder adds to fill its blocks (2048 samples at 8 kHz).
PADDING_MAX_S = 0.3
VALUE_MAX = 100.0  # times full scale; more is no sound
# Of the loudest channel's power; an average that keeps less has lost something.
AVERAGE_MIN_SHARE = 0.4
# In 16-bit WAV files FFmpeg looks through 5 MB for a coded film sound, which is never taken: that
# takes longer than all else.
WAV_PROBE_BYTES = "16384"
Channels = NDArray[np.float32]


class _UnfitError(Exception):
    """A sentence about a file, without the file's name."""


def decode(source: str | bytes, longest: float = LONGEST_S) -> tuple[Samples, int]:
    """Samples of the file at a path, or of a file's bytes, and their rate in Hz.

    longest: seconds. Raises UsageError with one sentence, after the path when there is one.
    """
    name = f"{source}: " if isinstance(source, str) else ""
    try:
        with _opened(source) as file, _understood():
            parts, rate, seconds = _read(file, longest)
        samples = _one(parts)
        return _whole(samples, rate, seconds), rate
    except _UnfitError as problem:
        raise UsageError(f"{name}{problem}") from problem.__cause__


def _opened(source: str | bytes) -> BinaryIO:
    """An open file, so that FFmpeg never takes a path for an address."""
    if isinstance(source, bytes):
        return BytesIO(source)
    if os.path.isdir(source):
        raise _UnfitError("this is a folder; name the recording in it")
    if not os.path.isfile(source):
        raise _UnfitError("this recording cannot be read: there is no such file")
    try:
        return open(source, "rb")
    except OSError as error:
        raise _UnfitError(f"this recording cannot be read ({error.strerror})") from error


@contextmanager
def _understood() -> Iterator[None]:
    import av

    try:
        yield
    except (av.FFmpegError, ValueError, OSError) as error:
        raise _UnfitError(
            "this recording cannot be read: the file is damaged or is not a recording; record it "
            f"again as {KINDS}"
        ) from error


def _read(file: BinaryIO, longest: float) -> tuple[list[Channels], int, float]:
    """Every frame, the rate, and the seconds that the file says it lasts (0 when it does not)."""
    import av

    stated = _riff(file)
    with av.open(file, "r", metadata_errors="ignore", options=_options(file)) as container:
        stream = _stream(container)
        parts: list[Channels] = []
        rate, length = 0, 0
        for frame in _frames(container, stream):
            rate = _steady(frame.sample_rate, rate)
            length += frame.samples
            if length > (longest + PADDING_MAX_S) * rate:
                raise _UnfitError(_too_long(longest))
            parts.append(_floats(frame))
        if not length:
            raise _UnfitError(
                "this recording holds no sound, or was not copied whole; copy it again"
            )
        return parts, rate, stated or _stated(container, stream)


def _options(file: BinaryIO) -> dict[str, str]:
    head = file.read(12)
    file.seek(0)
    plain = head[:4] == b"RIFF" and head[8:] == b"WAVE"
    return {"format_whitelist": FORMATS} | ({"probesize": WAV_PROBE_BYTES} if plain else {})


def _stream(container: InputContainer) -> AudioStream:
    if not len(container.streams):
        raise _UnfitError("this recording was not copied whole: its end is missing; copy it again")
    if not container.streams.audio:
        raise _UnfitError("this file holds no sound, only pictures or text; choose the recording")
    stream = container.streams.audio[0]
    if stream.codec_context.codec_tag == "drms":  # MPEG-4's code of bought music
        raise _UnfitError(PROTECTED)
    return stream


def _frames(container: InputContainer, stream: AudioStream) -> Iterator[AudioFrame]:
    """All frames. A packet that makes no sense is left out at either end, where encoders and tags
    leave odd bytes; between good ones it is damage."""
    import av

    sound, broken = False, None
    for packet in container.demux(stream):
        if packet.has_sidedata("encryption_info"):
            raise _UnfitError(PROTECTED)
        try:
            frames = packet.decode()
        except av.InvalidDataError as error:
            broken = error if sound else None
            continue
        if frames and broken:
            raise broken
        sound = sound or bool(frames)
        yield from (frame for frame in frames if frame.samples)


def _steady(found: int, rate: int) -> int:
    if not RATES_HZ[0] <= found <= RATES_HZ[1]:
        raise _UnfitError(
            f"speech cannot be recorded at {found} Hz; record it again at 44100 or 48000"
        )
    if rate and found != rate:
        raise _UnfitError(
            "this recording changes its sample rate partway; record it again in one piece"
        )
    return found


def _floats(frame: AudioFrame) -> Channels:
    """The frame's samples, shape (channels, samples), full scale ±1."""
    found = frame.to_ndarray()
    if not frame.format.is_planar:
        found = found.reshape(-1, frame.layout.nb_channels).T
    if found.dtype.kind == "f":
        return found.astype(np.float32)
    half = 2.0 ** (8 * found.dtype.itemsize - 1)
    shifted = found - half if found.dtype.kind == "u" else found
    return (shifted / half).astype(np.float32)


def _stated(container: InputContainer, stream: AudioStream) -> float:
    if not DURATION_STATED & set(container.format.name.split(",")):
        return 0.0
    if stream.duration is None:  # Matroska has one for all streams, in microseconds
        return (container.duration or 0) / 1e6
    return float(stream.duration * (stream.time_base or 0))


def _riff(file: BinaryIO) -> float:
    """Seconds by the header of a WAV file: FFmpeg corrects them by what is there.

    0 for other files, and for sizes of 0 or 2 GiB and more, which recorders write that never
    come back to the header. RIFF, Multimedia Programming Interface and Data Specifications 1.0.
    """
    head = file.read(36)
    file.seek(0)
    if not head:
        raise _UnfitError("this recording cannot be read: the file is empty; record it again")
    size = int.from_bytes(head[4:8], "little")
    if head[:4] != b"RIFF" or head[8:16] != b"WAVEfmt " or not 36 < size < 1 << 31:
        return 0.0
    a_second = int.from_bytes(head[28:32], "little")
    present = file.seek(0, os.SEEK_END) - 8
    file.seek(0)
    return size / a_second if a_second and size - present > MISSING_MAX_S * a_second else 0.0


def _whole(samples: Samples, rate: int, stated: float) -> Samples:
    """The samples up to the end that the file states: silence after it is the encoder's."""
    missing = stated - len(samples) / rate
    if stated and missing > MISSING_MAX_S:
        raise _UnfitError(
            f"this recording stops after {len(samples) / rate:.1f} of {stated:.1f} seconds: "
            "it was not copied whole; copy it again"
        )
    return samples[: math.ceil(stated * rate)] if stated and -missing < PADDING_MAX_S else samples


def _too_long(longest: float) -> str:
    limit = f"{longest:.0f} seconds" if longest < 120 else f"{longest / 60:.0f} minutes"
    return f"a recording may last {limit} at most; cut it to what is needed"


def _one(parts: list[Channels]) -> Samples:
    """The average of the channels; the loudest alone where an average would lose the voice: the
    other one is silent, or turned over."""
    if not all(np.all(np.abs(part) < VALUE_MAX) for part in parts):  # nor is NaN
        raise _UnfitError(
            "this recording is damaged: it holds values that are not sound; record it again"
        )
    if len({len(part) for part in parts}) > 1:  # an encoder that found its channels on the way
        parts = [part.mean(axis=0, keepdims=True) for part in parts]
    alone = _loudest(parts)
    if alone is None:
        return np.concatenate([part.mean(axis=0) for part in parts], dtype=np.float64)
    return np.concatenate([part[alone] for part in parts], dtype=np.float64)


def _loudest(parts: list[Channels]) -> int | None:
    """The channel to take alone, None for the average. Part by part: it saves memory, and what
    moves slower than a part, such as an offset, does not count."""
    power = sum(
        part.shape[1] * np.append(part.var(axis=1), part.mean(axis=0).var()) for part in parts
    )
    assert isinstance(power, np.ndarray)
    return None if power[-1] >= AVERAGE_MIN_SHARE * power[:-1].max() else int(power[:-1].argmax())
