"""How well every item of a list fits every segment of a recording, one after the other or several
taken together.

Each is a Viterbi search with the item's phones, held against one in which any phone may follow
any other (builder.audio.align.viterbi): what is left is how much likelier the item is than just any
speech, whatever the voice, the room and the microphone.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from builder.audio.align import acoustic_model
from builder.audio.align.acoustic_model import SILENCE, STATES, Table
from builder.audio.align.viterbi import IMPOSSIBLE, PHONE_CHANGE_NEPERS
from builder.phonetics.inventory import bare
from builder.phonetics.position import Words

# No phone begins where the one before it in the table ends.
NOT_FIRST_STATE = np.arange(1, 1000) % STATES != 0
Scores = NDArray[np.float32]


@dataclass(frozen=True)
class ItemStates:
    """Items as rows of states, filled up to the longest: which state of the table each is, how
    likely (log) it lasts and ends, from where a silence before it may be jumped over, and the
    state in which each item ends.
    """

    ids: NDArray[np.intp]
    lasting: Scores
    leaving: Scores
    over: NDArray[np.intp]
    last: NDArray[np.intp]


def item_states(items: Sequence[Words]) -> ItemStates:
    """The rows of items; silence may stand before, between and after their words."""
    named = [_named(words) for words in items]
    model = acoustic_model.load()
    shape = (len(named), max(map(len, named)) * STATES)
    ids, over = np.zeros(shape, np.intp), np.full(shape, -1)
    for at, names in enumerate(named):
        phones = np.array([model.phones.index(name) for name in names])
        ids[at, : len(names) * STATES] = (phones[:, None] * STATES + np.arange(STATES)).ravel()
        for place in range(1, len(names) - 1):
            if names[place] == SILENCE:
                over[at, STATES * (place + 1)] = STATES * place - 1
    lasting = model.stay.reshape(-1)[ids]
    last = np.array([len(names) * STATES - 1 for names in named])
    return ItemStates(ids, lasting, np.log1p(-np.exp(lasting)), over, last)


def _named(words: Words) -> list[str]:
    found = [SILENCE]
    for word in words:
        found += [*map(bare, word), SILENCE]
    return found


def segment_scores(table: Table, start: int, stops: Sequence[int], states: ItemStates) -> Scores:
    """How much likelier each item is than any speech, nepers, shape (stops, 2, items): said from
    frame `start` to each of the `stops` (rising); first as a whole, then as far as it comes."""
    said = list(_items(table[start : stops[-1]], {s - start for s in stops}, states))
    free = list(_free(table[start : stops[-1]], {s - start for s in stops}))
    return np.stack(said) - np.array(free, np.float32)[:, None, None]


def best_item(part: Table, states: ItemStates) -> float:
    """The score of the item whose path through all frames of `part` is the best, nepers."""
    return float(next(_items(part, {len(part)}, states))[0].max())


def _items(part: Table, stops: set[int], states: ItemStates) -> Iterator[Scores]:
    """The score of each item's best path, to its end and to anywhere, at each stop."""
    each, width = np.arange(len(states.ids)), states.ids.shape[1]
    best = np.full(states.ids.shape, IMPOSSIBLE, np.float32)
    best[:, [0, STATES]] = part[0][states.ids[:, [0, STATES]]]
    out, emitted = np.empty_like(best), np.empty_like(best)
    flat, flat_out = best.reshape(-1), out.reshape(-1)  # the same numbers
    places = np.flatnonzero(states.over.reshape(-1) >= 0)
    sources = places // width * width + states.over.reshape(-1)[places]
    for frame in range(1, len(part) + 1):
        if frame in stops:
            whole = np.maximum(best[each, states.last], best[each, states.last - STATES])
            yield np.stack([whole, best.max(axis=1)])
        if frame == len(part):
            return
        np.add(best, states.leaving, out=out)
        best += states.lasting
        np.maximum(best[:, 1:], out[:, :-1], out=best[:, 1:])
        flat[places] = np.maximum(flat[places], flat_out[sources])
        best += np.take(part[frame], states.ids, out=emitted, mode="clip")


def _free(part: Table, stops: set[int]) -> Iterator[float]:
    """The score of the best path through any phones, at each stop."""
    lasting = acoustic_model.load().stay.reshape(-1)
    leaving = np.log1p(-np.exp(lasting))
    best = np.full(len(lasting), IMPOSSIBLE, np.float32)
    best[::STATES] = part[0, ::STATES]
    for frame in range(1, len(part) + 1):
        if frame in stops:
            yield float(best[STATES - 1 :: STATES].max())
        if frame == len(part):
            return
        out = best + leaving
        best += lasting
        np.maximum(best[1:], out[:-1], out=best[1:], where=NOT_FIRST_STATE[: len(best) - 1])
        best[::STATES] = np.maximum(
            best[::STATES], out[STATES - 1 :: STATES].max() + PHONE_CHANGE_NEPERS
        )
        best += part[frame]
