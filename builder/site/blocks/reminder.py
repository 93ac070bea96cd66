"""The data block of the page on which a family makes a reminder of its own: nothing in it tells
what is practiced."""

from __future__ import annotations

from builder.model.clinic import Day, Strict, Time
from builder.model.plan import Plan
from builder.model.program import Role
from builder.site.blocks.practice import RolePractice, by_role
from builder.text.wording import Wording


class ReminderData(Strict):
    """What the form is filled in with: days and times of the plan, where they differ by who listens
    those of who does on the device; site, helper: to know that."""

    site: str
    helper: Role
    by_role: tuple[RolePractice, ...]
    days: tuple[Day, ...]
    times: tuple[Time, ...]
    wording: dict[str, str]


def reminder_data(plan: Plan, w: Wording) -> ReminderData:
    """The data block of a site."""
    names = {f"day.{day}": said for day, said in w.part("days").items()}
    names |= {f"time.{time}": said for time, said in w.part("times").items()}
    words = w.part("reminder") | names
    return ReminderData(
        site=plan.slug,
        helper=plan.helper,
        by_role=by_role(plan),
        days=plan.days,
        times=plan.times,
        wording=words,
    )
