"""How much higher or lower a reader's formants lie than those the acoustic model knows: the length
of the vocal tract, chosen by likelihood (L. Lee, R. Rose: A frequency warping approach to speaker
normalization. IEEE Trans. Speech and Audio Processing 6 (1998) 49-60).

What was read is known, but not where, so some of the segments are held against every item at each
warp, and the best item counts: by how much less likely it is than the best phone of each frame. Its
likelihood alone grows with all that makes spectra smoother, and so with wide warps of any voice.
Only the filters move from one warp to the next; the spectra stay.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import cache

import numpy as np

from builder.audio.align import mfcc
from builder.audio.dsp.voice_activity import Segment
from builder.audio.speech import Samples
from builder.audio.split.likelihoods import likelihood_rows
from builder.audio.split.segment_scores import ItemStates, best_item, item_states
from builder.phonetics.position import Words

NARROWEST, WIDEST = 0.85, 1.35
STARTS = (1.0, 1.2)  # from the better one it goes uphill: first in large steps, then in small ones
STEPS = (0.1, 0.05)
LONGEST_S = 2.5  # of a segment that is looked at
SAMPLE_S = 10.0  # of all that are
EVERY = 2  # frame is looked up, and counts for those beside it: they tell nearly the same
WORD_PHONES = 3  # of a word at least
WORST_NEPERS = -4.0  # a frame; a segment that is no item says no more against a warp
PRIOR_NEPERS = 0.6  # a frame and unit of warp: most readers are near what the model knows
GAIN_MIN_NEPERS = 0.06  # a frame; what gains less is left as it is


def find_warp(
    samples: Samples, rate: int, segments: Sequence[Segment], items: Sequence[Words]
) -> float:
    """The factor of all formants, as of `mfcc.warped`; 1 where nothing speaks for another.

    segments: those with a voice, with their context.
    """
    spectra, states = _spectra(samples, rate, _sampled(segments, rate)), item_states(_units(items))
    if not spectra:
        return 1.0
    fit = cache(lambda warp: _fit(spectra, warp, states) - PRIOR_NEPERS * abs(warp - 1))
    best = max(STARTS, key=fit)
    for step in STEPS:
        best = _climbed(fit, best, step)
    return best if fit(best) > fit(1.0) + GAIN_MIN_NEPERS else 1.0


def _climbed(fit: Callable[[float], float], best: float, step: float) -> float:
    """The best warp uphill from one, in steps of this size upwards, or else downwards."""
    for by in (step, -step):
        there = best
        while NARROWEST <= (beside := round(there + by, 2)) <= WIDEST and fit(beside) > fit(there):
            there = beside
        if there != best:
            return there
    return best


def _units(items: Sequence[Words]) -> list[Words]:
    """The items, and the words of phrases that are long enough to be told by themselves: a segment
    may be one of them."""
    words = {word for item in items if len(item) > 1 for word in item if len(word) >= WORD_PHONES}
    return [*items, *((word,) for word in sorted(words))]


def _sampled(segments: Sequence[Segment], rate: int) -> list[Segment]:
    """As many as last SAMPLE_S, from everywhere in the recording."""
    short = [(max(0, a), b) for a, b in segments if b - a <= LONGEST_S * rate]
    lasts = sum(b - a for a, b in short) / rate
    number = min(len(short), int(np.ceil(len(short) * SAMPLE_S / lasts))) if short else 0
    return [short[at * len(short) // number] for at in range(number)]


def _spectra(samples: Samples, rate: int, segments: list[Segment]) -> list[Samples]:
    import soxr

    peak = max(float(np.abs(samples).max(initial=0.0)), 1e-9)
    found = []
    for start, stop in segments:
        low = np.asarray(soxr.resample(samples[start:stop] / peak, rate, mfcc.RATE_HZ), np.float64)
        low = np.pad(low * mfcc.PEAK, (0, mfcc.WINDOW_SAMPLES))
        found.append(mfcc.power_spectra(mfcc.dithered(low)))
    return found


def _fit(spectra: list[Samples], warp: float, states: ItemStates) -> float:
    """Nepers a frame."""
    features = mfcc.features_of(np.concatenate(spectra), warp)[0]
    features[:, : mfcc.CEPSTRA] -= features[:, : mfcc.CEPSTRA].mean(axis=0)
    rows = np.repeat(likelihood_rows(features[::EVERY]), EVERY, axis=0)[: len(features)]
    each = np.split(rows, np.cumsum([len(part) for part in spectra])[:-1])
    fits = (max(best_item(part, states), WORST_NEPERS * len(part)) for part in each)
    return sum(fits) / len(rows)
