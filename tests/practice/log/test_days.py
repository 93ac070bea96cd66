"""Days of practice as the log has them."""

from __future__ import annotations

import datetime
from pathlib import Path

from builder.practice.log.days import log_days
from builder.practice.log.file import connected
from builder.practice.log.rows import Log
from tests.support.from_home import CODE, SITE, sitting


def test_days_on_which_a_sitting_ended_as_too_hard(tmp_path: Path) -> None:
    ends = {"2026-12-07": "hard", "2026-12-08": "done", "2026-12-09": "hard", "2026-12-10": ""}
    with connected(tmp_path, lambda _: False) as sql:
        log = Log(sql)
        with log.writing():
            log.add_client(SITE, CODE)
            for number, (day, end) in enumerate(ends.items()):
                start = f"{day}T23:15:04-06:00"
                log.put(sitting(1, id=f"{number:032x}", start=start, end=end), "2026-12-11")
        found = log_days(sql, datetime.date(2026, 12, 8))
    assert found.hard == {CODE: frozenset([datetime.date(2026, 12, 9)])}
