"""The last days of a client in the log, the newest first, read no further back than is asked for:
a proposal needs a few of them, and a caseload has a thousand clients."""

from __future__ import annotations

import datetime
import sqlite3
from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import groupby
from typing import Literal

from builder.model.program import Role, Support
from builder.model.record import is_try
from builder.practice.log.counts import Counted, only_on_paper
from builder.practice.log.paper import PaperCount

# Trials that are alike in all that a figure asks of them are one row; then texts, one row each.
_COUNTED = """
    SELECT step, support, mark, round, chosen, repeat, count(*), NULL FROM trial
    WHERE sitting = :sitting GROUP BY step, support, mark, round, chosen, repeat
    UNION ALL SELECT step, 'spontaneous', '', '', NULL, NULL, targets, slipped FROM tally
    WHERE sitting = :sitting AND targets > 0 AND slipped IS NOT NULL
"""


@dataclass(frozen=True)
class Sum:
    """Tries of a step on one day with one support and listener; None and "" on paper, which does
    not say the one, and the other not always."""

    step: str
    support: Support | None
    helper: Role | Literal[""]
    clear: int
    tries: int


Key = tuple[str, Support | None, Role | Literal[""]]
Boxes = dict[datetime.date, list[PaperCount]]


def late_days(
    sql: sqlite3.Connection, site: str, first: datetime.date, last: datetime.date
) -> Iterator[tuple[datetime.date, tuple[Sum, ...]]]:
    """Each day from `last` back to `first` on which something was counted, and its sums; what is
    older is not touched before it is asked for. A count on paper that is of a sitting which a
    tablet counted too is that sitting, as in `counts`."""
    boxes = _boxes(sql, site, first, last)
    for day, sittings in _sittings(sql, site, first, last):
        for other in [one for one in boxes if one > day]:
            yield other, _told({}, boxes.pop(other), [])
        sums: dict[Key, list[int]] = defaultdict(lambda: [0, 0])
        taken = [one for one in sittings if _add(sql, one, sums)]
        yield day, _told(sums, boxes.pop(day, []), taken)
    for other, left in boxes.items():
        yield other, _told({}, left, [])


def _sittings(
    sql: sqlite3.Connection, site: str, first: datetime.date, last: datetime.date
) -> Iterator[tuple[datetime.date, list[Counted]]]:
    """The sittings of each day, without their counts, the newest day first."""
    rows = sql.execute(
        "SELECT id, time, helper, substr(start, 1, 10) FROM sitting "
        "WHERE site = ? AND start >= ? AND start < ? ORDER BY start DESC",
        (site, first.isoformat(), (last + datetime.timedelta(days=1)).isoformat()),
    )
    for day, found in groupby(rows, key=lambda row: str(row[3])):
        date = datetime.date.fromisoformat(day)
        yield (
            date,
            [
                Counted(site, date, time, "tablet", helper, id_, "", "", 0, 0)
                for id_, time, helper, _ in found
            ],
        )


def _add(sql: sqlite3.Connection, sitting: Counted, sums: dict[Key, list[int]]) -> bool:
    """Add what was tried in a sitting; whether anything was."""
    counted = False
    for step, support, mark, round_, chosen, repeat, number, slipped in sql.execute(
        _COUNTED, {"sitting": sitting.sitting}
    ):
        if slipped is not None:
            clear = number - slipped
        elif is_try(mark, round_, chosen, repeat):
            clear = number if mark == "clear" else 0
        else:
            continue
        _plus(sums[step, support, sitting.helper], clear, number)
        counted = True
    return counted


def _boxes(sql: sqlite3.Connection, site: str, first: datetime.date, last: datetime.date) -> Boxes:
    """The boxes of paper in which something was counted, the newest day first."""
    found: Boxes = {}
    for text, time, step, clear, tries, helper in sql.execute(
        "SELECT day, time, step, clear, tries, helper FROM paper "
        "WHERE site = ? AND day BETWEEN ? AND ? AND tries > 0 ORDER BY day DESC",
        (site, first.isoformat(), last.isoformat()),
    ):
        day = datetime.date.fromisoformat(text)
        box = PaperCount(site, day, time, "", step, clear, tries, helper)
        found.setdefault(day, []).append(box)
    return found


def _told(
    sums: Mapping[Key, list[int]], boxes: list[PaperCount], taken: list[Counted]
) -> tuple[Sum, ...]:
    """The sums of a day, with those of its boxes of paper that tell of one step."""
    on_paper: dict[Key, list[int]] = defaultdict(lambda: [0, 0])
    for box in only_on_paper(boxes, taken) if boxes else ():
        if box.step:
            _plus(on_paper[box.step, None, box.helper], box.clear, box.tries)
    every = (*sums.items(), *on_paper.items())
    return tuple(Sum(*key, *counts) for key, counts in every)


def _plus(to: list[int], clear: int, tries: int) -> None:
    to[0] += clear
    to[1] += tries
