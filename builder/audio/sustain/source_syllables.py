"""The syllables out of which isolated sounds are cut, and the cutting. Which voice needs which
syllable is data (sustain/data/source_syllables.csv)."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from pathlib import Path

import numpy as np

from builder.audio.speech import Samples, count
from builder.phonetics.tables import table

TABLE = Path(__file__).parent / "data" / "source_syllables.csv"
LEAD_S = 0.060  # before a burst that are looked at: of a voiced stop they hold its voice
PIECE_S = 0.005  # in which a burst is looked for
RELEASE_END_DB = 30.0  # dB below its loudest piece; there a release has ended
BREATH_DB = 12.0  # dB below the loudest piece of a vowel; softer ends are breath


@dataclass(frozen=True)
class SourceSyllable:
    """What is said before and after the sound, and what is taken of it (see the table)."""

    before: tuple[str, ...]
    after: tuple[str, ...]
    cut: str


def source_syllable(voice: str, symbol: str, kind: str) -> SourceSyllable:
    """The syllable for a sound (`SH`) of a kind (consonant, vowel, rhotic)."""
    known, group = _table(), "*" if kind == "consonant" else "vowel"
    return known.get((voice, symbol)) or known[voice, group]


@cache
def _table() -> dict[tuple[str, str], SourceSyllable]:
    return {(row["voice"], row["symbol"]): _carrier(row) for row in table(TABLE)}


def _carrier(row: dict[str, str]) -> SourceSyllable:
    before, _, after = row["syllable"].partition("_")
    return SourceSyllable(tuple(before.split()), tuple(after.split()), row["cut"])


def cut_out(samples: Samples, rate: int, target: tuple[int, int], cut: str) -> Samples:
    """The part of the target that is the sound by itself."""
    start, stop = target
    if cut == "after" or cut.startswith("to "):
        part = samples[max(0, start - count(LEAD_S, rate)) : stop]
        at = burst(part, rate)
        return _released(part[at:], rate) if cut == "after" else part[: at + _past(cut, rate)]
    return samples[start : start + round((stop - start) * float(cut))]


def _past(cut: str, rate: int) -> int:
    return count(float(cut.removeprefix("to ")), rate)


def burst(samples: Samples, rate: int) -> int:
    """The sample at which the high part of the spectrum rises most within 10 ms."""
    power = _bright(samples, rate)
    level = np.log(power + power.max(initial=0.0) * 1e-5 + 1e-30)
    rise = level[2:] - level[:-2] if len(level) > 2 else np.zeros(1)
    return (int(np.argmax(rise)) + 1) * count(PIECE_S, rate)


def _released(samples: Samples, rate: int) -> Samples:
    """From the burst to where it has died away."""
    return samples[: _loud(_bright(samples, rate), RELEASE_END_DB)[1] * count(PIECE_S, rate)]


def without_breath(samples: Samples, rate: int, target: tuple[int, int]) -> tuple[int, int]:
    """A vowel's place without the breath at its ends."""
    piece, start = count(PIECE_S, rate), target[0]
    part = samples[start : target[1]]
    pieces = part[: len(part) // piece * piece].reshape(-1, piece)
    first, past = _loud((pieces**2).sum(axis=1), BREATH_DB)
    return start + first * piece, start + past * piece


def _loud(power: Samples, below: float) -> tuple[int, int]:
    """The pieces [first, past) from the first to the last that are loud enough."""
    loud = np.flatnonzero(power >= power.max(initial=0.0) * 10 ** (-below / 10))
    return (int(loud[0]), int(loud[-1]) + 1) if len(loud) else (0, len(power))


def _bright(samples: Samples, rate: int) -> Samples:
    """The power of pieces of 5 ms; two differences leave the voice and low formants out."""
    piece = count(PIECE_S, rate)
    high = np.diff(samples, 2, prepend=samples[:1], append=samples[-1:])
    return np.asarray((high[: len(high) // piece * piece].reshape(-1, piece) ** 2).sum(axis=1))
