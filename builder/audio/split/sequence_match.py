"""Which segment of a long recording is which item of a list that was read in order: the best way
through both, in which segments and items may be left out and items said again.

Scores and costs are in nats. A match's score is the sum of how much likelier its items are than any
other speech, less what its slips cost.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

IMPOSSIBLE = -1e9
OMISSION_COST = 5.0  # an item that was not said
STRAY_COST = 1.0  # a segment that is no item: a cough, part of a remark
REPEAT_COST = 3.0  # an item said once more
ScoreTable = NDArray[np.float64]


@dataclass(frozen=True)
class SegmentGroup:
    """Neighboring segments [first, past) taken together: how each item scores there, and
    (alone) what each item together with the next one does."""

    first: int
    past: int
    score: ScoreTable
    both: ScoreTable | None = None

    @property
    def single(self) -> bool:
        """Whether it is one segment."""
        return self.past == self.first + 1


@dataclass(frozen=True)
class Match:
    """A group as an item; both: as this item and the next, without a pause."""

    group: SegmentGroup
    item: int
    both: bool = False

    @property
    def items(self) -> tuple[int, ...]:
        """The items that it is."""
        return (self.item, self.item + 1) if self.both else (self.item,)


@dataclass(frozen=True)
class SequenceMatch:
    """The best way: its matches, in order; an item said again has several.

    forward, backward: the scores of the best ways to and from each (segments gone, items gone,
    whether the last of these was said).
    """

    matches: tuple[Match, ...]
    forward: ScoreTable = field(repr=False)
    backward: ScoreTable = field(repr=False)


def match_sequence(number: int, items: int, groups: Sequence[SegmentGroup]) -> SequenceMatch:
    """The best way through `number` segments and `items`."""
    starts: list[list[SegmentGroup]] = [[] for _ in range(number + 1)]
    ends: list[list[SegmentGroup]] = [[] for _ in range(number + 1)]
    for group in groups:
        starts[group.first].append(group)
        ends[group.past].append(group)
    backward = _backward(number, items, starts)
    return SequenceMatch(_followed(backward, starts), _forward(number, items, ends), backward)


def _backward(number: int, items: int, starts: list[list[SegmentGroup]]) -> ScoreTable:
    table = np.full((number + 1, items + 1, 2), IMPOSSIBLE)
    table[number, items] = 0.0
    for at in range(number, -1, -1):
        here = table[at]
        if at < number:
            np.maximum(here, table[at + 1] - STRAY_COST, out=here)
        for group in starts[at]:
            then = table[group.past, :, 1]
            np.maximum(here[:-1], (group.score + then[1:])[:, None], out=here[:-1])
            np.maximum(here[1:, 1], group.score - REPEAT_COST + then[1:], out=here[1:, 1])
            if group.both is not None:
                np.maximum(here[:-2], (group.both + then[2:])[:, None], out=here[:-2])
        for item in range(items - 1, -1, -1):
            np.maximum(here[item], here[item + 1, 0] - OMISSION_COST, out=here[item])
    return table


def _forward(number: int, items: int, ends: list[list[SegmentGroup]]) -> ScoreTable:
    table = np.full((number + 1, items + 1, 2), IMPOSSIBLE)
    table[0, 0, 0] = 0.0
    for at in range(number + 1):
        here = table[at]
        if at:
            np.maximum(here, table[at - 1] - STRAY_COST, out=here)
        for group in ends[at]:
            then = table[group.first]
            first, again = then[:-1].max(axis=1), then[1:, 1] - REPEAT_COST
            np.maximum(here[1:, 1], group.score + np.maximum(first, again), out=here[1:, 1])
            if group.both is not None:
                both = group.both + then[:-2].max(axis=1)
                np.maximum(here[2:, 1], both, out=here[2:, 1])
        for item in range(items):
            here[item + 1, 0] = max(here[item + 1, 0], here[item].max() - OMISSION_COST)
    return table


def _followed(backward: ScoreTable, starts: list[list[SegmentGroup]]) -> tuple[Match, ...]:
    """The matches of the best way, found by going along it."""
    number, items = backward.shape[0] - 1, backward.shape[1] - 1
    at, item, said = 0, 0, 0
    matches: list[Match] = []
    while (at, item) != (number, items):
        found = _step(backward, starts[at], at, item, said)
        if found is not None:
            match, item = found
            matches.append(match)
            at, said = match.group.past, 1
        elif at < number and np.isclose(
            backward[at, item, said], backward[at + 1, item, said] - STRAY_COST
        ):
            at += 1
        else:
            item, said = item + 1, 0
    return tuple(matches)


def _step(
    backward: ScoreTable, groups: list[SegmentGroup], at: int, item: int, said: int
) -> tuple[Match, int] | None:
    """The match with which the best way goes on, if with any, and how many items are gone then."""
    score, items = backward[at, item, said], backward.shape[1] - 1
    for group in groups:
        then = backward[group.past, :, 1]
        if item < items and np.isclose(score, group.score[item] + then[item + 1]):
            return Match(group, item), item + 1
        if said and np.isclose(score, group.score[item - 1] - REPEAT_COST + then[item]):
            return Match(group, item - 1), item
        two = item + 1 < items and group.both is not None and group.both[item] + then[item + 2]
        if two and np.isclose(score, two):
            return Match(group, item, both=True), item + 2
    return None


@dataclass(frozen=True)
class Alternative:
    """The best way on which an item is not said last at its place: how much less it is score, and
    at which group the item is then; None when it is left out."""

    cost: float
    group: SegmentGroup | None


def best_alternative(
    sequence: SequenceMatch, match: Match, groups: Sequence[SegmentGroup]
) -> Alternative:
    """What else could be an item."""
    item, best = match.item, float(sequence.backward[0, 0, 0])
    out = sequence.forward[:, item].max(axis=1) - OMISSION_COST + sequence.backward[:, item + 1, 0]
    found = Alternative(best - float(out.max()), None)
    for group in groups:
        if group is match.group:
            continue
        then = sequence.forward[group.first]
        before = max(then[item].max(), then[item + 1, 1] - REPEAT_COST)
        cost = best - float(before + group.score[item] + sequence.backward[group.past, item + 1, 0])
        if cost < found.cost:
            found = Alternative(cost, group)
    return found
