"""The likeliest path through a recording, when its phones are known and when they are not: Viterbi
searches over the states of phones, in log likelihoods.

L. Rabiner: A tutorial on hidden Markov models and selected applications in speech recognition.
Proc. IEEE 77 (1989) 257-286.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from builder.audio.align.acoustic_model import STATES, Table

IMPOSSIBLE = np.float32(-1e9)
PHONE_CHANGE_NEPERS = np.float32(
    -4.0
)  # nepers: another phone where any may follow; none is for nothing

Ids = NDArray[np.intp]


def forced_path(likely: Table, stay: Table, phones: list[int], optional: list[bool]) -> Ids | None:
    """Which state of the row of `phones` each frame is in: STATES * place in the row + state.

    likely: (frames, all phones, STATES); stay: (all phones, STATES). An optional phone may be left
    out; no two of them are neighbors. None when there are too few frames.
    """
    if len(likely) < STATES * optional.count(False):
        return None
    emitted = likely[:, phones].reshape(len(likely), -1)
    lasting = stay[phones].reshape(-1)
    before = _before(len(phones), optional)
    best, came = _searched(emitted, lasting, before, [0, STATES] if optional[0] else [0])
    last = emitted.shape[1] - 1
    ends = [last, last - STATES] if optional[-1] else [last]
    return _back(came, before, max(ends, key=lambda state: float(best[state])))


def _before(number: int, optional: list[bool]) -> Ids:
    """From where each state may come, shape (3, states): itself, the one before it, and the one
    before an optional phone; -1 for none."""
    own = np.arange(number * STATES)
    over = np.full(len(own), -1)
    for at in range(1, number - 1):
        if optional[at]:
            over[STATES * (at + 1)] = STATES * at - 1
    return np.stack([own, own - 1, over])


def _searched(
    emitted: Table, lasting: Table, before: Ids, firsts: list[int]
) -> tuple[Table, NDArray[np.int8]]:
    """The score of the best path to every state at the end, and by which row of `before`."""
    own = np.arange(emitted.shape[1])
    leaving = np.log1p(-np.exp(lasting))
    cost = np.stack([lasting, leaving[before[1]], leaving[before[2]]])
    cost[before < 0] = IMPOSSIBLE
    best = np.full(len(own), IMPOSSIBLE, np.float32)
    best[firsts] = emitted[0, firsts]
    came = np.zeros(emitted.shape, np.int8)
    for frame in range(1, len(emitted)):
        ways = best[before] + cost
        came[frame] = ways.argmax(axis=0)
        best = ways[came[frame], own] + emitted[frame]
    return best, came


def _back(came: NDArray[np.int8], before: Ids, state: int) -> Ids:
    states = np.zeros(len(came), np.intp)
    for frame in range(len(came) - 1, -1, -1):
        states[frame] = state
        state = int(before[came[frame, state], state])
    return states


def free_path(likely: Table, stay: Table) -> Ids:
    """Which state each frame is in when any phone may follow any other: STATES * phone + state."""
    emitted = likely.reshape(len(likely), -1)
    lasting = stay.reshape(-1)
    leaving = np.log1p(-np.exp(lasting))
    own = np.arange(len(lasting))
    ends, firsts = own[STATES - 1 :: STATES], own[::STATES]
    best = np.full(len(own), IMPOSSIBLE, np.float32)
    best[firsts] = emitted[0, firsts]
    came = np.zeros(emitted.shape, np.intp)
    for frame in range(1, len(emitted)):
        out = best + leaving
        last = ends[out[ends].argmax()]
        source = own - 1
        source[firsts] = last
        moved = out[source]
        moved[firsts] += PHONE_CHANGE_NEPERS
        stays = best + lasting >= moved
        came[frame] = np.where(stays, own, source)
        best = np.where(stays, best + lasting, moved) + emitted[frame]
    return _traced(came, int(ends[best[ends].argmax()]))


def _traced(came: Ids, state: int) -> Ids:
    states = np.zeros(len(came), np.intp)
    for frame in range(len(came) - 1, -1, -1):
        states[frame] = state
        state = int(came[frame, state])
    return states
