"""The boxes of a sheet: one for every planned sitting until the visit, week by week."""

from __future__ import annotations

import datetime
from collections.abc import Iterable, Iterator

from builder.make.sheet.text import Data, Words, long_date, short_date
from builder.model.clinic import DAYS, Day
from builder.model.pause import practice_days
from builder.model.plan import Plan, PlannedStep

MOST_WEEKS = 26  # half a year; a sheet that is not renewed by then is of no use
BLANK_WEEKS = 2  # of boxes on the undated sheet; common practice, no source


def boxes(plan: Plan, words: Words, dates: tuple[str, str], printed: str, role: str = "") -> Data:
    """The weeks with their days and times, and what is written into a box.

    role: whose sheet it is, "" for everybody's; it begins with the first box of that one.
    dates: (start, visit) in ISO form or "", of a dated sheet. Without a visit the dates are blank.
    printed: the day of printing or ""; practice begins then where the program gives no start.
    """
    days = plan.days_of(role)
    start, visit = dates
    begin = plan.first_day(printed, role) if start or visit else ""
    start = begin if start else ""
    weeks = list(_dated(plan, words, begin, visit, days)) if begin and visit > begin else []
    known = {"start": long_date(start, words), "visit": long_date(visit, words)}
    sentence = "dates_both" if start and visit else "dates_start" if start else "dates_visit"
    lines = [words[sentence].format(**known)] if start or visit else []
    each = words["each_one" if plan.minutes == 1 else "each"].format(minutes=plan.minutes)
    each = each if plan.fits else f"{each} {words['goes_on']}"
    return {
        "week": words["week"],
        "each": each,
        "weeks": weeks or [_blank(days, words)] * BLANK_WEEKS,
        "times": [words[time] for time in plan.times_of(role)],
        "after": words["after"],
        "dates": [" ".join(lines), *_pauses(plan, words, start, visit)],
        "counts": _counts(plan, words),
    }


def _counts(plan: Plan, words: Words) -> list[list[str]]:
    """What is counted in a box, each as the words that lines follow: tries where the clinic wants
    them, and the slips of what is read or told, which have no other place."""
    steps = [step for program in plan.programs for step in program.steps if step.current]
    tries = plan.clinic.sheet.counts and any(not step.passage for step in steps)
    slips = any(map(_has_slips, steps))
    return [
        *([[words["right"], words["of"]]] if tries else []),
        *([[words["slips"]]] if slips else []),
    ]


def _has_slips(step: PlannedStep) -> bool:
    return step.passage is not None


def _blank(days: Iterable[Day], words: Words) -> list[Data]:
    """A week of these days without dates."""
    return [{"name": words[day], "date": "", "open": True} for day in days]


def _dated(
    plan: Plan, words: Words, start: str, visit: str, on: Iterable[Day]
) -> Iterator[list[Data]]:
    """Weeks from the first day on, up to the day before the visit, each with all its weekdays; a
    day that is not practiced (a pause, after the end) is there without a box. Weeks without a
    practice are left out."""
    first, last = datetime.date.fromisoformat(start), datetime.date.fromisoformat(visit)
    weekdays = {DAYS.index(day) for day in on}
    planned = {*practice_days(first, last, weekdays, plan.pauses)}
    for week in range(min(MOST_WEEKS, -(-(last - first).days // 7))):
        monday = first + datetime.timedelta(days=7 * week)
        days = [monday + datetime.timedelta(days=n) for n in range(7)]
        days = [day for day in days if day.weekday() in weekdays]
        if any(day in planned for day in days):
            yield [_day(day, day in planned, words) for day in days]


def _day(date: datetime.date, is_planned: bool, words: Words) -> Data:
    weekday: Day = DAYS[date.weekday()]
    name, day = words[weekday], short_date(date, words)
    return {
        "name": name if is_planned else "",
        "date": day if is_planned else "",
        "open": is_planned,
    }


def _pauses(plan: Plan, words: Words, start: str, visit: str) -> list[str]:
    """The pauses between start and visit, a sentence each; without both dates none is told."""
    if not (start and visit):
        return []
    first, last = datetime.date.fromisoformat(start), datetime.date.fromisoformat(visit)
    return [
        words["pause_day" if pause.first == pause.last else "pause_days"].format(
            first=long_date(str(pause.first), words), last=long_date(str(pause.last), words)
        )
        for pause in plan.pauses
        if pause.first < last and pause.last >= first
    ]
