"""On which days clients practiced and had sessions, as the log has it, without reading what was
practiced."""

from __future__ import annotations

import datetime
import sqlite3
from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Literal

_PRACTICED = """(
    EXISTS (SELECT 1 FROM trial WHERE trial.sitting = sitting.id AND mark <> 'not_tried')
    OR EXISTS (SELECT 1 FROM tally WHERE tally.sitting = sitting.id)
)"""
# Every client's own stretch of the index (site, start): what is older is not touched.
_SITTINGS = f"""
    SELECT code, substr(start, 1, 10) FROM client CROSS JOIN sitting USING (site)
    WHERE start >= :since AND {_PRACTICED}
"""
_FIRST_SITTING = f"""
    SELECT substr(start, 1, 10) FROM sitting WHERE site = :site AND start >= :first AND {_PRACTICED}
    ORDER BY start LIMIT 1
"""
_PAPERS = "SELECT code, day FROM client CROSS JOIN paper USING (site) WHERE day >= :since"
_LAST = """
    SELECT code, max(
        coalesce((SELECT substr(max(start), 1, 10) FROM sitting WHERE site = client.site), ''),
        coalesce((SELECT max(day) FROM paper WHERE site = client.site), ''))
    FROM client
"""
# Whoever hands over a record hands over all of it, so the newest sitting came last.
_CAME = """
    SELECT max(
        coalesce((SELECT received FROM sitting WHERE site = :site ORDER BY start DESC LIMIT 1), ''),
        coalesce((SELECT entered FROM paper WHERE site = :site ORDER BY day DESC LIMIT 1), ''))
"""
_SESSIONS = """
    SELECT code, date FROM client CROSS JOIN score USING (site) WHERE date >= :since
    UNION SELECT code, date FROM client CROSS JOIN visit_note USING (site) WHERE date >= :since
"""
_HARD = """
    SELECT code, substr(start, 1, 10) FROM client CROSS JOIN sitting USING (site)
    WHERE start >= :since AND "end" = 'hard'
"""
_SEEN = """
    SELECT code, max(date) FROM client JOIN
        (SELECT site, date FROM score UNION ALL SELECT site, date FROM visit_note) USING (site)
    GROUP BY code
"""

Day = dict[str, datetime.date]
Days = dict[str, frozenset[datetime.date]]


@dataclass(frozen=True)
class LogDays:
    """Days by client code. practiced, sessions: those of late with practice, and with a score or a
    note of a visit; last: of any record; seen: of the last session; came: on which the last record
    came; hard: those of late on which a sitting ended as too hard."""

    practiced: Days = field(default_factory=dict)
    sessions: Days = field(default_factory=dict)
    last: Day = field(default_factory=dict)
    seen: Day = field(default_factory=dict)
    came: Day = field(default_factory=dict)
    hard: Days = field(default_factory=dict)


def log_days(sql: sqlite3.Connection, since: datetime.date) -> LogDays:
    """What the log tells of days, of practice and sessions from `since` on: on a tablet something
    was tried, or a box on paper was entered."""
    bound = {"since": since.isoformat()}
    last, seen = (
        {code: datetime.date.fromisoformat(day) for code, day in sql.execute(query) if day}
        for query in (_LAST, _SEEN)
    )
    practiced = _by_code((*sql.execute(_SITTINGS, bound), *sql.execute(_PAPERS, bound)))
    clients = sql.execute("SELECT code, site FROM client").fetchall()
    came = {code: day for code, site in clients if (day := last_came(sql, site))}
    sessions, hard = (_by_code(sql.execute(query, bound)) for query in (_SESSIONS, _HARD))
    return LogDays(practiced, sessions, last, seen, came, hard)


def last_came(sql: sqlite3.Connection, site: str) -> datetime.date | None:
    """The day on which the last record of a site came, from a tablet or paper."""
    (day,) = sql.execute(_CAME, {"site": site}).fetchone()
    return datetime.date.fromisoformat(day) if day else None


def _by_code(rows: Iterable[tuple[str, str]]) -> Days:
    found: dict[str, set[datetime.date]] = {}
    for code, day in rows:
        found.setdefault(code, set()).add(datetime.date.fromisoformat(day))
    return {code: frozenset(days) for code, days in found.items()}


def first_practice(
    sql: sqlite3.Connection, site: str, after: datetime.date | None = None
) -> datetime.date | None:
    """The first day of practice of a site, or the first one after a day."""
    first = (after + datetime.timedelta(days=1)).isoformat() if after else ""
    days = [
        *sql.execute(_FIRST_SITTING, {"site": site, "first": first}),
        *sql.execute("SELECT min(day) FROM paper WHERE site = ? AND day >= ?", (site, first)),
    ]
    return min((datetime.date.fromisoformat(day) for (day,) in days if day), default=None)


def session_before(sql: sqlite3.Connection, site: str, day: datetime.date) -> datetime.date | None:
    """The last session of a site before a day that left a score or a note."""
    return _session(sql, site, "max", day.isoformat())


def first_session(sql: sqlite3.Connection, site: str) -> datetime.date | None:
    """The first session of a site that left a score or a note."""
    return _session(sql, site, "min", datetime.date.max.isoformat())


def _session(
    sql: sqlite3.Connection, site: str, which: Literal["min", "max"], before: str
) -> datetime.date | None:
    of = "WHERE site = :site AND date < :before"
    (day,) = sql.execute(
        f"SELECT {which}(day) FROM (SELECT {which}(date) AS day FROM score {of} "
        f"UNION ALL SELECT {which}(date) FROM visit_note {of})",
        {"site": site, "before": before},
    ).fetchone()
    return datetime.date.fromisoformat(day) if day else None
