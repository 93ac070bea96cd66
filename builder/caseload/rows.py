"""Facts of each client -> one line each, sorted and filtered. Pure: the day is an argument."""

from __future__ import annotations

import datetime
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from builder.caseload.facts import OF_SHEETS, Facts, Written
from builder.practice.figures.planned import Timetable, planned_days
from builder.practice.figures.practiced import Days, days_among
from builder.practice.figures.proposal.counting import LEAST_DAYS_BACK
from builder.text.several import several

LOOKED_BACK = 14  # days before today of which practice is told, and today's
WARNED = 7  # days before the boxes of a sheet run out
HARD = "hard at home"  # a reason to talk, no proposal
READY = "ready to be shown"  # home has reached what is asked, and she has not heard it
MOST_DAYS = 26 * 7  # that a sheet has boxes for (MOST_WEEKS in make/sheet/week.py)


@dataclass(frozen=True)
class Row:
    """A client's line. since: when the step was tried with the therapist, or practice of it began;
    last, next: visits; practiced: the last two weeks, None where no record tells."""

    facts: Facts
    since: datetime.date | None
    last: datetime.date | None
    next: datetime.date | None
    practiced: Days | None
    waits: tuple[str, ...]

    @property
    def code(self) -> str:
        """The client's code."""
        return self.facts.written.code

    @property
    def visit(self) -> datetime.date | None:
        """The visit that is written, be it past or to come."""
        return self.facts.written.days.visit


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
        dates = (row.visit, row.facts.written.days.start)
        return any(today <= day <= until for day in dates if day)

    return tuple(row for row in found if due(row))


def is_past(row: Row, today: datetime.date) -> bool:
    """Whether the visit that is written is over, so that no sheet is made."""
    return row.visit is not None and row.visit < today


def short(day: datetime.date, today: datetime.date) -> str:
    """As in "Dec 7"; with its year where that is not this one."""
    return f"{day:%b} {day.day}" + ("" if day.year == today.year else f", {day.year}")


def row_of(facts: Facts, today: datetime.date) -> Row:
    """The line of one client."""
    written = facts.written
    visit, practiced = written.days.visit, _practiced(facts, today)
    return Row(
        facts,
        _since(written, today),
        _last(facts, today),
        visit if visit and visit >= today else None,
        practiced if practiced.practiced or practiced.besides else None,
        tuple(_waits(facts, practiced, today)),
    )


def _order(row: Row) -> tuple[datetime.date, str]:
    return row.visit or datetime.date.max, row.code


def _is_due(row: Row, today: datetime.date, days: int) -> bool:
    return row.next is not None and (row.next - today).days <= days


def _not_after(today: datetime.date, day: datetime.date | None) -> datetime.date | None:
    return day if day and day <= today else None


def _since(written: Written, today: datetime.date) -> datetime.date | None:
    """A baseline of another step is taken out when a visit moves on."""
    known = (written.seen, written.since, written.days.start)
    return next(filter(None, (_not_after(today, day) for day in known)), None)


def _last(facts: Facts, today: datetime.date) -> datetime.date | None:
    """The last visit that is known to have been: that of the baseline, or of a score or a note in
    the log. A planned visit that is past may not have taken place."""
    known = (_not_after(today, day) for day in (facts.written.seen, facts.scored))
    return max(filter(None, known), default=None)


def _practiced(facts: Facts, today: datetime.date) -> Days:
    begin = today - datetime.timedelta(LOOKED_BACK)
    done = {day for day in facts.practiced if begin <= day <= today}
    return days_among(done, _planned(facts, today, facts.came))


def _planned(
    facts: Facts, today: datetime.date, came: datetime.date | None
) -> tuple[datetime.date, ...]:
    """The planned days of the last two weeks."""
    begin = today - datetime.timedelta(LOOKED_BACK)
    days = facts.written.days
    return planned_days(days, facts.practiced, facts.sessions, begin, today, came)


def _waits(facts: Facts, practiced: Days, today: datetime.date) -> Iterator[str]:
    """What somebody must do, the most pressing first."""
    written, visit = facts.written, facts.written.days.visit
    over = visit is not None and visit < today
    if written.trouble:
        yield "cannot be read"
    if written.blanks:
        yield several(written.blanks, "fill-in")
    if visit and over:
        yield f"visit past: {short(visit, today)}"
    elif not visit and not written.trouble:
        yield "no visit"
    if any(one.ready for one in facts.proposals):
        yield READY
    if _is_hard(facts, today):
        yield HARD
    if _run_out(written.days, today):
        yield "dates run out"
    if facts.sheet and not written.trouble and not (over and facts.sheet in OF_SHEETS):
        yield facts.sheet
    none = not practiced.practiced and not practiced.besides
    if written.asked and facts.site and none and _planned(facts, today, None):
        yield "record missing"
    if written.bare:
        yield f"{several(len(written.bare), 'picture')} missing"
    if facts.unspoken:
        yield f"{several(facts.unspoken, 'recording')} missing"


def _is_hard(facts: Facts, today: datetime.date) -> bool:
    """Whether practice at home fails, as far as it tells: then the family was asked to tell her."""
    seen = (*facts.sessions, *facts.written.days.baselines)
    heard = max((day for day in seen if day <= today), default=datetime.date.min)
    ended = [day for day in facts.hard if heard < day <= today]
    return len(ended) >= LEAST_DAYS_BACK or any(one.hard for one in facts.proposals)


def _run_out(days: Timetable, today: datetime.date) -> bool:
    """Whether the sheet has no boxes left, or soon, though the visit is later."""
    if not days.start or not days.visit:
        return False
    end = days.start + datetime.timedelta(MOST_DAYS)
    return end < days.visit and end <= today + datetime.timedelta(WARNED)
