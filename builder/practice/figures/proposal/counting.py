"""Which days of practice and which of her sessions count for a step, and whether they reach what is
asked. Pure."""

from __future__ import annotations

import datetime
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Literal, TypeVar

from builder.model.criteria import Criteria, Criterion
from builder.model.program import Level, Support
from builder.practice.figures.intervals import Rate, total
from builder.practice.figures.listeners import Day, days_of
from builder.practice.figures.score import Score
from builder.practice.figures.tries import Tries

A_DAY = datetime.timedelta(days=1)
Schedule = Literal["", "weekly", "monthly"]  # "": as often as the program says

LEAST_TRIES = 20  # of all days together: of 10, 10 clear may still be 72 % (Wilson)
FRESH_DAYS = 14  # as old her score may be, and home's last day of practice
FRESH_MONTHLY = 35  # home's, where practice is once a month
LEAST_TO_TELL = (
    10  # tries of two days: as many as a tablet looks at before it offers what is easier
)
HALF = 50  # per cent; below it pages and sheets ask the family to stop and to call
SCORES_ALONE = 3  # sessions in a row, the last one fresh: her own scores do without home's
LEAST_DAYS_BACK = 2  # whatever the program says, since one bad day moves nothing
WITH_A_MODEL: tuple[Level, ...] = ("isolation", "syllable")
"""Levels at which a try after a model counts; from words up only one without."""


@dataclass(frozen=True)
class Asked:
    """A step and what is known of it. last: no step comes after it; schedule: how often it is
    practiced where all is reached already."""

    step: str
    level: Level
    criteria: Criteria
    last: bool = False
    schedule: Schedule = ""


def counts_for(level: Level, support: Support | None) -> bool:
    """Whether a try speaks for moving on from a step of this level; None: nobody knows which."""
    return level in WITH_A_MODEL or support == "spontaneous"


Session = tuple[datetime.date, Rate]
T = TypeVar("T")


def tries_in(rates: Iterable[Rate]) -> int:
    """All tries together."""
    return sum(rate.tries for rate in rates)


def counted_days(asked: Asked, tries: Iterable[Tries], today: datetime.date) -> list[Day]:
    """The days on which the step was practiced as it counts; none where the last one is long
    past."""
    days = days_of(
        one
        for one in tries
        if one.step == asked.step and counts_for(asked.level, one.support) and one.day <= today
    )
    return days if days and (today - days[-1].date).days <= fresh_days(asked) else []


def fresh_days(asked: Asked) -> int:
    """How many days old home's last day of practice may be."""
    return FRESH_MONTHLY if asked.schedule == "monthly" else FRESH_DAYS


def counted_sessions(asked: Asked, scores: Iterable[Score], today: datetime.date) -> list[Session]:
    """Her scores of the step as they count, oldest first, those of one session together."""
    found: dict[datetime.date, list[Rate]] = {}
    for one in scores:
        if one.step == asked.step and counts_for(asked.level, one.support) and one.date <= today:
            found.setdefault(one.date, []).append(one.rate)
    return [(date, total(rates)) for date, rates in sorted(found.items())]


def last(days: Sequence[T], number: int) -> list[T]:
    """The last ones, so many."""
    return list(days[-number:])


def rates_of(days: Iterable[Day]) -> list[Rate]:
    """The rate of each day."""
    return [one.rate for one in days]


def hard_of(
    asked: Asked, tries: Iterable[Tries], scores: Iterable[Score], today: datetime.date
) -> Rate | None:
    """What was marked on the last two days of practice of a step since her last score, with any
    support, where less than half of it was clear; else None. A reason to talk with the family, who
    is asked to call then (common practice, no source); no proposal rests on it."""
    fresh = today - (FRESH_DAYS - 1) * A_DAY
    begin = max((fresh, *(one.date + A_DAY for one in scores if one.date <= today)))
    late = days_of(one for one in tries if one.step == asked.step and begin <= one.day <= today)
    rates = rates_of(last(late, LEAST_DAYS_BACK))
    if len(rates) < LEAST_DAYS_BACK or tries_in(rates) < LEAST_TO_TELL:
        return None
    both = total(rates)
    return None if both.reaches(HALF) else both


def total_of(days: list[Day]) -> Rate | None:
    """All of these days together; None without any."""
    return total(rates_of(days)) if days else None


def reaches(rates: list[Rate], criterion: Criterion) -> bool:
    """Whether they are as many as is asked for, with tries enough, and each reaches it."""
    enough = len(rates) >= criterion.days and tries_in(rates) >= LEAST_TRIES
    return enough and all(rate.reaches(criterion.percent) for rate in rates)


def falls(rates: list[Rate], criterion: Criterion) -> bool:
    """Whether they are as many as is asked for, with tries enough, and each is below it."""
    enough = len(rates) >= max(criterion.days, LEAST_DAYS_BACK)
    low = not any(rate.reaches(criterion.percent) for rate in rates)
    return enough and low and tries_in(rates) >= LEAST_TRIES
