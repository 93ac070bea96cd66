"""Which stretch of a long recording is which item of a list that was read in order: the best way
through both, in which stretches and items may be left out and items said again.

Worths and costs are in nats. A way's worth is the sum of how much likelier its items are than any
other speech, less what its slips cost.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

NEVER = -1e9
LEFT_OUT = 5.0  # an item that was not said
STRAY = 1.0  # a stretch that is no item: a cough, part of a remark
AGAIN = 3.0  # an item said once more
Worths = NDArray[np.float64]


@dataclass(frozen=True)
class Unit:
    """Neighbouring stretches [first, past) taken together: what each item is worth there, and
    (alone) what each item together with the next one is."""

    first: int
    past: int
    worth: Worths
    both: Worths | None = None

    @property
    def single(self) -> bool:
        """Whether it is one stretch."""
        return self.past == self.first + 1


@dataclass(frozen=True)
class Match:
    """A unit as an item; both: as this item and the next, without a pause."""

    unit: Unit
    item: int
    both: bool = False

    @property
    def said(self) -> tuple[int, ...]:
        """The items that it is."""
        return (self.item, self.item + 1) if self.both else (self.item,)


@dataclass(frozen=True)
class Way:
    """The best way: its matches, in order; an item said again has several.

    before, after: the worth of the best ways to and from (stretches gone, items gone, whether the
    last of these was said).
    """

    matches: tuple[Match, ...]
    before: Worths = field(repr=False)
    after: Worths = field(repr=False)


def best_way(number: int, items: int, units: Sequence[Unit]) -> Way:
    """The best way through `number` stretches and `items`."""
    starts: list[list[Unit]] = [[] for _ in range(number + 1)]
    ends: list[list[Unit]] = [[] for _ in range(number + 1)]
    for unit in units:
        starts[unit.first].append(unit)
        ends[unit.past].append(unit)
    after = _after(number, items, starts)
    return Way(_followed(after, starts), _before(number, items, ends), after)


def _after(number: int, items: int, starts: list[list[Unit]]) -> Worths:
    table = np.full((number + 1, items + 1, 2), NEVER)
    table[number, items] = 0.0
    for at in range(number, -1, -1):
        here = table[at]
        if at < number:
            np.maximum(here, table[at + 1] - STRAY, out=here)
        for unit in starts[at]:
            then = table[unit.past, :, 1]
            np.maximum(here[:-1], (unit.worth + then[1:])[:, None], out=here[:-1])
            np.maximum(here[1:, 1], unit.worth - AGAIN + then[1:], out=here[1:, 1])
            if unit.both is not None:
                np.maximum(here[:-2], (unit.both + then[2:])[:, None], out=here[:-2])
        for item in range(items - 1, -1, -1):
            np.maximum(here[item], here[item + 1, 0] - LEFT_OUT, out=here[item])
    return table


def _before(number: int, items: int, ends: list[list[Unit]]) -> Worths:
    table = np.full((number + 1, items + 1, 2), NEVER)
    table[0, 0, 0] = 0.0
    for at in range(number + 1):
        here = table[at]
        if at:
            np.maximum(here, table[at - 1] - STRAY, out=here)
        for unit in ends[at]:
            then = table[unit.first]
            first, again = then[:-1].max(axis=1), then[1:, 1] - AGAIN
            np.maximum(here[1:, 1], unit.worth + np.maximum(first, again), out=here[1:, 1])
            if unit.both is not None:
                both = unit.both + then[:-2].max(axis=1)
                np.maximum(here[2:, 1], both, out=here[2:, 1])
        for item in range(items):
            here[item + 1, 0] = max(here[item + 1, 0], here[item].max() - LEFT_OUT)
    return table


def _followed(after: Worths, starts: list[list[Unit]]) -> tuple[Match, ...]:
    """The matches of the best way, found by going along it."""
    number, items = after.shape[0] - 1, after.shape[1] - 1
    at, item, said = 0, 0, 0
    matches: list[Match] = []
    while (at, item) != (number, items):
        found = _step(after, starts[at], at, item, said)
        if found is not None:
            match, item = found
            matches.append(match)
            at, said = match.unit.past, 1
        elif at < number and np.isclose(after[at, item, said], after[at + 1, item, said] - STRAY):
            at += 1
        else:
            item, said = item + 1, 0
    return tuple(matches)


def _step(
    after: Worths, units: list[Unit], at: int, item: int, said: int
) -> tuple[Match, int] | None:
    """The match with which the best way goes on, if with any, and how many items are gone then."""
    worth, items = after[at, item, said], after.shape[1] - 1
    for unit in units:
        then = after[unit.past, :, 1]
        if item < items and np.isclose(worth, unit.worth[item] + then[item + 1]):
            return Match(unit, item), item + 1
        if said and np.isclose(worth, unit.worth[item - 1] - AGAIN + then[item]):
            return Match(unit, item - 1), item
        two = item + 1 < items and unit.both is not None and unit.both[item] + then[item + 2]
        if two and np.isclose(worth, two):
            return Match(unit, item, both=True), item + 2
    return None


@dataclass(frozen=True)
class Rival:
    """The best way on which an item is not said last at its place: how much less it is worth, and
    at which unit the item is then; None when it is left out."""

    less: float
    unit: Unit | None


def rival(way: Way, match: Match, units: Sequence[Unit]) -> Rival:
    """What else could be an item."""
    item, best = match.item, float(way.after[0, 0, 0])
    out = way.before[:, item].max(axis=1) - LEFT_OUT + way.after[:, item + 1, 0]
    found = Rival(best - float(out.max()), None)
    for unit in units:
        if unit is match.unit:
            continue
        then = way.before[unit.first]
        before = max(then[item].max(), then[item + 1, 1] - AGAIN)
        less = best - float(before + unit.worth[item] + way.after[unit.past, item + 1, 0])
        if less < found.less:
            found = Rival(less, unit)
    return found
