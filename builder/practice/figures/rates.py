"""Clear-rates of what was tried: by step, support and word, by day, by third of a sitting, and of
what paper counted of several sounds or steps at once. Pure."""

from __future__ import annotations

import datetime
from collections.abc import Callable, Hashable, Iterable, Iterator
from dataclasses import dataclass
from typing import Literal, TypeVar

from builder.model.program import Role, Support
from builder.practice.figures.intervals import Rate, difference, total
from builder.practice.figures.listeners import WORDS, named
from builder.practice.figures.tries import Tries, View
from builder.practice.log.counts import Counted

FAILS_BELOW = 50  # per cent; the usual floor below which one steps back: trade practice, no source
LEAST_OF_A_WORD = 4  # tries, before a word is said to fail; common practice, no source
THIRDS_FROM = 6  # tries alike in a sitting, so that a third has two

Source = Literal["tablet", "paper"]
Key = TypeVar("Key", bound=Hashable)


def by_step(tries: Iterable[Tries]) -> dict[tuple[str, Support | None], Rate]:
    """Clear-rate, clear tries / all tries, of each step with each support really given."""
    return _grouped(tries, lambda one: (one.step, one.support))


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


@dataclass(frozen=True)
class Together:
    """What paper counted of several sounds or steps at once: how much of it was which nobody knows,
    so it is in no rate of one of them. sounds: how many; by_role: of each who listened."""

    rate: Rate
    sounds: int
    by_role: tuple[tuple[str, Rate], ...]

    def told(self, rate: str) -> str:
        """As in "clear 52 of 60 (86.7 %) on paper, both sounds together, by school". rate: how the
        figures are written."""
        what = {1: "several steps", 2: "both sounds"}.get(self.sounds, f"all {self.sounds} sounds")
        return f"clear {rate} on paper, {what} together{self._whose}"

    def __str__(self) -> str:
        return self.told(str(self.rate))

    @property
    def _whose(self) -> str:
        roles = [role for role, _ in self.by_role]
        if len(roles) > 1:
            return f" ({', '.join(f'{named([role])} {rate}' for role, rate in self.by_role)})"
        return "" if roles == ["home"] else f", by {named(roles)}"


def together(counts: Iterable[Counted], view: View) -> Together | None:
    """Of all that was counted, each sitting once (`log.counts`), what does not say its step; None
    where there is none."""
    found = [one for one in counts if one.tries and not one.step]
    if not found:
        return None
    roles: dict[str, list[Rate]] = {}
    for one in found:
        roles.setdefault(one.helper or "home", []).append(Rate(one.clear, one.tries))
    every = [rate for rates in roles.values() for rate in rates]
    sounds = {sound for one in found for sound in sounds_of(one, view)}
    by_role = tuple((role, total(roles[role])) for role in WORDS if role in roles)
    return Together(total(every), max(len(sounds), 1), by_role)


def tries_of_sound(counts: Iterable[Counted], sound: str, view: View) -> int:
    """How many tries of these are surely of a sound, by the plan of their week. sound: the symbol
    of its program."""
    return sum(one.tries for one in counts if set(sounds_of(one, view)) == {sound})


def sounds_of(one: Counted, view: View) -> Iterator[str]:
    """Which sounds it may be of, as symbols of programs; none where its plan is not known."""
    plan = view(one.site, one.plan)
    for program in plan.programs if plan else ():
        if any(s.id == one.step if one.step else s.current for s in program.steps):
            yield program.sound
