"""Whether what is held is the sound, and not what is left of it as the word dies away."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from builder.audio.judge.fault import Fault
from builder.audio.speech import Samples, count
from builder.phonetics.inventory import Sound

PIECE_S = 0.020
# dB of a held liquid or nasal below the loudest of the rest of the word. Where speakers say it, a
# final /l ɹ/ lies 4 to 11 dB below it in five of seven recordings (tests/outside/real_speech.py),
# and what is weaker is the breath after it.
WEAK_DB = 12.0
SONORANT = ("liquid", "nasal")


def level_faults(
    samples: Samples, rate: int, target: tuple[int, int], sound: Sound
) -> Iterator[Fault]:
    """Whether a held liquid or nasal is drawn from the end of the word. samples: the clip."""
    if sound.manner not in SONORANT:
        return
    below = level_below(samples, rate, target)
    if below > WEAK_DB:
        text = f"/{sound.ipa}/ is drawn from the breath at the end of the word"
        yield Fault("weak", text, f"{below:.0f} dB below the vowel")


def level_below(samples: Samples, rate: int, target: tuple[int, int]) -> float:
    """dB of the middle of the target below the loudest piece beside it; 0 without anything."""
    size, (start, stop) = count(PIECE_S, rate), target
    beside = np.concatenate([_pieces(samples[:start], size), _pieces(samples[stop:], size)])
    inside = _pieces(samples[start:stop], size)
    if not len(beside) or not len(inside) or not beside.max() or not np.median(inside):
        return 0.0
    return 10 * float(np.log10(beside.max() / np.median(inside)))


def _pieces(samples: Samples, size: int) -> Samples:
    whole = samples[: len(samples) // size * size].reshape(-1, size)
    return np.asarray((whole**2).mean(axis=1))
