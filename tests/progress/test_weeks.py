"""Weeks and planned days, of a record that a reader can count by hand."""

from __future__ import annotations

import dataclasses
import datetime

import pytest

from builder.model.practice_view import PracticeView
from builder.practice.figures.client_log import ClientLog
from builder.practice.figures.practiced import Days
from builder.practice.log.paper import PaperCount
from builder.progress.weeks import Week, monday_of, practice_of
from tests.support.from_home import SITE, VIEW, sitting, trials

# December 7, 2026, is a Monday.


def day(number: int) -> datetime.date:
    return datetime.date(2026, 12, number)


def view(_site: str, _plan: str) -> PracticeView:
    return VIEW


def log(*days: int, papers: tuple[PaperCount, ...] = ()) -> ClientLog:
    sittings = (sitting(number, trials=trials(8), tallies=[]) for number in days)
    return ClientLog(SITE, tuple(sittings), papers, (), (), (), view)


def paper(number: int, tries: int, time: str = "evening") -> PaperCount:
    return PaperCount(SITE, day(number), time, VIEW.digest, "", 0, tries)  # type: ignore[arg-type]


def test_a_week_is_a_row() -> None:
    papers = (paper(3, 20), paper(7, 0), paper(8, 30, "morning"))
    planned = [day(n) for n in (1, 2, 3, 7, 8, 9)]
    found = practice_of(log(1, 2, 6, 8, papers=papers), planned, day(1), day(9))
    assert list(map(str, found.weeks)) == [
        # On the 6th, a Sunday, nothing was planned.
        "week of 2026-11-30: 3 of 3 days and 1 more, 4 sittings, 44 tries",
        # The box of the morning of the 8th is the sitting that a tablet has.
        "week of 2026-12-07: 2 of 3 days, 2 sittings, 8 tries",
    ]
    assert found.days == Days(5, 6, 1)
    assert (found.dose.tries, found.dose.sittings) == (52, 5)


@pytest.mark.parametrize(
    ("days", "sittings", "told"),
    [
        (Days(0, 5, 0), 0, "no record; 5 days planned"),
        (Days(0, 1, 0), 0, "no record; 1 day planned"),
        (Days(0, 0, 0), 0, "none planned"),
        (Days(1, 1, 0), 1, "1 of 1 day, 1 sitting, 1 try"),
        (Days(0, 0, 2), 1, "2 days, none planned, 1 sitting, 1 try"),
    ],
)
def test_a_week_says_never_that_something_was_missed(days: Days, sittings: int, told: str) -> None:
    assert Week(day(7), days, sittings, 1).told == told


def test_of_a_week_after_the_last_record_nothing_is_told() -> None:
    told = dataclasses.replace(log(1), came=day(2))
    found = practice_of(told, [day(1), day(2)], day(1), day(16))
    assert [week.told for week in found.weeks][1:] == ["no record yet"]
    assert found.days.planned == 2


def test_a_week_that_has_only_begun_is_left_out() -> None:
    found = practice_of(log(1), [day(1)], day(1), day(7))
    assert [week.monday for week in found.weeks] == [datetime.date(2026, 11, 30)]


def test_weeks_begin_on_monday() -> None:
    # ISO 8601: Monday is the first day of a week.
    assert {monday_of(day(n)) for n in range(7, 14)} == {day(7)}
    assert all(monday_of(day(n)).isocalendar().weekday == 1 for n in range(1, 31))
