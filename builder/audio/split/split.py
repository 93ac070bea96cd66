"""A long recording of a list read aloud → one cut for every item, each with a word on how sure it
is. Coughs, remarks, false starts, items said again or left out shift nothing."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from builder.audio.align.forced import DOUBTFUL, align
from builder.audio.speech import Samples, count
from builder.audio.split import uncertainty
from builder.audio.split.activity import Stretch, levels
from builder.audio.split.sequence_match import Match, Unit, Way, best_way
from builder.audio.split.session import Reading, read
from builder.phonetics.position import Words

BEFORE, AFTER = 0.12, 0.15  # seconds of the room kept around an item
FOUND = 5.0  # nats that an item must be worth to be found out of order
ENOUGH = 1 / 3  # of what was said must surely be of this list
PIECE = 0.010  # seconds


@dataclass(frozen=True)
class Cut:
    """An item found. span: samples to cut; spoken: those that sound. score: as of a take, 0..1.

    why: what is doubtful about it, "" when nothing is. other: the item that it may be instead, -1
    for none. times: how often it was said; the last one is cut.
    """

    item: int
    span: Stretch
    spoken: Stretch
    score: float
    why: str = ""
    other: int = -1
    times: int = 1

    @property
    def sure(self) -> bool:
        """Whether nothing is doubtful."""
        return not self.why and self.other < 0


@dataclass(frozen=True)
class Split:
    """cuts: by item. strays: what sounds and belongs to no item (samples)."""

    cuts: tuple[Cut, ...]
    strays: tuple[Stretch, ...]


def split(samples: Samples, rate: int, items: Sequence[Words]) -> Split:
    """Find the items, read in this order. items: the phones of every word of each.

    Without any sound both parts of the answer are empty.
    """
    reading = read(samples, rate, items)
    way = best_way(len(reading.runs), len(reading.items), reading.units)
    kept = _kept(way)
    cuts = {item: _cut(reading, way, item, kept) for item in kept}
    cuts = _weighed(reading, way, kept, cuts)
    used = {run for m in way.matches for run in range(m.unit.first, m.unit.past)}
    for item, unit in _elsewhere(reading, used, set(cuts)):
        cuts[item] = _made(reading, item, _spoken(reading, unit), why=uncertainty.ORDER)
        used |= set(range(unit.first, unit.past))
    strays = tuple(run for at, run in enumerate(reading.runs) if at not in used)
    return Split(_believed([cuts[item] for item in sorted(cuts)], len(strays)), strays)


def _believed(cuts: list[Cut], strays: int) -> tuple[Cut, ...]:
    """The cuts; none is sure where most is doubtful or strange: it may be another list."""
    sure = sum(cut.sure for cut in cuts)
    if sure >= ENOUGH * (len(cuts) + strays):
        return tuple(cuts)
    return tuple(replace(cut, why=uncertainty.STRANGE) if cut.sure else cut for cut in cuts)


def _kept(way: Way) -> dict[int, Match]:
    """The last match of every item; that of two items without a pause stands for both."""
    return {item: match for match in way.matches for item in match.said}


def _cut(reading: Reading, way: Way, item: int, kept: Mapping[int, Match]) -> Cut:
    match = kept[item]
    spoken = _spoken(reading, match.unit)
    if match.both:
        border = _border(reading, match.item, spoken)
        spoken = (spoken[0], border) if item == match.item else (border, spoken[1])
    why, other = uncertainty.why(reading, way, match, kept)
    times = sum(item in one.said for one in way.matches)
    return _made(reading, item, spoken, why=why, other=other, times=times)


def _weighed(
    reading: Reading, way: Way, kept: Mapping[int, Match], cuts: dict[int, Cut]
) -> dict[int, Cut]:
    """The cuts, with the doubts that others throw on them."""
    found = dict(cuts)
    while True:
        doubtful = {item: cut.other for item, cut in found.items() if not cut.sure}
        more = uncertainty.spread(reading, way, kept, doubtful)
        if not more:
            return found
        for item, (why, other) in more.items():
            found[item] = replace(found[item], why=why, other=other)


def _made(
    reading: Reading, item: int, spoken: Stretch, *, why: str, other: int = -1, times: int = 1
) -> Cut:
    span = _with_room(reading, spoken)
    found = align(reading.samples[slice(*span)], reading.rate, reading.items[item])
    score = found.score if found else 0.0
    if not why and other < 0 and score < DOUBTFUL:
        why = uncertainty.LOW
    return Cut(item, span, spoken, score, why, other, times)


def _spoken(reading: Reading, unit: Unit) -> Stretch:
    return reading.runs[unit.first][0], reading.runs[unit.past - 1][1]


def _with_room(reading: Reading, spoken: Stretch) -> Stretch:
    """A little of the room before and after, at most half-way to what sounds beside it."""
    before = max((past for _, past in reading.runs if past <= spoken[0]), default=None)
    after = min((first for first, _ in reading.runs if first >= spoken[1]), default=None)
    start, stop = spoken[0] - count(BEFORE, reading.rate), spoken[1] + count(AFTER, reading.rate)
    start = max(start, 0 if before is None else (before + spoken[0]) // 2)
    stop = min(stop, len(reading.samples) if after is None else (after + spoken[1]) // 2)
    inside = [run for run in reading.runs if run[0] < spoken[0] < run[1]]
    start = spoken[0] if inside else start
    stop = spoken[1] if [run for run in reading.runs if run[0] < spoken[1] < run[1]] else stop
    return start, stop


def _border(reading: Reading, item: int, spoken: Stretch) -> int:
    """Where in one stretch an item ends and the next begins: where it is softest between them."""
    words, rate = reading.items[item], reading.rate
    part = reading.samples[slice(*spoken)]
    found = align(part, rate, words + reading.items[item + 1])
    phones = sum(map(len, words))
    if found is None:
        return sum(spoken) // 2
    left, right = (sum(found.spans[at]) // 2 for at in (phones - 1, phones))
    size = count(PIECE, rate)
    between = levels(part[left : max(right, left + size)], rate)
    return spoken[0] + left + int(np.argmin(between)) * size + size // 2


def _elsewhere(reading: Reading, used: set[int], found: set[int]) -> Iterator[tuple[int, Unit]]:
    """Items that were left out, at units where nothing else is: said out of order."""
    free = [u for u in reading.units if not used & set(range(u.first, u.past))]
    left = [item for item in range(len(reading.items)) if item not in found]
    pairs = [(float(u.worth[i]), i, u) for u in free for i in left if u.worth[i] >= FOUND]
    for worth, item, unit in sorted(pairs, key=lambda pair: -pair[0]):
        runs = set(range(unit.first, unit.past))
        if item in found or runs & used or worth < unit.worth.max():
            continue
        found, used = found | {item}, used | runs
        yield item, unit
