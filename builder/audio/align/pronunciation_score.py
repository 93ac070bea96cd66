"""How surely the phones that should be said were said.

The log likelihood of each phone in its frames is held against that of the phone which fits them
best, and that of all frames against the best way through them by any phones: S. Witt, S. Young:
Phone-level pronunciation scoring and assessment for interactive language learning. Speech
Communication 30 (2000) 95-108. The first weighs a short wrong consonant as much as a long right
vowel, the second what was said beside the words. The line from both to a score was fitted on half
of the words of tests/benchmarks/alignment.py.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from builder.audio.align.acoustic_model import FILLERS, SILENCE, STATES, Table, load
from builder.audio.align.viterbi import IMPOSSIBLE, Ids, free_path

WORST_NEPERS = -10.0  # nepers a frame; a phone is never worse
# a neper's weight; the mean of both at which right is as likely as wrong.
SLOPE_PER_NEPER, MIDPOINT_NEPERS = 0.8, -2.8


def pronunciation_scores(
    likely: Table, states: Ids, parts: list[Ids]
) -> tuple[float, tuple[float, ...]]:
    """The score of the whole and of each phone, 0..1.

    likely: (frames, phones, STATES), STATES * phone + state of every frame, frames of each phone.
    """
    any_phone = likely.copy()
    any_phone[:, [load().phones.index(name) for name in FILLERS]] = IMPOSSIBLE
    said = _at(likely, states)
    best = any_phone.max(axis=2)
    each = np.array(
        [(said[part].sum() - best[part].sum(axis=0).max()) / len(part) for part in parts]
    )
    each = np.clip(each, WORST_NEPERS, 0)
    every = _against_any(any_phone, said, states)
    return _score((float(each.mean()) + every) / 2), tuple(_score(float(one)) for one in each)


def _at(likely: Table, states: Ids) -> NDArray[np.float64]:
    rows = likely.reshape(len(likely), -1)
    return np.asarray(rows[np.arange(len(rows)), states], np.float64)


def _against_any(any_phone: Table, said: NDArray[np.float64], states: Ids) -> float:
    """Nepers a frame, of those frames in which either way has speech."""
    other = free_path(any_phone, load().stay)
    silence = load().phones.index(SILENCE)
    speech = (states // STATES != silence) | (other // STATES != silence)
    return float((said - _at(any_phone, other)).sum()) / max(1, int(speech.sum()))


def _score(nepers: float) -> float:
    return float(1 / (1 + np.exp(-2 * SLOPE_PER_NEPER * (nepers - MIDPOINT_NEPERS))))
