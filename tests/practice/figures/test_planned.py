"""Which days were planned, by a calendar that a reader can count: November 30, 2026, a Monday."""

from __future__ import annotations

import datetime
from typing import Any

import pytest

from builder.model.pause import Pause
from builder.practice.figures.planned import Timetable, planned_days, timetable
from builder.practice.former_sheets import FormerSheet
from tests.support.clients import client_of


def day(number: int) -> datetime.date:
    """Of December; 0 and less of November."""
    return datetime.date(2026, 11, 30) + datetime.timedelta(number)


def days(*numbers: int) -> tuple[datetime.date, ...]:
    return tuple(map(day, numbers))


def planned(
    today: int, practiced: tuple[int, ...] = (), sessions: tuple[int, ...] = (), **told: Any
) -> list[int]:
    """The planned days from November 30 on, of a sheet from December 1 to the 17th."""
    known: dict[str, Any] = {"start": day(1), "visit": day(17), "weekdays": frozenset(range(5))}
    came = day(told.pop("came")) if "came" in told else None
    found = planned_days(
        Timetable(**known | told), days(*practiced), days(*sessions), day(0), day(today), came
    )
    return [(one - day(0)).days for one in found]


@pytest.mark.parametrize(
    ("found", "wanted"),
    [
        # Weekdays from the first day on; Saturday and Sunday are the 5th and 6th.
        (planned(9), [1, 2, 3, 4, 7, 8]),
        (planned(9, weekdays=frozenset([0, 5])), [5, 7]),
        (planned(9, pauses=(Pause(day(3), day(7)),)), [1, 2, 8]),
        # Today is one as soon as something came of it.
        (planned(9, practiced=(9,)), [1, 2, 3, 4, 7, 8, 9]),
        (planned(9, practiced=(8,)), [1, 2, 3, 4, 7, 8]),
        # Of what came after the last record nobody knows.
        (planned(9, came=7), [1, 2, 3, 4]),
        (planned(9, came=7, practiced=(7,)), [1, 2, 3, 4, 7]),
        (planned(9, came=3, practiced=(4,)), [1, 2, 3, 4]),  # another clock
        # No box on the sheet: the day of a session, of the visit, and after it.
        (planned(9, sessions=(3, 9)), [1, 2, 4, 7, 8]),
        (planned(9, baselines=frozenset([day(2)])), [1, 3, 4, 7, 8]),
        (planned(9, practiced=(9,), sessions=(9,)), [1, 2, 3, 4, 7, 8]),
        (planned(9, practiced=(8, 9), visit=day(8)), [1, 2, 3, 4, 7]),
    ],
)
def test_of_one_sheet(found: list[int], wanted: list[int]) -> None:
    assert found == wanted


@pytest.mark.parametrize(
    ("found", "wanted"),
    [
        # A visit on the 4th wrote a new first day: what was before it belonged to the former sheet.
        (planned(9, practiced=(0, 8), sessions=(4,), start=day(7)), [0, 1, 2, 3, 7, 8]),
        # The first practice that is known begins it.
        (planned(9, practiced=(2, 8), sessions=(4,), start=day(7)), [2, 3, 7, 8]),
        (planned(9, practiced=(-20, 8), sessions=(4,), start=day(7)), [0, 1, 2, 3, 7, 8]),
        (planned(9, practiced=(8,), sessions=(4,), start=day(7)), [7, 8]),
        # Where none is known, the day after the first session does.
        (planned(9, sessions=(1, 4), start=day(7)), [2, 3, 7, 8]),
        # Between the last session and the first day of the new sheet nothing was due ...
        (planned(9, practiced=(-5,), sessions=(-1, 1), start=day(4)), [0, 4, 7, 8]),
        # ... unless something was practiced: the session after which it began left no score.
        (planned(9, practiced=(-5, 2), sessions=(-1,), start=day(7)), [2, 3, 4, 7, 8]),
        (planned(9, practiced=(2, 3), start=day(10)), [2, 3, 4, 7, 8]),
        # The new sheet is still to begin.
        (planned(9, practiced=(-5,), sessions=(8,), start=day(10)), [0, 1, 2, 3, 4, 7]),
    ],
)
def test_of_earlier_sheets(found: list[int], wanted: list[int]) -> None:
    assert found == wanted


def over(visit: int, next_: int | None = None) -> frozenset[FormerSheet]:
    return frozenset([FormerSheet(day(visit), day(next_) if next_ else None)])


@pytest.mark.parametrize(
    ("found", "wanted"),
    [
        # A visit on the 3rd was written, nobody came, and the next sheet began on the 8th.
        (planned(9, practiced=(0,), start=day(8), over=over(3)), [0, 1, 2, 8]),
        # Boxes or not, something was practiced: days count from there on, the visit's own never.
        (planned(9, practiced=(0, 3, 4), start=day(8), over=over(3)), [0, 1, 2, 4, 7, 8]),
        # They came a day late: the session is none either.
        (planned(9, practiced=(0,), sessions=(4,), start=day(7), over=over(3)), [0, 1, 2, 7, 8]),
        # They came sooner, and it was put off: the sheet of now began before it.
        (planned(9, practiced=(0,), sessions=(1,), start=day(2), over=over(3)), [0, 2, 3, 4, 7, 8]),
        # Another sheet lay between.
        (planned(9, practiced=(-5,), start=day(8), over=over(1, 3)), [0, 3, 4, 7, 8]),
        # Of one program; the other one began sooner.
        (planned(9, practiced=(-5,), start=day(2), over=over(1, 4)), [0, 2, 3, 4, 7, 8]),
        (planned(9, practiced=(2,), start=None, over=over(3)), [2, 3, 4, 7, 8]),
    ],
)
def test_no_sheet_was_there_after_a_visit_that_was_written(
    found: list[int], wanted: list[int]
) -> None:
    assert found == wanted


@pytest.mark.parametrize(
    ("found", "wanted"),
    [
        (planned(9, sessions=(3,), start=None), [4, 7, 8]),
        (planned(9, practiced=(2,), sessions=(3, 7), start=None), [2, 4, 8]),
        (planned(4, practiced=(2,), start=None, visit=None), [2, 3]),
        (planned(9, start=None), []),
    ],
)
def test_without_a_first_day(found: list[int], wanted: list[int]) -> None:
    assert found == wanted


def test_a_timetable_is_that_of_the_sheet() -> None:
    one, other = (
        client_of(f"sound: k\ncurrent: words\n{dates}\nwords: [key]\n{STEPS}").programs[0]
        for dates in (
            "practice: {days: [mon], from: 2026-12-07, visit: 2026-12-21}",
            "baseline: {date: 2026-12-01, correct: 18, of: 20}\n"
            "practice: {days: [sat], visit: 2026-12-14}",
        )
    )
    assert timetable([one, other], ()) == Timetable(
        weekdays=frozenset([0, 5]),
        start=day(7),
        visit=day(14),
        baselines=frozenset(days(1, 3)),
    )


STEPS = "steps:\n  - {name: words, level: word}\n"
