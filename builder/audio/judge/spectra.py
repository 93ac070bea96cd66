"""The spectrum of a fricative: whether /ʃ/ falls off above its peak, and how far a held sound lies
from its rival, by the same voice."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from pathlib import Path

import numpy as np

from builder.audio.dsp.measures import WINDOW_S
from builder.audio.judge.fault import Fault
from builder.audio.speech import Samples, count
from builder.phonetics.inventory import Sound, sounds
from builder.phonetics.tables import table

TABLE = Path(__file__).parent / "data" / "held_spectra.csv"
# Hz; bands of half and of a whole kHz, as far as 22.05 kHz of rate reach.
EDGES_HZ = (*range(500, 5000, 500), *range(5000, 12000, 1000))
PEAK_HZ, ABOVE_HZ = (2000.0, 6000.0), (7000.0, 9000.0)
PEAK_WIDTH_HZ, PEAK_STEP_HZ = 1000.0, 500.0
# dB by which the peak of /ʃ ʒ/ stands above 7 to 9 kHz. Of 12 speakers' /ʃ ʒ tʃ/ it stands there by
# 14 to 30 dB, of their /s/ by 3 to 8 (measured for this bound; tests/outside/real_speech.py).
FALL_MIN_DB = 8.0
# dB, mean over bands, between the held sound and its rival. Of two voices /s ʃ/ and /f s/ lie 4.5
# to 7.3 dB apart, /θ s/ 2.5 to 3.7: heard by itself that is one sound.
RIVAL_MIN_DB = 4.2
# What a child says instead, most of all: the tongue too far forward or back.
RIVALS = {"TH": "S", "S": "SH", "SH": "S", "F": "S", "Z": "ZH", "ZH": "Z", "DH": "Z"}


def band_levels(samples: Samples, rate: int) -> Samples:
    """Level of the middle half in each band in dB beside their mean; shape (15,)."""
    quarter = len(samples) // 4
    hertz, power = _mean_power(samples[quarter : len(samples) - quarter], rate)
    found = [_level(hertz, power, *pair) for pair in zip(EDGES_HZ, EDGES_HZ[1:], strict=False)]
    return np.asarray(np.array(found) - np.mean(found))


def fall(samples: Samples, rate: int) -> float:
    """dB by which the peak between 2 and 6 kHz stands above 7 to 9 kHz, in the middle half."""
    quarter = len(samples) // 4
    hertz, power = _mean_power(samples[quarter : len(samples) - quarter], rate)
    starts = np.arange(PEAK_HZ[0], PEAK_HZ[1], PEAK_STEP_HZ)
    peak = max(_level(hertz, power, at, at + PEAK_WIDTH_HZ) for at in starts)
    return float(peak - _level(hertz, power, *ABOVE_HZ))


def fall_faults(samples: Samples, rate: int, sound: Sound) -> Iterator[Fault]:
    """Whether /ʃ/ or /ʒ/ is as sharp as /s/. Nothing where the band cannot hold it."""
    if sound.symbol not in ("SH", "ZH") or rate < 2 * ABOVE_HZ[1]:
        return
    if len(samples) < 2 * count(WINDOW_S, rate):
        return
    if (by := fall(samples, rate)) < FALL_MIN_DB:
        like = sounds()[RIVALS[sound.symbol]].ipa
        text = f"/{sound.ipa}/ is nearly as sharp as /{like}/"
        yield Fault("sharp", text, f"its peak stands {by:.0f} dB above 7 to 9 kHz")


def rival_faults(samples: Samples, rate: int, sound: Sound, voice: str) -> Iterator[Fault]:
    """Whether a held sound lies too near its rival of the same voice; nothing where the voice's
    are not known."""
    rival = RIVALS.get(sound.symbol, "")
    known = held_spectra().get((voice, rival))
    if known is None or rate < 2 * EDGES_HZ[-1]:
        return
    apart = distance(band_levels(samples, rate), known)
    if apart < RIVAL_MIN_DB:
        like = sounds()[rival].ipa
        text = f"/{sound.ipa}/ is hardly told from /{like}/ of this voice"
        yield Fault("rival", text, f"{apart:.1f} dB apart")


def distance(one: Samples, other: Samples) -> float:
    """Mean difference of band levels, dB."""
    return float(np.abs(one - other).mean())


@cache
def held_spectra() -> dict[tuple[str, str], Samples]:
    """The band levels of held fricatives by voice and symbol, as measured."""
    if not TABLE.exists():
        return {}
    return {
        (row["voice"], row["symbol"]): np.array([float(x) for x in row["levels"].split()])
        for row in table(TABLE)
    }


def _mean_power(samples: Samples, rate: int) -> tuple[Samples, Samples]:
    size = count(WINDOW_S, rate)
    if len(samples) < size:
        samples = np.pad(samples, (0, size - len(samples)))
    windows = np.lib.stride_tricks.sliding_window_view(samples, size)[:: size // 2]
    power = (np.abs(np.fft.rfft(windows * np.hamming(size))) ** 2).mean(axis=0)
    return np.asarray(np.fft.rfftfreq(size, 1 / rate), np.float64), np.asarray(power)


def _level(hertz: Samples, power: Samples, low: float, high: float) -> float:
    inside = (hertz >= low) & (hertz < high)
    return 10 * float(np.log10(power[inside].mean() + 1e-20))
