"""Clear-rates over time: home's by day or by week, the therapist's own by session. Pure."""

from __future__ import annotations

import datetime
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from builder.model.program import Support
from builder.practice.figures.intervals import Rate, total
from builder.practice.figures.rates import by_day
from builder.practice.figures.score import Score
from builder.practice.figures.tries import Tries
from builder.progress.stretches import Stretch
from builder.progress.weeks import monday_of

MOST_DAYS = 31  # points of days beside one another that a chart can show; beyond, weeks

By = Literal["day", "week"]
How = Literal["without a model", "after a model", "on paper", "probe words"]
HOWS: tuple[How, ...] = ("without a model", "after a model", "on paper", "probe words")
"""on paper: nobody says which; probe words: kept out of practice, said without a model."""
Who = Literal["home", "you"]


@dataclass(frozen=True)
class Point:
    """A clear-rate. day: or the Monday of the week."""

    day: datetime.date
    rate: Rate


@dataclass(frozen=True)
class Line:
    """Points alike, in the order of time."""

    who: Who
    how: How
    points: tuple[Point, ...]


def how_of(support: Support | None) -> How:
    """How a try was made, by the support that was really given."""
    if support is None:
        return "on paper"
    return "without a model" if support == "spontaneous" else "after a model"


def how_scored(score: Score) -> How:
    """The same of the therapist's own score."""
    return "probe words" if score.probe else how_of(score.support)


def by_for(tries: Iterable[Tries]) -> By:
    """Whether points are days or weeks."""
    return "day" if len({one.day for one in tries}) <= MOST_DAYS else "week"


def lines_of(
    one: Stretch, tries: Iterable[Tries], scores: Iterable[Score], by: By
) -> tuple[Line, ...]:
    """Home's points of a stretch, and hers; no line without a point."""
    own = [t for t in tries if t.step == one.step and one.first <= t.day <= one.last]
    heard = [s for s in scores if s.step == one.step and one.first <= s.date <= one.last]
    made = [
        *(
            Line("home", how, _points([t for t in own if how_of(t.support) == how], by))
            for how in HOWS
        ),
        *(Line("you", how, _scored([s for s in heard if how_scored(s) == how])) for how in HOWS),
    ]
    return tuple(line for line in made if line.points)


def _points(tries: Iterable[Tries], by: By) -> tuple[Point, ...]:
    days = by_day(tries)
    if by == "day":
        return tuple(Point(day, rate) for day, rate in days.items())
    weeks: dict[datetime.date, list[Rate]] = {}
    for day, rate in days.items():
        weeks.setdefault(monday_of(day), []).append(rate)
    return tuple(Point(monday, total(rates)) for monday, rates in weeks.items())


def _scored(scores: Iterable[Score]) -> tuple[Point, ...]:
    days: dict[datetime.date, list[Rate]] = {}
    for one in scores:
        days.setdefault(one.date, []).append(one.rate)
    return tuple(Point(day, total(rates)) for day, rates in sorted(days.items()))
