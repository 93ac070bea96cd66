"""How well every item of a list fits every stretch of a recording, one after the other or several
taken together.

Each is a Viterbi search with the item's phones, held against one in which any phone may follow
any other (builder.audio.path): what is left is how much likelier the item is than just any
speech, whatever the voice, the room and the microphone.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from builder.audio.align import acoustic_model
from builder.audio.align.acoustic_model import SILENCE, STATES, Table
from builder.audio.align.viterbi import CHANGE
from builder.phonetics.inventory import bare
from builder.phonetics.position import Words

NEVER = np.float32(-1e9)
# No phone begins where the one before it in the table ends.
INNER = np.arange(1, 1000) % STATES != 0
Frames = tuple[int, int]
Worths = NDArray[np.float32]


@dataclass(frozen=True)
class Row:
    """Items as rows of states, filled up to the longest: which state of the table each is, how
    likely (log) it lasts and ends, from where a silence before it may be jumped over, and the
    state in which each item ends.
    """

    ids: NDArray[np.intp]
    lasting: Worths
    leaving: Worths
    over: NDArray[np.intp]
    last: NDArray[np.intp]


def rows(items: Sequence[Words]) -> Row:
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
    return Row(ids, lasting, np.log1p(-np.exp(lasting)), over, last)


def _named(words: Words) -> list[str]:
    found = [SILENCE]
    for word in words:
        found += [*map(bare, word), SILENCE]
    return found


def worths(table: Table, start: int, stops: Sequence[int], row: Row) -> Worths:
    """How much likelier each item is than any speech, nepers, shape (stops, 2, items): said from
    frame `start` to each of the `stops` (rising); first as a whole, then as far as it comes."""
    said = list(_items(table[start : stops[-1]], {s - start for s in stops}, row))
    free = list(_free(table[start : stops[-1]], {s - start for s in stops}))
    return np.stack(said) - np.array(free, np.float32)[:, None, None]


def _items(part: Table, stops: set[int], row: Row) -> Iterator[Worths]:
    """The worth of each item's best way, to its end and to anywhere, at each stop."""
    each = np.arange(len(row.ids))
    best = np.full(row.ids.shape, NEVER, np.float32)
    best[:, [0, STATES]] = part[0][row.ids[:, [0, STATES]]]
    jumps, places = np.nonzero(row.over >= 0)
    sources = row.over[jumps, places]
    for frame in range(1, len(part) + 1):
        if frame in stops:
            whole = np.maximum(best[each, row.last], best[each, row.last - STATES])
            yield np.stack([whole, best.max(axis=1)])
        if frame == len(part):
            return
        out = best + row.leaving
        best += row.lasting
        np.maximum(best[:, 1:], out[:, :-1], out=best[:, 1:])
        best[jumps, places] = np.maximum(best[jumps, places], out[jumps, sources])
        best += part[frame][row.ids]


def _free(part: Table, stops: set[int]) -> Iterator[float]:
    """The worth of the best way through any phones, at each stop."""
    lasting = acoustic_model.load().stay.reshape(-1)
    leaving = np.log1p(-np.exp(lasting))
    best = np.full(len(lasting), NEVER, np.float32)
    best[::STATES] = part[0, ::STATES]
    for frame in range(1, len(part) + 1):
        if frame in stops:
            yield float(best[STATES - 1 :: STATES].max())
        if frame == len(part):
            return
        out = best + leaving
        best += lasting
        np.maximum(best[1:], out[:-1], out=best[1:], where=INNER[: len(best) - 1])
        best[::STATES] = np.maximum(best[::STATES], out[STATES - 1 :: STATES].max() + CHANGE)
        best += part[frame]
