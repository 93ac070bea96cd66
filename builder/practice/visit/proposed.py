"""What the log speaks for of many clients at once, from no more of it than that needs."""

from __future__ import annotations

import datetime
import sqlite3
from collections.abc import Mapping

from builder.practice.figures.proposal.counting import (
    FRESH_DAYS,
    FRESH_MONTHLY,
    LEAST_DAYS_BACK,
    Asked,
    counts_for,
)
from builder.practice.figures.proposal.move import Proposal, propose
from builder.practice.figures.score import Score
from builder.practice.figures.tries import Tries
from builder.practice.visit.lately import late_days

LOOKED_BACK = datetime.timedelta(days=182)  # as long as a sheet may be; what is older is forgotten


def proposals(
    sql: sqlite3.Connection, asked: Mapping[str, tuple[Asked, ...]], today: datetime.date
) -> dict[str, tuple[Proposal, ...]]:
    """By code, of the clients who are in the log: a proposal for each step that is asked of. It is
    that of `propose` from all tries and scores of half a year."""
    sites = dict(sql.execute("SELECT code, site FROM client"))
    scores = _scores(sql, today)
    return {
        code: _of_client(sql, sites[code], steps, scores.get(sites[code], []), today)
        for code, steps in asked.items()
        if code in sites
    }


def _of_client(
    sql: sqlite3.Connection,
    site: str,
    asked: tuple[Asked, ...],
    scores: list[Score],
    today: datetime.date,
) -> tuple[Proposal, ...]:
    tries = _tries(sql, site, asked, today)
    return tuple(propose(one, tries, scores, today) for one in asked)


def _tries(
    sql: sqlite3.Connection, site: str, asked: tuple[Asked, ...], today: datetime.date
) -> list[Tries]:
    """Of late, until there are days enough for each step, or none that is fresh."""
    found: list[Tries] = []
    lacking = {one.step: _days_needed(one) for one in asked}
    levels = {one.step: one.level for one in asked}
    fresh = max((_fresh(one) for one in asked), default=0)
    seen: set[str] = set()
    for day, sums in late_days(sql, site, today - LOOKED_BACK, today):
        late = [one for one in sums if lacking.get(one.step)]
        for one in late:
            counts = (one.clear, one.tries, one.helper)
            found.append(Tries(day, "", one.step, None, one.support, "", *counts))
        counted = {one.step for one in late if counts_for(levels[one.step], one.support)}
        seen |= counted
        for step in counted:
            lacking[step] -= 1
        if (today - day).days >= fresh:  # what was not practiced since then speaks for nothing
            lacking = {step: n for step, n in lacking.items() if step in seen}
        if not any(lacking.values()):
            break
    return found


def _days_needed(one: Asked) -> int:
    return max(one.criteria.advance.days, one.criteria.step_back.days, LEAST_DAYS_BACK)


def _fresh(one: Asked) -> int:
    return FRESH_MONTHLY if one.schedule == "monthly" else FRESH_DAYS


def _scores(sql: sqlite3.Connection, today: datetime.date) -> dict[str, list[Score]]:
    """Of every site."""
    found: dict[str, list[Score]] = {}
    rows = sql.execute(
        'SELECT site, date, step, support, correct, "of", probe FROM score WHERE date >= ? '
        "ORDER BY date",
        ((today - LOOKED_BACK).isoformat(),),
    )
    for site, date, step, support, correct, of, probe in rows:
        day = datetime.date.fromisoformat(date)
        score = Score(day, step, support, correct, of, bool(probe))
        found.setdefault(site, []).append(score)
    return found
