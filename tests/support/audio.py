"""Words spoken for the tests, and a measure that only tests need."""

from __future__ import annotations

import numpy as np

from builder.audio.speech import Samples, Speech
from builder.audio.sustain.sustain import sustain_target
from builder.audio.voices.embedded import speak
from builder.model.plan import Clip
from builder.phonetics.inventory import bare, sounds
from builder.phonetics.lexicon.dictionary import pronunciations
from builder.workspace.store import key_of

RATE = 22050


def place(word: str, symbol: str) -> tuple[tuple[str, ...], int]:
    """The word's first pronunciation and where in it the first `symbol` stands."""
    phones = pronunciations(word)[0]
    return phones, [bare(phone) for phone in phones].index(symbol)


def say(word: str, symbol: str) -> Speech:
    """The word, its target the first `symbol`."""
    phones, at = place(word, symbol)
    return speak((phones,), (0, at, at + 1), word)


def hold(speech: Speech, symbol: str, seconds: float = 1.5, seed: int = 7) -> Speech:
    """`speech` with its target held."""
    sound = sounds()[symbol]
    noisy = sound.manner == "fricative"
    return sustain_target(speech, seconds, voiced=sound.voiced, noisy=noisy, seed=seed)


def above(samples: Samples, rate: int, hertz: float) -> Samples:
    """What lies above a frequency."""
    spectrum = np.fft.rfft(samples)
    spectrum[: round(hertz / rate * len(samples))] = 0
    return np.asarray(np.fft.irfft(spectrum, len(samples)))


def target(speech: Speech) -> Samples:
    """The samples of the target."""
    assert speech.target is not None
    return speech.samples[slice(*speech.target)]


def clip(word: str, symbol: str, form: str = "natural", **changes: object) -> Clip:
    """A planned clip of one word by the embedded voice."""
    phones, at = place(word, symbol)
    parts = {
        "path": f"clips/{word}.mp3",
        "text": word,
        "words": (phones,),
        "focus": (0, at, at + 1),
        "form": form,
        "alone": False,
        "hold": 1.5 if form == "long" else 0.0,
        "voice": "embedded",
    } | changes
    return Clip(key=key_of(**parts), **parts)  # type: ignore[arg-type]


def alone(symbol: str) -> Clip:
    """A planned clip of one sound in isolation."""
    sound = sounds()[symbol]
    parts = {
        "path": f"clips/{symbol}.mp3",
        "text": sound.spelled,
        "words": (sound.phones[0],),
        "focus": (0, 0, 1),
        "form": "long" if sound.stays_alone else "natural",
        "alone": True,
        "hold": 1.5,
        "voice": "embedded",
    }
    return Clip(key=key_of(**parts), **parts)  # type: ignore[arg-type]


def sine(hertz: float, seconds: float = 3.0, rate: int = 48000, phase: float = 0.0) -> Samples:
    """A sine of full scale."""
    time = np.arange(round(seconds * rate)) / rate
    return np.asarray(np.sin(2 * np.pi * hertz * time + phase))


def autocorrelation(samples: Samples, rate: int, lags: tuple[float, float]) -> float:
    """The greatest normalized autocorrelation, in size, between two lags in seconds."""
    centred = samples - samples.mean()
    size = 1 << (2 * len(centred) - 1).bit_length()
    power = np.abs(np.fft.rfft(centred, size)) ** 2
    found = np.fft.irfft(power)[: len(centred)]
    part = found[round(lags[0] * rate) : round(lags[1] * rate)] / found[0]
    return float(np.abs(part).max())


def share_below(samples: Samples, rate: int, hertz: float) -> float:
    """The part of the power below `hertz`, in dB."""
    power = np.abs(np.fft.rfft(samples * np.hanning(len(samples)))) ** 2
    low = power[: int(len(samples) * hertz / rate)].sum()
    return 10 * float(np.log10(low / power.sum() + 1e-12))
