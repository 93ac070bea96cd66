"""A good recording, and what phones, rooms and hasty fingers make of it."""

from __future__ import annotations

from dataclasses import dataclass
from io import BytesIO

import av
import numpy as np
import soxr

from builder.audio.speech import Samples
from tests.support.audio import say

RATE = 44100
AROUND = 0.4  # seconds of silence
# A furnished room with the speaker at the microphone: seconds in which sound dies away by 60 dB,
# and dB of it under what comes straight.
NEAR = (0.25, 16.0)
REVERB_FIRST_S = 0.004  # after the direct sound


@dataclass(frozen=True)
class Take:
    """Samples, their rate, and where the target lies."""

    samples: Samples
    rate: int
    target: tuple[int, int]


def recorded(word: str, symbol: str, rate: int = RATE, below: float = 55.0) -> Take:
    """The embedded voice in a quiet room: noise `below` dB under the speech, peaks at a half."""
    speech = say(word, symbol)
    assert speech.target
    said = np.pad(resampled(speech.samples, speech.rate, rate), round(AROUND * rate))
    samples = echoing(said, rate, NEAR, 11)
    noise = np.random.default_rng(11).standard_normal(len(samples))
    level = np.sqrt(np.mean(speech.samples**2)) * 10 ** (-below / 20)
    start, stop = (round((at / speech.rate + AROUND) * rate) for at in speech.target)
    mixed = samples + level * noise
    return Take(mixed / np.abs(mixed).max() / 2, rate, (start, stop))


def echoing(samples: Samples, rate: int, room: tuple[float, float], seed: int) -> Samples:
    """What a room adds: noise that dies away, so many dB under the direct sound."""
    seconds, below = room
    time = np.arange(round(1.2 * seconds * rate)) / rate
    tail = np.random.default_rng(seed).standard_normal(len(time)) * 10 ** (-3 * time / seconds)
    tail[: round(REVERB_FIRST_S * rate)] = 0
    tail *= 10 ** (-below / 20) / np.sqrt((tail**2).sum())
    size = 1 << (len(samples) + len(tail)).bit_length()
    wet = np.fft.irfft(np.fft.rfft(samples, size) * np.fft.rfft(tail, size), size)
    return np.asarray(samples + wet[: len(samples)])


def changed(take: Take, samples: Samples, rate: int = 0, moved: float = 0.0) -> Take:
    """Other samples, at another rate, `moved` seconds later; the target goes with them."""
    rate = rate or take.rate
    start, stop = (round((at / take.rate + moved) * rate) for at in take.target)
    return Take(samples, rate, (max(0, start), min(len(samples), stop)))


def resampled(samples: Samples, rate: int, to: int) -> Samples:
    return samples if rate == to else np.asarray(soxr.resample(samples, rate, to), np.float64)


def low_passed(take: Take, hertz: float) -> Take:
    """Without what lies above; the fall is 200 Hz wide."""
    spectrum = np.fft.rfft(take.samples)
    over = np.fft.rfftfreq(len(take.samples), 1 / take.rate) - hertz
    kept = spectrum * np.clip(1 - over / 200, 0, 1)
    return changed(take, np.fft.irfft(kept, len(take.samples)))


def upsampled(take: Take, rate: int) -> Take:
    """Recorded at `rate`, but in a file that claims the old one."""
    low = resampled(take.samples, take.rate, rate)
    return changed(take, resampled(low, rate, take.rate)[: len(take.samples)])


def joined(take: Take, rate: int) -> Take:
    """The same, made by joining samples with straight lines: images above the fold."""
    low = resampled(take.samples, take.rate, rate)
    places = np.arange(len(take.samples)) * rate / take.rate
    return changed(take, np.interp(places, np.arange(len(low)), low))


def telephone(take: Take) -> Take:
    """8 kHz, µ-law (ITU-T G.711) in 255 steps."""
    low = np.clip(resampled(take.samples, take.rate, 8000), -1, 1)
    steps = np.round(np.sign(low) * np.log1p(255 * np.abs(low)) / np.log(256) * 127) / 127
    return changed(take, np.sign(steps) * (256 ** np.abs(steps) - 1) / 255, 8000)


def coded(take: Take, codec: str, kind: str, bits: int, **options: str) -> Take:
    """Through a coder at so many bits a second and back."""
    samples, rate = decoded(_encoded(take, codec, kind, bits, options))
    return changed(take, samples, rate)


def decoded(data: bytes) -> tuple[Samples, int]:
    """Samples and rate of a file."""
    parts, rate = [], 0
    with av.open(BytesIO(data), "r") as file:
        even = av.AudioResampler("fltp", "mono")
        for frame in file.decode(audio=0):
            for part in even.resample(frame):
                parts.append(part.to_ndarray()[0])
                rate = part.sample_rate
    return np.concatenate(parts).astype(np.float64), rate


def _encoded(take: Take, codec: str, kind: str, bits: int, options: dict[str, str]) -> bytes:
    stream = BytesIO()
    with av.open(stream, "w", format=kind) as file:
        track = file.add_stream(codec, rate=take.rate, layout="mono")
        assert isinstance(track, av.AudioStream)
        track.bit_rate = bits
        track.codec_context.options = options
        plane = np.ascontiguousarray(take.samples, np.float32)[None, :]
        frame = av.AudioFrame.from_ndarray(plane, "fltp", "mono")
        frame.sample_rate, frame.pts = take.rate, 0
        formats = track.codec_context.codec.audio_formats
        fitting = av.AudioResampler(formats[0].name if formats else "s16", "mono", take.rate)
        for part in [*fitting.resample(frame), *fitting.resample(None)]:
            file.mux(track.encode(part))
        file.mux(track.encode(None))
    return stream.getvalue()


def clipped(take: Take, gain: float, level: float = 1.0) -> Take:
    """`gain` times too loud for the converter, in 16 bits; then brought to `level`."""
    loud = np.clip(take.samples / np.abs(take.samples).max() * gain, -1, 1)
    return changed(take, np.round(loud * level * 32767) / 32768)


def noisy(take: Take, below: float) -> Take:
    """White noise `below` dB under the word."""
    heard = take.samples[round(AROUND * take.rate) : -round(AROUND * take.rate)]
    noise = np.random.default_rng(12).standard_normal(len(take.samples))
    return changed(take, take.samples + noise * np.sqrt(np.mean(heard**2)) * 10 ** (-below / 20))


def humming(take: Take, hertz: int, level: float) -> Take:
    """The mains and two of its multiples, `level` of the greatest sample."""
    time = np.arange(len(take.samples)) / take.rate
    hum = sum(np.sin(2 * np.pi * hertz * n * time) / n for n in (1, 2, 3))
    return changed(take, take.samples + hum * level * np.abs(take.samples).max())


def cut(take: Take, first: float = 0.0, last: float = 0.0) -> Take:
    """So many seconds missing before and after."""
    past = len(take.samples) - round(last * take.rate)
    return changed(take, take.samples[round(first * take.rate) : past], moved=-first)
