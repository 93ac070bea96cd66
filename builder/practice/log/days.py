"""On which days each client practiced, as the log has it, without reading what was practiced."""

from __future__ import annotations

import datetime
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path

from builder.practice.log.file import FILE, connected
from builder.workspace.network_share import is_on_share

# Every client's own stretch of the index (site, start): what is older is not touched.
_SITTINGS = """
    SELECT code, substr(start, 1, 10) FROM client CROSS JOIN sitting USING (site)
    WHERE start >= :since AND (
        EXISTS (SELECT 1 FROM trial WHERE trial.sitting = sitting.id AND mark <> 'not_tried')
        OR EXISTS (SELECT 1 FROM tally WHERE tally.sitting = sitting.id))
"""
_PAPERS = "SELECT code, day FROM client CROSS JOIN paper USING (site) WHERE day >= :since"
_LAST = """
    SELECT code, max(
        coalesce((SELECT substr(max(start), 1, 10) FROM sitting WHERE site = client.site), ''),
        coalesce((SELECT max(day) FROM paper WHERE site = client.site), ''))
    FROM client
"""

_SEEN = """
    SELECT code, max(date) FROM client JOIN
        (SELECT site, date FROM score UNION ALL SELECT site, date FROM visit_note) USING (site)
    GROUP BY code
"""

Day = dict[str, datetime.date]


@dataclass(frozen=True)
class LogDays:
    """Days by client code. practiced: those of late with practice; last: of any record; seen: of
    the last score or note of a visit."""

    practiced: dict[str, frozenset[datetime.date]] = field(default_factory=dict)
    last: Day = field(default_factory=dict)
    seen: Day = field(default_factory=dict)


def log_days(
    folder: Path, since: datetime.date, on_share: Callable[[Path], bool] = is_on_share
) -> LogDays:
    """What the log in the hidden folder `folder` tells of days, of practice from `since` on: on a
    tablet something was tried, or a box on paper was entered. Nothing without a log. Raises
    UsageError as `connected`."""
    if not (folder / FILE).is_file():
        return LogDays()
    with connected(folder, on_share) as sql:
        found: dict[str, set[datetime.date]] = {}
        for query in (_SITTINGS, _PAPERS):
            for code, day in sql.execute(query, {"since": since.isoformat()}):
                found.setdefault(code, set()).add(datetime.date.fromisoformat(day))
        last, seen = (
            {code: datetime.date.fromisoformat(day) for code, day in sql.execute(query) if day}
            for query in (_LAST, _SEEN)
        )
    return LogDays({code: frozenset(days) for code, days in found.items()}, last, seen)
