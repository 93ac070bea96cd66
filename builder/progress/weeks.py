"""What was practiced when, a week at a time. Pure."""

from __future__ import annotations

import datetime
from collections import Counter
from collections.abc import Collection, Iterator
from dataclasses import dataclass

from builder.practice.figures.client_log import ClientLog
from builder.practice.figures.practiced import (
    Days,
    Dose,
    days_practiced,
    dose,
    was_practice,
)
from builder.practice.log.counts import only_on_paper
from builder.text.several import several

A_DAY, A_WEEK = datetime.timedelta(days=1), datetime.timedelta(days=7)


@dataclass(frozen=True)
class Week:
    """A week from Monday on (ISO 8601). sittings: with anything tried, or a box on paper; tries: as
    in a dose; untold: it began after the last record came."""

    monday: datetime.date
    days: Days
    sittings: int
    tries: int
    untold: bool = False

    def __str__(self) -> str:
        """As in "week of 2026-12-07: 4 of 5 days, 8 sittings, 190 tries"."""
        return f"week of {self.monday}: {self.told}"

    @property
    def told(self) -> str:
        """What follows the week's name. A week without a record says just that: it does not tell
        that nothing was practiced."""
        days, planned = self.days, self.days.planned
        if self.untold and not self.sittings:
            return "no record yet"
        if not self.sittings:
            return f"no record; {several(planned, 'day')} planned" if planned else "none planned"
        practiced = f"{days.practiced} of {several(planned, 'day')}"
        more = f" and {days.besides} more" if days.besides else ""
        if not planned:
            practiced, more = f"{several(days.besides, 'day')}, none planned", ""
        sittings = several(self.sittings, "sitting")
        return f"{practiced}{more}, {sittings}, {several(self.tries, 'try', 'tries')}"


@dataclass(frozen=True)
class Practice:
    """All weeks, and what they come to."""

    weeks: tuple[Week, ...]
    days: Days
    dose: Dose


def practice_of(
    log: ClientLog, planned: Collection[datetime.date], first: datetime.date, last: datetime.date
) -> Practice:
    """The weeks from that of `first` to that of `last`, both days included."""
    every = log.between(first, last)
    within = [day for day in planned if first <= day <= last]
    weeks = list(_weeks(every, within, first, last))
    if len(weeks) > 1 and not (weeks[-1].sittings or weeks[-1].days.planned):
        weeks.pop()  # it has only begun
    return Practice(
        tuple(weeks),
        days_practiced(every.sittings, every.papers, within),
        dose(every.counts, every.sittings, every.papers),
    )


def _weeks(
    log: ClientLog, planned: Collection[datetime.date], first: datetime.date, last: datetime.date
) -> Iterator[Week]:
    tries = Counter[datetime.date]()
    for one in log.counts:
        tries[monday_of(one.day)] += one.tries
    monday = monday_of(first)
    while monday <= last:
        week = log.between(monday, monday + 6 * A_DAY)
        days = [day for day in planned if monday_of(day) == monday]
        done = days_practiced(week.sittings, week.papers, days)
        untold = bool(log.came and monday > log.came)
        yield Week(monday, done, _sittings(week), tries[monday], untold)
        monday += A_WEEK


def _sittings(log: ClientLog) -> int:
    """Each sitting once: a box on paper of one that a tablet has is that one."""
    on_tablets = [one for one in log.sittings if was_practice(one)]
    return len(on_tablets) + len(only_on_paper(log.papers, on_tablets))


def monday_of(day: datetime.date) -> datetime.date:
    """The Monday of its week."""
    return day - datetime.timedelta(days=day.weekday())
