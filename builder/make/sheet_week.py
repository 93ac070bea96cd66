"""The week on a sheet: its days and times, the dates of a dated sheet, and the pauses in them."""

from __future__ import annotations

import datetime
from collections.abc import Mapping

from builder.model.clinic import DAYS, Day
from builder.model.pause import practice_days
from builder.model.plan import Plan

MAX_DAYS_AHEAD = 60  # days from the start in which a weekday's box is looked for

Words = Mapping[str, str]


def week_of(plan: Plan, wording: Words, start: str, visit: str) -> dict[str, object]:
    """The boxes' heads, from the first day of practice on when that is known."""
    first, last = (datetime.date.fromisoformat(day) if day else None for day in (start, visit))
    known = {"start": _date(start, wording), "visit": _date(visit, wording)}
    sentence = "dates_both" if start and visit else "dates_start" if start else "dates_visit"
    lines = [wording[sentence].format(**known)] if start or visit else []
    return {
        "week": wording["week"],
        "days": _days(plan, wording, first, last),
        "times": [wording[time] for time in plan.times],
        "dates": " ".join([*lines, *_pauses(plan, wording, first, last)]),
    }


def _days(
    plan: Plan, wording: Words, first: datetime.date | None, last: datetime.date | None
) -> list[str]:
    """The weekdays; from a first day on, each with the day of the month on which it first comes
    that is in no pause and before the visit."""
    plain = [wording[day] for day in DAYS if day in plan.days]
    if first is None:
        return plain
    until = last or first + datetime.timedelta(days=MAX_DAYS_AHEAD)
    weekdays = {DAYS.index(day) for day in plan.days}
    dates: dict[Day, datetime.date] = {}
    for date in practice_days(first, until, weekdays, plan.pauses):
        dates.setdefault(DAYS[date.weekday()], date)
    return [
        wording["day_and_date"].format(weekday=wording[day], day=date.day)
        for day, date in dates.items()
    ] or plain


def _pauses(
    plan: Plan, wording: Words, first: datetime.date | None, last: datetime.date | None
) -> list[str]:
    """The pauses between start and visit, a sentence each; without both dates none is told."""
    if first is None or last is None:
        return []
    return [
        wording["pause_day" if pause.first == pause.last else "pause_days"].format(
            first=_date(str(pause.first), wording), last=_date(str(pause.last), wording)
        )
        for pause in plan.pauses
        if pause.first < last and pause.last >= first
    ]


def _date(iso: str, wording: Words) -> str:
    if not iso:
        return ""
    date = datetime.date.fromisoformat(iso)
    month = wording[f"month_{date.month}"]
    return wording["date"].format(day=date.day, month=month, year=date.year)
