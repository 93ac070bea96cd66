"""Which step was practiced when, and the moves from step to step. Pure.

A record names its plan, and a plan its current steps: so each day of practice tells what was
practiced, the last sitting of a day for all of it. A move has the day of the session before the
new step was first practiced, where a score or a note of hers tells of one, else of that practice.
"""

from __future__ import annotations

import datetime
from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import groupby
from typing import Literal

from builder.practice.figures.client_log import ClientLog
from builder.practice.figures.practiced import was_practice
from builder.practice.figures.tries import day_of

Steps = tuple[str, ...]
Whose = Literal["session", "practice", "program"]
"""Whose day a move has: of the session, of the first practice, or none but that of the program as
it stands now, which nobody has practiced yet."""


@dataclass(frozen=True)
class Run:
    """Days of practice in a row with the same current steps, by their ids."""

    steps: Steps
    first: datetime.date
    last: datetime.date


@dataclass(frozen=True)
class Move:
    """From steps to others."""

    day: datetime.date
    before: Steps
    after: Steps
    whose: Whose


@dataclass(frozen=True)
class Stretch:
    """From when to when a step was practiced or scored, both days included."""

    step: str
    first: datetime.date
    last: datetime.date


def runs(log: ClientLog, steps: Sequence[str]) -> tuple[Run, ...]:
    """What of `steps` was current on the days of practice, in the order of time.

    A day alone with steps of an earlier day, between days with others, is that of a tablet which
    had not got the new plan yet, and is no run.
    """
    found: dict[datetime.date, Steps] = {}
    plans = [(one.day, one.site, one.plan) for one in log.papers]
    plans += [(day_of(one), one.site, one.plan) for one in log.sittings if was_practice(one)]
    for day, site, plan in plans:
        view = log.view(site, plan)
        current = {s.id for p in view.programs for s in p.steps if s.current} if view else set()
        if now := tuple(step for step in steps if step in current):
            found[day] = now
    days = sorted(found.items())
    alone = {
        days[at][0]
        for at in range(1, len(days) - 1)
        if days[at - 1][1] == days[at + 1][1] != days[at][1]
        and days[at][1] in (earlier for _, earlier in days[:at])
    }
    made = []
    for current_steps, some in groupby(
        (one for one in days if one[0] not in alone), lambda one: one[1]
    ):
        of_run = [day for day, _ in some]
        made.append(Run(current_steps, of_run[0], of_run[-1]))
    return tuple(made)


def moves(
    found: Sequence[Run],
    sessions: Collection[datetime.date],
    now: Steps = (),
    written: Iterable[datetime.date] = (),
    today: datetime.date = datetime.date.max,
) -> tuple[Move, ...]:
    """The moves between runs, and from the last one to what the program has `now` (() for none).

    sessions: days of which she has a score or a note. written: days of the program that may tell
    when it was changed, the likelier first.
    """
    made = []
    for before, after in zip(found, found[1:], strict=False):
        day = _session(sessions, before.last, after.first)
        whose: Whose = "session" if day else "practice"
        made.append(Move(day or after.first, before.steps, after.steps, whose))
    if found and now and now != found[-1].steps:
        last = found[-1]
        if day := _session(sessions, last.last, today):
            made.append(Move(day, last.steps, now, "session"))
        else:
            later = (one for one in written if last.last <= one <= today)
            made.append(Move(next(later, today), last.steps, now, "program"))
    return tuple(made)


def _session(
    sessions: Collection[datetime.date], first: datetime.date, last: datetime.date
) -> datetime.date | None:
    """The last session between two days, both included."""
    return max((day for day in sessions if first <= day <= last), default=None)


def stretches(
    found: Iterable[Run], scored: Iterable[tuple[str, datetime.date]]
) -> tuple[Stretch, ...]:
    """Each step's time of practice, drawn out to scores of it that lie nearest; a step that was
    scored and never practiced has the time of its scores. In the order of their first days."""
    made: list[Stretch] = []
    last: dict[str, int] = {}
    for run in found:
        at = {}
        for step in run.steps:
            if step in last:
                made[last[step]] = replace(made[last[step]], last=run.last)
                at[step] = last[step]
            else:
                at[step] = len(made)
                made.append(Stretch(step, run.first, run.last))
        last = at
    for step, day in sorted(scored, key=lambda one: one[1]):
        own = [number for number, one in enumerate(made) if one.step == step]
        if not own:
            made.append(Stretch(step, day, day))
            continue
        nearest = min(own, key=lambda number: _apart(made[number], day))
        one = made[nearest]
        made[nearest] = replace(one, first=min(one.first, day), last=max(one.last, day))
    return tuple(sorted(made, key=lambda one: (one.first, one.last)))


def _apart(one: Stretch, day: datetime.date) -> int:
    """Days between a stretch and a day; 0 within it."""
    return max((one.first - day).days, (day - one.last).days, 0)


def lanes(found: Iterable[Stretch]) -> tuple[tuple[Stretch, ...], ...]:
    """Stretches one after the other in as few lanes as hold them without overlap; two may share the
    day of a session."""
    made: list[list[Stretch]] = []
    for one in found:
        free = next((lane for lane in made if lane[-1].last <= one.first), None)
        if free is None:
            made.append(free := [])
        free.append(one)
    return tuple(map(tuple, made))
