"""The data block of the page on which a family makes a reminder of its own: nothing in it tells who
practices, or what."""

from __future__ import annotations

from builder.model.clinic import Day, Strict, Time
from builder.model.plan import Plan
from builder.text.wording import Wording


class ReminderData(Strict):
    """What the form is filled in with: days and times of the plan."""

    days: tuple[Day, ...]
    times: tuple[Time, ...]
    wording: dict[str, str]


def reminder_data(plan: Plan, w: Wording) -> ReminderData:
    """The data block of a site."""
    names = {f"day.{day}": said for day, said in w.part("days").items()}
    names |= {f"time.{time}": said for time, said in w.part("times").items()}
    words = w.part("reminder") | names
    return ReminderData(days=plan.days, times=plan.times, wording=words)
