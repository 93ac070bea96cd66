"""Voices with a longer or shorter vocal tract than they have: every formant times a factor, pitch
and pace as they were. Three ways that have little in common, so that a finding is not the artefact
of one.

engine: the embedded voice with its own table of formants scaled; recorded friction stays.
sampled: the embedded voice spoken lower and slower by the factor, then played faster by it: all
    that sounds is scaled.
envelope: any recording; the smooth envelope of every short spectrum is stretched, its fine
    structure kept. The envelope is the cepstrum's low part: A. Oppenheim, R. Schafer: Homomorphic
    analysis of speech. IEEE Trans. Audio Electroacoustics 16 (1968) 221-226.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import soxr

from builder import espeak
from builder.audio.speech import Samples, Speech, count
from builder.audio.voices import embedded, natural
from builder.phonetics.position import Words
from tests.support.read_lists import RATE, ListRecording, phones, sounding

WAYS = ("engine", "sampled", "envelope")
PITCH_RANGE = (82, 118)  # of the engine's own voice: docs/voices.md, `pitch`
FORMANTS = 9  # of the engine's table
WINDOW_S, HOPS = 0.032, 4  # of the short spectra, and how many lie in a window
QUEFRENCY_S = 0.0020  # below it the cepstrum is the tract's, above it the voice's
FLOOR = 1e-6  # of full scale; keeps silence finite


@dataclass
class ShiftedRecording(ListRecording):
    """A list read by the same speaker with all formants times `factor`."""

    factor: float = 1.0
    way: str = "engine"

    def _spoken(self, text: str) -> Samples:
        chance = int(self.random.integers(1000) if self.speaker == "natural" else 0)
        pace = int(self.random.integers(115, 150)) if self.speaker != "natural" else 0
        speech = shifted(
            self.way, phones(text), text, self.factor, speaker=self.speaker, pace=pace, seed=chance
        )
        made = np.asarray(soxr.resample(speech.samples, speech.rate, RATE))
        return sounding(made) * self.random.uniform(0.25, 0.5)


def shifted(
    way: str,
    words: Words,
    text: str,
    factor: float,
    *,
    speaker: str = "",
    pace: int = embedded.WORDS_PER_MINUTE,
    seed: int = 0,
) -> Speech:
    """The words with all formants times `factor`; the natural voice knows `envelope` only."""
    if way == "engine":
        return embedded.speak(words, None, text, pace=pace, variant=variant(speaker, factor))
    if way == "sampled":
        slower = variant(speaker, 1.0, 1 / factor)
        low = embedded.speak(words, None, text, pace=round(pace / factor), variant=slower)
        fast = soxr.resample(low.samples, low.rate * factor, low.rate)
        return Speech(np.asarray(fast, np.float64), low.rate, None, "embedded")
    if speaker == "natural":
        made = natural.speak(words, text, seed=seed)
    else:
        made = embedded.speak(words, None, text, pace=pace, variant=speaker)
    return Speech(stretched(made.samples, made.rate, factor), made.rate, None, made.voice)


def variant(speaker: str, factor: float, pitch: float = 1.0) -> str:
    """The name of a variant of the embedded voice like `speaker`, made where the engine looks."""
    name = f"{speaker or 'plain'}-{round(100 * factor)}-{round(100 * pitch)}"
    folder = espeak.data_folder((*espeak.VOICE_FILES, *([_file(speaker)] if speaker else [])))
    file: Path = folder / _file(name)
    if not file.is_file():
        own = (folder / _file(speaker)).read_text() if speaker else _plain()
        file.parent.mkdir(exist_ok=True)
        file.write_text("\n".join(_scaled(line, factor, pitch) for line in own.splitlines()) + "\n")
    return name


def stretched(samples: Samples, rate: int, factor: float) -> Samples:
    """The samples with the envelope of every short spectrum stretched by `factor`."""
    size = count(WINDOW_S, rate) // HOPS * HOPS
    hop, window = size // HOPS, np.hanning(size + 1)[:-1]
    padded = np.pad(samples, (size, 2 * size))
    starts = np.arange(0, len(padded) - size, hop)
    spectra = np.fft.rfft(padded[starts[:, None] + np.arange(size)] * window)
    levels = np.log(np.abs(spectra) + FLOOR * size)
    cepstra = np.fft.irfft(levels)
    cepstra[:, count(QUEFRENCY_S, rate) : -count(QUEFRENCY_S, rate) + 1] = 0
    smooth = np.fft.rfft(cepstra).real
    bins = np.arange(smooth.shape[1])
    moved = np.array([np.interp(bins / factor, bins, row) for row in smooth])
    parts = np.fft.irfft(spectra * np.exp(moved - smooth)) * window
    made = np.zeros(len(padded))
    for start, part in zip(starts, parts, strict=True):
        made[start : start + size] += part
    return np.asarray(made[size : size + len(samples)] / (window**2).sum() * hop)


def _file(name: str) -> str:
    return f"voices/!v/{name}"


def _plain() -> str:
    """The engine's own voice as a variant."""
    rows = [f"formant {at} 100 100 100" for at in range(FORMANTS)]
    return "\n".join(["language variant", "name plain", "pitch {} {}".format(*PITCH_RANGE), *rows])


def _scaled(line: str, factor: float, pitch: float) -> str:
    words = line.split()
    if words[:1] == ["formant"]:
        numbers = words[1:] + ["100"] * max(0, 4 - len(words[1:]))
        added = [str(round(int(hertz) * factor)) for hertz in numbers[4:5]]
        return " ".join(
            ["formant", numbers[0], str(round(int(numbers[1]) * factor)), *numbers[2:4], *added]
        )
    if words[:1] == ["pitch"]:
        return re.sub(r"\d+", lambda found: str(round(int(found[0]) * pitch)), line)
    return line
