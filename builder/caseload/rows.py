"""Facts of each client -> one line each, sorted and filtered. Pure: the day is an argument."""

from __future__ import annotations

import datetime
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from builder.caseload.facts import Facts, Written
from builder.model.pause import practice_days

LOOKED_BACK = 14  # days before today of which practice is told
WARNED = 7  # days before the boxes of a sheet run out
READY = "ready to be shown"  # home has reached what is asked, and she has not heard it
MOST_DAYS = 26 * 7  # that a sheet has boxes for (MOST_WEEKS in make/sheet/week.py)


@dataclass(frozen=True)
class Practiced:
    """The last two weeks: planned days, how many of them were practiced, and other days that
    were."""

    planned: int
    on: int
    more: int

    def __str__(self) -> str:
        told = f"{self.on} of {self.planned} day{'' if self.planned == 1 else 's'}"
        return f"{told} + {self.more}" if self.more else told


@dataclass(frozen=True)
class Row:
    """A client's line. since: when the step was last tried with the therapist, or practice of it
    began; last, next: visits; practiced: None where no record tells; visit: as it is written, also
    one that is past."""

    facts: Facts
    since: datetime.date | None
    last: datetime.date | None
    next: datetime.date | None
    practiced: Practiced | None
    waits: tuple[str, ...]

    @property
    def code(self) -> str:
        """The client's code."""
        return self.facts.written.code

    @property
    def visit(self) -> datetime.date | None:
        """The visit that is written, be it past or to come."""
        return self.facts.written.visit


def rows(everyone: Iterable[Facts], today: datetime.date) -> tuple[Row, ...]:
    """A line for each client, by the visit that is written: past ones first, none last."""
    return tuple(sorted((row_of(one, today) for one in everyone), key=_order))


def chosen(
    found: Iterable[Row],
    today: datetime.date,
    due: int | None = None,
    sound: str = "",
    waits: bool = False,
) -> tuple[Row, ...]:
    """The lines of clients whose visit is in at most `due` days, who practice `sound` (as in
    "k"), for whom something waits; each filter only where it is given."""
    return tuple(
        row
        for row in found
        if (due is None or _is_due(row, today, due))
        and (not sound or sound in row.facts.written.sounds)
        and (not waits or row.waits)
    )


def friday_of(today: datetime.date) -> datetime.date:
    """The Friday of this week; on a weekend, that of the week to come."""
    return today + datetime.timedelta((4 - today.weekday()) % 7)


def due_until(found: Iterable[Row], today: datetime.date, until: datetime.date) -> tuple[Row, ...]:
    """The lines of clients who come, or whose practice begins, from today up to that day."""

    def due(row: Row) -> bool:
        dates = (row.visit, row.facts.written.start)
        return any(today <= day <= until for day in dates if day)

    return tuple(row for row in found if due(row))


def row_of(facts: Facts, today: datetime.date) -> Row:
    """The line of one client."""
    written = facts.written
    visit, practiced = written.visit, _practiced(facts, today)
    return Row(
        facts,
        _not_after(today, written.seen) or _not_after(today, written.start),
        _last(facts, today),
        visit if visit and visit >= today else None,
        practiced if facts.practiced else None,
        tuple(_waits(facts, practiced, today)),
    )


def _order(row: Row) -> tuple[datetime.date, str]:
    return row.visit or datetime.date.max, row.code


def _is_due(row: Row, today: datetime.date, days: int) -> bool:
    return row.next is not None and (row.next - today).days <= days


def _not_after(today: datetime.date, day: datetime.date | None) -> datetime.date | None:
    return day if day and day <= today else None


def _last(facts: Facts, today: datetime.date) -> datetime.date | None:
    """The last visit that is known to have been: that of the baseline, or of a score in the log. A
    planned visit that is past may not have taken place."""
    known = (_not_after(today, day) for day in (facts.written.seen, facts.scored))
    return max(filter(None, known), default=None)


def _practiced(facts: Facts, today: datetime.date) -> Practiced:
    written = facts.written
    begin = today - datetime.timedelta(LOOKED_BACK)
    done = {day for day in facts.practiced if begin <= day < today}
    # Each visit writes a new first day: who practiced before it did so by the former sheet.
    start = max(begin, min({written.start, *done})) if written.start else begin
    end = min(today, written.visit) if written.visit else today
    planned = set(practice_days(start, end, written.weekdays, written.pauses))
    return Practiced(len(planned), len(planned & done), len(done - planned))


def _waits(facts: Facts, practiced: Practiced, today: datetime.date) -> Iterator[str]:
    """What somebody must do, the most pressing first."""
    written = facts.written
    if written.trouble:
        yield "cannot be read"
    if written.blanks:
        yield _several(written.blanks, "fill-in")
    if written.visit and written.visit < today:
        yield "visit past"
    elif not written.visit and not written.trouble:
        yield "no visit"
    if any(one.ready for one in facts.proposals):
        yield READY
    if _run_out(written, today):
        yield "dates run out"
    if facts.sheet and not written.trouble:
        yield facts.sheet
    if written.asked and facts.site and practiced.planned and not facts.practiced:
        yield "record missing"
    if written.bare:
        yield f"{_several(len(written.bare), 'picture')} missing"
    if facts.unspoken:
        yield f"{_several(facts.unspoken, 'recording')} missing"


def _run_out(written: Written, today: datetime.date) -> bool:
    """Whether the sheet has no boxes left, or soon, though the visit is later."""
    if not written.start or not written.visit:
        return False
    end = written.start + datetime.timedelta(MOST_DAYS)
    return end < written.visit and end <= today + datetime.timedelta(WARNED)


def _several(number: int, what: str) -> str:
    return f"{number} {what}{'' if number == 1 else 's'}"
