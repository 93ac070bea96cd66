"""Long recordings of a list read aloud, with all that goes wrong in one, made with fixed seeds; and
where in them every item truly lies."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

import numpy as np

from builder.audio.speech import Samples
from builder.audio.voices import embedded, natural
from builder.phonetics.lexicon.dictionary import pronunciations

RATE = 24000
SNR_DB = 20.0  # dB of the speech over the noise of the room
SOUNDING_SHARE = 0.01  # of an item's peak; what is softer is its silent edge
WORDS = [
    "key",
    "cow",
    "cup",
    "comb",
    "coin",
    "corn",
    "candle",
    "camel",
    "ship",
    "shell",
    "sheep",
    "shark",
    "shoe",
    "shirt",
    "shovel",
    "dinosaur",
    "bicycle",
    "fossil",
    "messy",
    "lesson",
    "icy",
    "bus",
    "house",
    "mouse",
    "goose",
    "ice",
    "dress",
]
PHRASES = ["my key", "my cow", "a comb", "some corn", "a big sheep", "one shark"]
SENTENCES = [
    "I see a cow.",
    "Here is my cup.",
    "The ship is very old.",
    "Dig with the shovel.",
    "My shoe is wet.",
    "A shark can swim.",
]
LIST = [*WORDS, *PHRASES, *SENTENCES]
PAIRS = [
    "key",
    "tea",
    "cape",
    "recording",
    "coat",
    "tote",
    "cool",
    "tool",
    "corn",
    "torn",
    "kite",
    "tight",
]
BROKEN_SHARE = 0.3  # of the phrases have a pause inside
HELD_MIN_SHARE, OTHERS_MAX_SHARE = (
    0.9,
    0.03,
)  # of an item's energy that a cut holds at least; of others' at most
Words = tuple[tuple[str, ...], ...]


def phones(text: str) -> Words:
    """The first pronunciation of every word."""
    return tuple(pronunciations(word.strip(".,").lower())[0] for word in text.split())


@dataclass
class ListRecording:
    """A recording as it grows: parts one after the other, and [first, past) sample of every item
    that was said, in order of time."""

    seed: int
    speaker: str = "natural"
    pause: tuple[float, float] = (0.6, 1.2)
    parts: list[Samples] = field(default_factory=list)
    said: list[tuple[str, int, int]] = field(default_factory=list)

    def __post_init__(self) -> None:
        self.random = np.random.default_rng(self.seed)
        self.quiet(0.6)

    @property
    def length(self) -> int:
        return sum(map(len, self.parts))

    def quiet(self, seconds: float | None = None) -> None:
        """Nobody speaks; by default as long as between two items."""
        lasts = self.random.uniform(*self.pause) if seconds is None else seconds
        self.parts.append(np.zeros(round(lasts * RATE)))

    def say(self, text: str, pause: float | None = None) -> None:
        """An item of the list, and a pause."""
        self.play(text, self._spoken(text))
        self.quiet(pause)

    def play(self, text: str, made: Samples) -> None:
        """An item that somebody said."""
        self.said.append((text, self.length, self.length + len(made)))
        self.parts.append(made)

    def broken(self, text: str, pause: float) -> None:
        """A phrase with a pause after its first word."""
        first, _, rest = text.partition(" ")
        start = self.length
        self.parts += [self._spoken(first), np.zeros(round(pause * RATE)), self._spoken(rest)]
        self.said.append((text, start, self.length))
        self.quiet()

    def remark(self, text: str) -> None:
        """Something that is not in the list."""
        self.parts.append(self._spoken(text))
        self.quiet()

    def false_start(self, text: str, share: float = 0.45) -> None:
        """The beginning of an item, broken off."""
        made = self._spoken(text)
        made = made[: round(share * len(made))].copy()
        fade = round(0.02 * RATE)
        made[-fade:] *= np.linspace(1, 0, fade)
        self.parts.append(made)
        self.quiet(self.random.uniform(0.3, 0.6))

    def cough(self) -> None:
        """A burst of noise with formants and a softer second one."""
        for loud, lasts in ((1.0, 0.18), (0.5, 0.14)):
            size = round(lasts * RATE)
            noise = self.random.standard_normal(size)
            shape = np.fft.rfftfreq(size, 1 / RATE)
            gain = sum(1 / (1 + ((shape - f) / w) ** 2) for f, w in _FORMANTS)
            made = np.fft.irfft(np.fft.rfft(noise) * gain, size)
            made *= np.exp(-np.arange(size) / (0.3 * size)) * loud / np.abs(made).max() * 0.5
            self.parts += [made, np.zeros(round(0.06 * RATE))]
        self.quiet()

    def samples(self, snr: float = SNR_DB) -> Samples:
        """All of it, with the noise of the room."""
        dry = np.concatenate(self.parts)
        speech = np.concatenate([dry[a:b] for _, a, b in self.said])
        level = np.sqrt(np.mean(speech**2)) * 10 ** (-snr / 20)
        hiss = np.convolve(self.random.standard_normal(len(dry)), [1, 0.9], "same")
        return np.asarray(dry + level * hiss / np.std(hiss))

    def holds(self, text: str, span: tuple[int, int]) -> bool:
        """Whether a span holds what was said last of an item, and nothing else."""
        places = [(first, past) for said, first, past in self.said if said == text]
        if not places:
            return False
        first, past = places[-1]
        power = np.concatenate(self.parts) ** 2
        whole, cut = power[first:past].sum(), power[slice(*span)].sum()
        inside = power[max(first, span[0]) : min(past, span[1])].sum()
        return bool(inside > HELD_MIN_SHARE * whole and cut - inside < OTHERS_MAX_SHARE * whole)

    def _spoken(self, text: str) -> Samples:
        words = phones(text)
        if self.speaker == "natural":
            speech = natural.speak(words, text, seed=int(self.random.integers(1000)))
        else:
            pace = int(self.random.integers(115, 150))
            speech = embedded.speak(words, None, text, pace=pace, variant=self.speaker)
        made = speech.samples
        if speech.rate != RATE:
            import soxr

            made = np.asarray(soxr.resample(made, speech.rate, RATE))
        return sounding(made) * self.random.uniform(0.25, 0.5)


def sounding(samples: Samples) -> Samples:
    """Without silent edges, its peak at full scale."""
    loud = np.flatnonzero(np.abs(samples) > SOUNDING_SHARE * np.abs(samples).max())
    return np.asarray(samples[loud[0] : loud[-1] + 1] / np.abs(samples).max())


_FORMANTS = ((700.0, 250.0), (1500.0, 400.0), (2800.0, 700.0))  # Hz: middle, half width


def read(recording: ListRecording, items: Iterable[str]) -> ListRecording:
    """The list without a slip."""
    for item in items:
        recording.say(item)
    return recording


def swapped(recording: ListRecording, items: list[str]) -> ListRecording:
    """The list with two neighbors exchanged."""
    at = int(recording.random.integers(1, len(items) - 2))
    return read(recording, [*items[:at], items[at + 1], items[at], *items[at + 2 :]])


def slips(recording: ListRecording, items: list[str]) -> ListRecording:
    """The list with two items left out, four coughs, three false starts, three items said twice,
    a remark, and pauses inside of phrases."""
    random, number = recording.random, len(items)
    out = set(random.choice(np.arange(2, number - 2), 2, replace=False))
    rest = [at for at in range(number) if at not in out]
    coughs, starts, again = (set(random.choice(rest, n, replace=False)) for n in (4, 3, 3))
    remark = random.choice(rest)
    for at, item in enumerate(items):
        if at in coughs:
            recording.cough()
        if at == remark:
            recording.remark("sorry that was the phone")
        if at in starts:
            recording.false_start(item)
        if at in again:
            recording.say(item, random.uniform(0.5, 1.0))
        if at in rest:
            _say(recording, item)
    return recording


def _say(recording: ListRecording, item: str) -> None:
    if " " in item and recording.random.random() < BROKEN_SHARE:
        recording.broken(item, recording.random.uniform(0.2, 0.7))
    else:
        recording.say(item)
