"""The days on which planned days depend, of many clients, from no more of the log than it takes."""

from __future__ import annotations

import datetime
import sqlite3
from collections.abc import Mapping
from dataclasses import replace

from builder.practice.figures.planned import Timetable, ends, last_session
from builder.practice.log.days import (
    LogDays,
    first_practice,
    first_session,
    log_days,
    session_before,
)

NONE = frozenset[datetime.date]()


def days_lately(
    sql: sqlite3.Connection, of: Mapping[str, Timetable], since: datetime.date
) -> LogDays:
    """The days of practice and of sessions from `since` on, and those of the earlier ones that
    `planned_days` asks for, of the clients `of` by code."""
    found = log_days(sql, since)
    practiced, sessions = {**found.practiced}, {**found.sessions}
    for code, site in sql.execute("SELECT code, site FROM client").fetchall():
        days = of.get(code)
        if days is None or (days.start and days.start <= since):
            continue  # all that is planned since then is of the sheet as it is
        seen = session_before(sql, site, days.start) if days.start else None
        sessions[code] = sessions.get(code, NONE) | _days(first_session(sql, site), seen)
        before = last_session(days, sessions[code])
        again = first_practice(sql, site, before) if before else None
        after = (first_practice(sql, site, day) for day, end in ends(days) if end > since)
        begun = _days(first_practice(sql, site), again, *after)
        practiced[code] = practiced.get(code, NONE) | begun
    return replace(found, practiced=practiced, sessions=sessions)


def _days(*days: datetime.date | None) -> frozenset[datetime.date]:
    return frozenset(day for day in days if day)
