"""Isolation: one sound alone. Held when it can be, cut out of a syllable and made longer without
the syllable's vowel; else its release only, which ends before a vowel would begin."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from builder.audio.lengthen import held, steady
from builder.audio.speech import Samples, Speech, count
from builder.audio.voices.embedded import speak
from builder.phonetics.inventory import Sound, bare, is_vowel

FADE = 0.040  # seconds; how softly a held sound begins and ends
CUT = 0.008  # seconds; how softly a release ends
# Before a vowel the engine keeps the first part of a liquid still (formants within 3 %), then
# glides; after the burst of a voiced stop the vowel is on its way. Measured on its spectrograms.
STILL = {
    "L": 0.55, "R": 0.45, "W": 0.6, "Y": 0.6, "B": 0.45, "D": 0.65, "G": 0.65, "JH": 0.75,
}  # fmt: skip
# ɹ is cut from `rer`, whose vowel has the same place. ŋ begins no syllable; voiceless sounds are
# cleanest where nothing follows.
BEFORE = {"R": "ER1"}
AFTER = {"NG": "AA1"} | dict.fromkeys(("P", "T", "K", "CH", "F", "TH", "S", "SH"), "AH1")


def alone(phones: tuple[str, ...], sound: Sound, seconds: float, seed: int) -> Speech:
    """The sound alone, all of it target; `seconds` long when it can be held."""
    if sound.kind != "consonant":
        return _vowel(phones, sound, seconds, seed)
    speech = _carried(bare(phones[0]))
    if sound.hold == "yes":
        noisy = sound.manner == "fricative"
        made = steady(
            speech.samples, speech.rate, seconds, voiced=sound.voiced, noisy=noisy, seed=seed
        )
        return _whole(speech, _soft(made, speech.rate, FADE, FADE))
    return _whole(speech, _soft(speech.samples, speech.rate, 0.0, CUT))


def _vowel(phones: tuple[str, ...], sound: Sound, seconds: float, seed: int) -> Speech:
    spoken = tuple(p + "1" if is_vowel(p) and p == bare(p) else p for p in phones)
    natural = speak((spoken,), (0, 0, len(spoken)))
    long = held(natural, seconds, voiced=True, noisy=False, seed=seed)
    start, stop = long.target or (0, len(long.samples))
    return _whole(long, _soft(long.samples[start:stop], long.rate, 0.0, FADE))


def _carried(symbol: str) -> Speech:
    """The sound cut out of a syllable; of a gliding one, the part before it glides."""
    before = symbol in AFTER
    syllable = (AFTER[symbol], symbol) if before else (symbol, BEFORE.get(symbol, "AH1"))
    at = 1 if before else 0
    speech = speak((syllable,), (0, at, at + 1))
    if speech.target is None:
        raise ValueError(f"the engine speaks no {symbol}")
    start, stop = speech.target
    stop = start + round((stop - start) * STILL.get(symbol, 1.0))
    return _whole(speech, speech.samples[start:stop])


def _whole(speech: Speech, samples: Samples) -> Speech:
    return replace(speech, samples=samples, target=(0, len(samples)))


def _soft(samples: Samples, rate: int, rise: float, fall: float) -> Samples:
    first, last = count(rise, rate), min(count(fall, rate), len(samples))
    soft = samples.copy()
    soft[:first] *= np.sin(np.linspace(0, np.pi / 2, first)) ** 2
    soft[len(soft) - last :] *= np.cos(np.linspace(0, np.pi / 2, last)) ** 2
    return soft
