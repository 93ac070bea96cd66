"""A final /l/ or /ɹ/ grows out of its vowel and dies away as breath. Alignment tends to find it
there, at its end; it is held where it is loud."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from builder.audio.speech import Speech, count

PIECE_S = 0.010
BREATH_DB = 8.0  # dB below the loudest piece of the word from which on it dies away
# Seconds before that which are the sound: /l ɹ/ last 80 ms and a third more at the end of a phrase
# (D. Klatt: Review of text-to-speech conversion for English. JASA 82 (1987) 737-793).
LOUD_S = 0.110


def with_liquid_place(speech: Speech) -> Speech:
    """The speech with the target begun as early as LOUD_S before the word dies away."""
    if speech.target is None:
        return speech
    start, stop = speech.target
    piece = count(PIECE_S, speech.rate)
    pieces = speech.samples[: stop // piece * piece].reshape(-1, piece)
    power = (pieces**2).mean(axis=1)
    loud = np.flatnonzero(power > power.max(initial=0.0) * 10 ** (-BREATH_DB / 10))
    if not len(loud):
        return speech
    past = (int(loud[-1]) + 1) * piece
    return replace(speech, target=(max(0, min(start, past - count(LOUD_S, speech.rate))), stop))
