"""Clear-rates of what was tried: by step, support and word, by day, and by third of a sitting."""

from __future__ import annotations

import datetime
from collections.abc import Callable, Hashable, Iterable
from dataclasses import dataclass
from typing import Literal, TypeVar

from builder.model.program import Role, Support
from builder.practice.figures.intervals import Rate, difference
from builder.practice.figures.tries import Tries

FAILS_BELOW = 50  # per cent; the usual floor below which one steps back: trade practice, no source
LEAST_OF_A_WORD = 4  # tries, before a word is said to fail; common practice, no source
THIRDS_FROM = 6  # tries alike in a sitting, so that a third has two

Source = Literal["tablet", "paper"]
Key = TypeVar("Key", bound=Hashable)


def by_step(tries: Iterable[Tries]) -> dict[tuple[str, Support | None], Rate]:
    """Clear-rate, clear tries / all tries, of each step with each support really given."""
    return _grouped(tries, lambda one: (one.step, one.support))


def by_word(tries: Iterable[Tries]) -> dict[tuple[str, Support | None, str], Rate]:
    """Clear-rate of each word of a step with each support; a text has no words of its own."""
    return _grouped((t for t in tries if t.item), lambda one: (one.step, one.support, one.item))


def by_day(tries: Iterable[Tries]) -> dict[datetime.date, Rate]:
    """Clear-rate of each day, oldest first: a day counts, not its sittings one by one."""
    return dict(sorted(_grouped(tries, lambda one: one.day).items()))


def by_role(tries: Iterable[Tries]) -> dict[tuple[Role | Literal[""], Source], Rate]:
    """Clear-rate of each who listened, on tablets and on paper apart; "" where a sheet does not say
    who it was. Two who listen to the same client may hear differently, and the days of one may be
    the harder ones: a difference is a reason to ask, never a judgement of either."""
    return _grouped(tries, lambda one: (one.helper, "tablet" if one.sitting else "paper"))


def failing(tries: Iterable[Tries]) -> tuple[tuple[str, str, Rate], ...]:
    """(step, word, clear-rate) of the words with fewer clear than half of four tries or more, with
    whatever support; the lowest first, of equals the one tried more often."""
    words = _grouped((t for t in tries if t.item), lambda one: (one.step, one.item))
    found = [
        (step, word, rate)
        for (step, word), rate in words.items()
        if rate.tries >= LEAST_OF_A_WORD and not rate.reaches(FAILS_BELOW)
    ]
    return tuple(sorted(found, key=lambda one: (one[2].share, -one[2].tries, one[0], one[1])))


def _grouped(tries: Iterable[Tries], key: Callable[[Tries], Key]) -> dict[Key, Rate]:
    sums: dict[Key, tuple[int, int]] = {}
    for one in tries:
        clear, of = sums.get(key(one), (0, 0))
        sums[key(one)] = clear + one.clear, of + one.tries
    return {name: Rate(clear, of) for name, (clear, of) in sums.items()}


@dataclass(frozen=True)
class Thirds:
    """Clear-rates of the first and the last third of sittings."""

    first: Rate
    last: Rate

    @property
    def tired(self) -> bool:
        """Whether the last third is surely lower: all of the 95 % interval of the difference
        (Newcombe 1998, method 10) is above 0."""
        return difference(self.first, self.last)[0] > 0

    def __str__(self) -> str:
        """As in "first third 26 of 30 (86.7 %), last 15 of 30 (50 %): lower toward the end"."""
        told = f"first third {self.first}, last {self.last}"
        if self.tired:
            return f"{told}: lower toward the end"
        better = difference(self.last, self.first)[0] > 0
        return f"{told}: {'higher toward the end' if better else 'no clear difference'}"


def thirds(tries: Iterable[Tries]) -> Thirds | None:
    """The thirds of all sittings together; None where no sitting has six tries alike.

    Each step and support of a sitting is cut into thirds by itself: tries without a model come
    last, and their misses would else look like a tired client. Texts have no order.
    """
    alike: dict[tuple[str, str, Support | None], list[int]] = {}
    for one in tries:
        if one.item:
            alike.setdefault((one.sitting, one.step, one.support), []).append(one.clear)
    rows = [row for row in alike.values() if len(row) >= THIRDS_FROM]
    if not rows:
        return None
    first = [clear for row in rows for clear in row[: len(row) // 3]]
    last = [clear for row in rows for clear in row[-(len(row) // 3) :]]
    return Thirds(Rate(sum(first), len(first)), Rate(sum(last), len(last)))
