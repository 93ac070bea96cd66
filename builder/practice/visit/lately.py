"""The last days of a client in the log, the newest first, read no further back than is asked for:
a proposal needs a few of them, and a caseload has a thousand clients."""

from __future__ import annotations

import datetime
import sqlite3
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass

from builder.model.program import Support
from builder.model.record import is_try

# Trials that are alike in all that a figure asks of them are one row.
_ALIKE = """
    SELECT step, support, mark, round, chosen, repeat, count(*) FROM trial WHERE sitting = ?
    GROUP BY step, support, mark, round, chosen, repeat
"""


@dataclass(frozen=True)
class Sum:
    """Tries of a step on one day with one support; None on paper, which does not say it."""

    step: str
    support: Support | None
    clear: int
    tries: int


Key = tuple[str, Support | None]


def late_days(
    sql: sqlite3.Connection, site: str, first: datetime.date, last: datetime.date
) -> Iterator[tuple[datetime.date, tuple[Sum, ...]]]:
    """Each day from `last` back to `first` on which something was counted, and its sums; what is
    older is not touched before it is asked for. A count on paper of a sitting that a tablet counted
    too is that sitting, as in `counts`."""
    papers = _papers(sql, site, first, last)
    for day, sittings in _sittings(sql, site, first, last):
        yield from _paper_days(papers, after=day)
        sums: dict[Key, list[int]] = defaultdict(lambda: [0, 0])
        times = {time for id_, time in sittings if _add(sql, id_, sums)}
        for time, step, clear, tries in papers.pop(day, []):
            if time not in times:
                _plus(sums[step, None], clear, tries)
        yield day, _told(sums)
    yield from _paper_days(papers, after=datetime.date.min)


def _sittings(
    sql: sqlite3.Connection, site: str, first: datetime.date, last: datetime.date
) -> Iterator[tuple[datetime.date, list[tuple[str, str]]]]:
    """(id, time) of the sittings of each day, the newest day first."""
    rows = sql.execute(
        "SELECT id, time, substr(start, 1, 10) AS day FROM sitting "
        "WHERE site = ? AND start >= ? AND start < ? ORDER BY start DESC",
        (site, first.isoformat(), (last + datetime.timedelta(days=1)).isoformat()),
    )
    now, found = "", list[tuple[str, str]]()
    for id_, time, day in rows:
        if day != now and found:
            yield datetime.date.fromisoformat(now), found
            found = []
        now = day
        found.append((id_, time))
    if found:
        yield datetime.date.fromisoformat(now), found


def _add(sql: sqlite3.Connection, sitting: str, sums: dict[Key, list[int]]) -> bool:
    """Add what was tried in a sitting; whether anything was."""
    counted = False
    for step, support, mark, round_, chosen, repeat, number in sql.execute(_ALIKE, (sitting,)):
        if is_try(mark, round_, chosen, repeat):
            _plus(sums[step, support], number if mark == "clear" else 0, number)
            counted = True
    for step, targets, slipped in sql.execute(
        "SELECT step, targets, slipped FROM tally WHERE sitting = ? AND targets > 0 "
        "AND slipped IS NOT NULL",
        (sitting,),
    ):
        _plus(sums[step, "spontaneous"], targets - slipped, targets)
        counted = True
    return counted


Paper = tuple[str, str, int, int]


def _papers(
    sql: sqlite3.Connection, site: str, first: datetime.date, last: datetime.date
) -> dict[datetime.date, list[Paper]]:
    """(time, step, clear, tries) of the boxes in which one step was counted, newest day first."""
    found: dict[datetime.date, list[Paper]] = {}
    for day, *box in sql.execute(
        "SELECT day, time, step, clear, tries FROM paper WHERE site = ? AND day BETWEEN ? AND ? "
        "AND tries > 0 AND step <> '' ORDER BY day DESC",
        (site, first.isoformat(), last.isoformat()),
    ):
        time, step, clear, tries = box
        found.setdefault(datetime.date.fromisoformat(day), []).append((time, step, clear, tries))
    return found


def _paper_days(
    papers: dict[datetime.date, list[Paper]], after: datetime.date
) -> Iterator[tuple[datetime.date, tuple[Sum, ...]]]:
    """Take out the days after `after`, on which no tablet counted."""
    for day in [one for one in papers if one > after]:
        sums: dict[Key, list[int]] = defaultdict(lambda: [0, 0])
        for _, step, clear, tries in papers.pop(day):
            _plus(sums[step, None], clear, tries)
        yield day, _told(sums)


def _plus(to: list[int], clear: int, tries: int) -> None:
    to[0] += clear
    to[1] += tries


def _told(sums: dict[Key, list[int]]) -> tuple[Sum, ...]:
    return tuple(Sum(step, support, *counts) for (step, support), counts in sums.items())
