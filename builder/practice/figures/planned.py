"""Which days were planned for practice: one rule, the same in every command. Pure.

A planned day is a day of the week that the client's programs name, outside pauses, from `from` on
up to the day before the visit that is written. The day of a session is none, since it has no box on
the sheet. What nobody has told yet is not planned either: days count up to the one on which the
last record came, and that one, or today, as soon as something came of it.

A visit writes a new `from`, and what was planned before it is not kept. So earlier days count by
the programs as they are now, beginning with the first practice that is known, where none is with
the day after the first session. Between the last session before `from` and `from` itself, where the
former sheet was over, they count only from a practice there on: then a session left no trace. So it
is between a visit that was written, be it that nobody came, and the `from` after it; its own day
never counts.
"""

from __future__ import annotations

import datetime
from collections.abc import Collection, Iterable
from dataclasses import dataclass, replace

from builder.model.clinic import DAYS
from builder.model.pause import Pause, first_practice_day, practice_days
from builder.model.program import Program
from builder.practice.figures.client_log import ClientLog
from builder.practice.figures.practiced import practice_dates
from builder.practice.former_sheets import FormerSheet

A_DAY = datetime.timedelta(days=1)


@dataclass(frozen=True, kw_only=True)
class Timetable:
    """What a client's programs say of days, as their sheet takes it. weekdays: Monday is 0; pauses:
    the clinic's and the client's; start, visit: the earliest of each, the start moved on to a day
    of practice; baselines: days of sessions that the programs tell; over: sheets of before."""

    weekdays: frozenset[int]
    pauses: tuple[Pause, ...] = ()
    start: datetime.date | None = None
    visit: datetime.date | None = None
    baselines: frozenset[datetime.date] = frozenset()
    over: frozenset[FormerSheet] = frozenset()


def timetable(programs: Iterable[Program], pauses: Iterable[Pause]) -> Timetable:
    """That of one client. pauses: the clinic's and the client's."""
    every = tuple(programs)
    written = [one.written for one in every]
    weekdays, off = frozenset(DAYS.index(day) for one in every for day in one.days), tuple(pauses)
    start = min((day for one in written if (day := one.practice.start)), default=None)
    visit = min((day for one in written if (day := one.practice.visit)), default=None)
    return Timetable(
        weekdays=weekdays,
        pauses=off,
        start=first_practice_day(start, visit, weekdays, off) if start else None,
        visit=visit,
        baselines=frozenset(one.baseline.date for one in written if one.baseline),
    )


def planned_days(
    of: Timetable,
    practiced: Collection[datetime.date],
    sessions: Collection[datetime.date],
    first: datetime.date,
    today: datetime.date,
    came: datetime.date | None = None,
) -> tuple[datetime.date, ...]:
    """The planned days from `first` on up to today, in their order; up to `came`, where that is
    known: the day of the last record.

    practiced: days of practice; of those before `first` the earliest ever counts, and the earliest
    after the last session before `from`. sessions: days of sessions in the log; of those before
    `first` the first one counts, and the last one before `from`. Of days between a former sheet and
    the next one the earliest counts.
    """
    seen = {*sessions, *of.baselines}
    begun = min(practiced, default=None) or min((day + A_DAY for day in seen), default=None)
    begin = min((day for day in (begun, of.start) if day), default=None)
    if begin is None:
        return ()
    between = [
        (visit, min((end, *(day for day in practiced if day > visit)))) for visit, end in ends(of)
    ]
    if (before := last_session(of, sessions)) and of.start:
        again = min((of.start, *(day for day in practiced if day > before)))
        between.append((before, again))
    told = min(today, max((came, *practiced))) if came else today
    end = told + A_DAY if told in practiced else told
    if of.visit:
        end = min(end, of.visit)
    return tuple(
        day
        for day in practice_days(max(first, begin), end, of.weekdays, of.pauses)
        if day not in seen and not any(last <= day < again for last, again in between)
    )


def ends(of: Timetable) -> list[tuple[datetime.date, datetime.date]]:
    """Of each former sheet the visit that was written for it, and the first day of the next one."""
    if not of.start:
        return []
    nexts = ((sheet.visit, min(sheet.next or of.start, of.start)) for sheet in of.over)
    return sorted((visit, begin) for visit, begin in nexts if visit < begin)


def last_session(of: Timetable, sessions: Iterable[datetime.date]) -> datetime.date | None:
    """The last session before `from`; None where none is known, or no `from`."""
    seen = (*sessions, *of.baselines)
    return max((day for day in seen if of.start and day < of.start), default=None)


def planned_by_log(
    of: Timetable, log: ClientLog, first: datetime.date, today: datetime.date
) -> tuple[datetime.date, ...]:
    """The same by all that the log holds."""
    practiced = practice_dates(log.sittings, log.papers)
    known = replace(of, over=log.over)
    return planned_days(known, practiced, sessions_of(log), first, today, log.came)


def sessions_of(log: ClientLog) -> frozenset[datetime.date]:
    """The days of sessions that left a score or a note."""
    scores = {one.date for one in log.visit_scores}
    return frozenset(scores | {one.date for one in log.visit_notes})
