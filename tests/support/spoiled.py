"""Good takes of one item, and each way in which a take is spoiled: what a room, a cable, a phone or
a hasty hand makes of it. Every spoiling is made with a fixed seed and says what it did."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from builder.audio.dsp.measures import spectral_mean
from builder.audio.speech import Samples, count
from builder.phonetics.inventory import Sound
from builder.phonetics.position import Focus, Words
from tests.support import degraded
from tests.support.degraded import AROUND, NEAR, echoing

# A hard room with the speaker two steps off: see degraded.NEAR.
FAR = (0.8, 2.0)
GAP_S = 0.010  # of a dropout
FADE_S = 0.004  # where a splice is mended
DULL_HZ = 4100.0  # spectral mean of a dull sibilant; of adults' /ʃ/ it is 4229 (Jongman 2000)


@dataclass(frozen=True, kw_only=True)
class Recorded:
    """A take: whose, of what word, and where in its samples the target lies."""

    speaker: str
    word: str
    words: Words
    focus: Focus
    sound: Sound
    samples: Samples
    rate: int
    target: tuple[int, int]

    @property
    def name(self) -> str:
        return f"{self.speaker} {self.word} /{self.sound.ipa}/"


Spoiling = Callable[[Recorded], Recorded]


def pink(length: int, random: np.random.Generator) -> Samples:
    """Noise whose power falls by 3 dB an octave, as that of rooms, of RMS 1."""
    size = max(2, length)
    spectrum = np.fft.rfft(random.standard_normal(size))
    spectrum /= np.sqrt(np.maximum(1, np.arange(len(spectrum))))
    noise = np.fft.irfft(spectrum, size)[:length]
    return np.asarray(noise / (np.sqrt(np.mean(noise**2)) + 1e-12))


def in_a_room(
    said: Samples, rate: int, *, seed: int, below: float = 52.0, around: float = AROUND
) -> Samples:
    """Speech recorded near the microphone: silence around, a little room, noise `below` dB under
    the speech; peaks at a half."""
    random = np.random.default_rng(seed)
    samples = echoing(np.pad(said, count(around, rate)), rate, NEAR, seed)
    mixed = samples + pink(len(samples), random) * rms(said) * 10 ** (-below / 20)
    return np.asarray(mixed / np.abs(mixed).max() / 2)


def rms(samples: Samples) -> float:
    return float(np.sqrt(np.mean(samples**2))) if len(samples) else 0.0


def _seed(take: Recorded) -> int:
    return sum(map(ord, take.name))


def _changed(take: Recorded, samples: Samples, target: tuple[int, int] | None = None) -> Recorded:
    return replace(take, samples=samples, target=target or take.target)


def _old(take: Recorded) -> degraded.Take:
    return degraded.Take(take.samples, take.rate, take.target)


def _by(way: Callable[[degraded.Take], degraded.Take]) -> Spoiling:
    def spoil(take: Recorded) -> Recorded:
        made = way(_old(take))
        return replace(take, samples=made.samples, rate=made.rate, target=made.target)

    return spoil


def room_of(take: Recorded, length: int) -> Samples:
    """So many samples of the take's own silence: its softest 60 ms, to and fro."""
    size = count(0.06, take.rate)
    pieces = [take.samples[at : at + size] for at in range(0, len(take.samples) - size, size // 2)]
    softest = min((p for p in pieces if rms(p) > 0), key=rms)
    softest = softest - softest.mean()
    return np.resize(np.concatenate([softest, softest[::-1]]), length)


def with_gain(take: Recorded, gain: float) -> Recorded:
    """The target louder or softer, with its fades inside."""
    start, stop = take.target
    fade = min(count(FADE_S, take.rate), (stop - start) // 4)
    curve = np.ones(len(take.samples))
    curve[start:stop] = gain
    ramp = np.linspace(1, gain, fade) if fade else np.zeros(0)
    curve[start : start + fade], curve[stop - fade : stop] = ramp, ramp[::-1]
    return _changed(take, take.samples * curve)


def removed(take: Recorded) -> Recorded:
    """The room alone where the target was."""
    silent = with_gain(take, 0.0)
    start, stop = take.target
    samples = silent.samples.copy()
    samples[start:stop] += room_of(take, stop - start)
    return _changed(take, samples)


def dropouts(take: Recorded) -> Recorded:
    """Two gaps of 10 ms in the target, as of a busy computer; one where it is short."""
    start, stop = take.target
    gap, samples = count(GAP_S, take.rate), take.samples.copy()
    places = (0.3, 0.7) if stop - start >= 5 * gap else (0.5,)
    for place in places:
        at = round(start + place * (stop - start)) - gap // 2
        samples[at : at + gap] = 0
    return _changed(take, samples)


def spliced(take: Recorded, other: Recorded) -> Recorded:
    """Another sound of the same speaker in the target's place, as loud as it was."""
    start, stop = take.target
    sound = degraded.resampled(other.samples[slice(*other.target)], other.rate, take.rate)
    fade = min(count(FADE_S, take.rate), len(sound) // 4, start, len(take.samples) - stop)
    louder = rms(take.samples[start:stop]) / max(rms(sound), 1e-9)
    sound = sound * min(louder, 0.9 / max(np.abs(sound).max(), 1e-9))
    ramp = np.linspace(0, 1, fade)
    sound[:fade] *= ramp
    sound[len(sound) - fade :] *= ramp[::-1]
    before, after = take.samples[: start + fade].copy(), take.samples[stop - fade :].copy()
    before[start:] *= ramp[::-1]
    after[:fade] *= ramp
    made = np.zeros(start + len(sound) + len(take.samples) - stop)
    made[: len(before)] += before
    made[start : start + len(sound)] += sound
    made[len(made) - len(after) :] += after
    return _changed(take, made, (start, start + len(sound)))


def halved(take: Recorded) -> Recorded:
    """Half of the word, then the room."""
    first, past = sounding(take)
    middle, samples = (first + past) // 2, take.samples.copy()
    fade = count(FADE_S, take.rate)
    samples[middle : middle + fade] *= np.linspace(1, 0, fade)
    samples[middle + fade :] = room_of(take, len(samples) - middle - fade)
    return _changed(take, samples)


def sounding(take: Recorded) -> tuple[int, int]:
    """Where the samples are within 40 dB of their peak."""
    loud = np.flatnonzero(np.abs(take.samples) > 0.01 * np.abs(take.samples).max())
    return int(loud[0]), int(loud[-1]) + 1


def overdriven(take: Recorded) -> Recorded:
    """A preamplifier turned up too far: the tops are rounded, not cut; then made softer."""
    driven = np.tanh(6 * take.samples / np.abs(take.samples).max())
    return _changed(take, 0.6 * driven)


def crackling(take: Recorded) -> Recorded:
    """A loose plug: sixty clicks a second, 12 to 32 dB under the peak."""
    random = np.random.default_rng(_seed(take))
    clicks = np.zeros(len(take.samples))
    number = round(60 * len(clicks) / take.rate)
    places = random.integers(0, len(clicks), number)
    clicks[places] = random.choice([-1, 1], number) * 10 ** random.uniform(-1.6, -0.6, number)
    return _changed(take, take.samples + clicks * np.abs(take.samples).max())


def narrow_and_crackling(take: Recorded) -> Recorded:
    """Cut off at 5 kHz, and clicks of the whole band over it."""
    return crackling(_by(lambda one: degraded.low_passed(one, 5000))(take))


def dulled(take: Recorded) -> Recorded:
    """The sibilant's upper part softer, until its spectral mean is DULL_HZ."""
    start, stop = take.target
    part = take.samples[start:stop]
    spectrum, hertz = np.fft.rfft(part), np.fft.rfftfreq(stop - start, 1 / take.rate)
    low, high = 0.0, 8.0
    made = part
    for _ in range(20):
        steep = (low + high) / 2
        made = np.fft.irfft(spectrum * np.maximum(hertz / 2000, 1) ** -steep, len(part))
        mean = spectral_mean(made, take.rate) or 0.0
        low, high = (steep, high) if mean > DULL_HZ else (low, steep)
    samples = take.samples.copy()
    samples[start:stop] = made * rms(part) / max(rms(made), 1e-9)
    return _changed(take, samples)


def reverberant(take: Recorded) -> Recorded:
    """A hard room of 0.8 s, two steps from the microphone."""
    more = np.pad(take.samples, (0, count(0.5, take.rate)), mode="reflect")
    tail = room_of(take, count(0.5, take.rate))
    more[len(take.samples) :] = tail
    wet = echoing(more, take.rate, FAR, _seed(take))
    return _changed(take, wet / np.abs(wet).max() / 2)


def whispered(take: Recorded) -> Recorded:
    """No voice: noise with the word's own envelope and bands, in steps of 10 ms."""
    size = count(0.02, take.rate)
    random, made = np.random.default_rng(_seed(take)), np.zeros(len(take.samples) + size)
    window = np.hanning(size)
    for at in range(0, len(take.samples) - size, size // 2):
        spectrum = np.fft.rfft(take.samples[at : at + size] * window)
        smooth = np.convolve(np.abs(spectrum), np.ones(7) / 7, "same")
        turned = smooth * np.exp(2j * np.pi * random.random(len(spectrum)))
        made[at : at + size] += np.fft.irfft(turned, size) * window
    return _changed(take, made[: len(take.samples)])


def twice(take: Recorded) -> Recorded:
    return _changed(take, np.concatenate([take.samples, take.samples]))


def cut_first(take: Recorded) -> Recorded:
    """The recording begins in the middle of the first sound."""
    first, _ = sounding(take)
    gone = first + count(0.06, take.rate)
    start, stop = take.target
    target = (max(0, start - gone), max(1, stop - gone))
    return _changed(take, take.samples[gone:], target)


def cut_last(take: Recorded) -> Recorded:
    """It ends in the middle of the last sound."""
    _, past = sounding(take)
    kept = past - count(0.15, take.rate)
    start, stop = take.target
    return _changed(take, take.samples[:kept], (min(start, kept - 1), min(stop, kept)))


def noisy(take: Recorded) -> Recorded:
    """A room 25 dB under the word."""
    level = rms(take.samples[slice(*sounding(take))]) * 10 ** (-25 / 20)
    noise = pink(len(take.samples), np.random.default_rng(_seed(take)))
    return _changed(take, take.samples + level * noise)


SIBILANTS = ("S", "Z")

ANY: dict[str, Spoiling] = {
    "reverberation of 0.8 s": reverberant,
    "dropouts in the target": dropouts,
    "target 20 dB too soft": lambda take: with_gain(take, 0.1),
    "target removed": removed,
    "half the word": halved,
    "overdrive": overdriven,
    "crackle": crackling,
    "noise 25 dB under": noisy,
    "mains hum": _by(lambda take: degraded.humming(take, 50, 0.03)),
    "clipped": _by(lambda take: degraded.clipped(take, 3.0, 0.6)),
    "first sound cut": cut_first,
    "last sound cut": cut_last,
    "whispered": whispered,
    "said twice": twice,
}
# Of sounds that need their upper band.
BRIGHT: dict[str, Spoiling] = {
    "cut off at 5 kHz": _by(lambda take: degraded.low_passed(take, 5000)),
    "cut off at 5 kHz, crackle over it": narrow_and_crackling,
    "telephone": _by(degraded.telephone),
}
DULL: dict[str, Spoiling] = {"dull sibilant": dulled}
