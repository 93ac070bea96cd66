from __future__ import annotations

from datetime import date

from builder.model.pause import Pause, first_practice_day, merged, practice_days

HOLIDAYS = Pause(date(2026, 12, 21), date(2027, 1, 3))
ALL_SCHOOL_DAYS = {0, 1, 2, 3, 4}


def test_days_of_practice_end_before_the_visit() -> None:
    # By a printed calendar: 18 December 2026 is a Friday, 4 January 2027 a Monday.
    found = list(practice_days(date(2026, 12, 18), date(2027, 1, 6), ALL_SCHOOL_DAYS, [HOLIDAYS]))
    assert found == [date(2026, 12, 18), date(2027, 1, 4), date(2027, 1, 5)]
    assert len(list(practice_days(date(2026, 12, 18), date(2027, 1, 6), ALL_SCHOOL_DAYS))) == 13


def test_practice_begins_on_a_day_of_practice() -> None:
    # By a printed calendar: 5 and 19 December 2026 are Saturdays, 4 January 2027 is a Monday.
    visit = date(2027, 1, 11)

    def begins(start: date, until: date | None = visit) -> date:
        return first_practice_day(start, until, ALL_SCHOOL_DAYS, [HOLIDAYS])

    assert begins(date(2026, 12, 5)) == begins(date(2026, 12, 7), None) == date(2026, 12, 7)
    assert begins(date(2026, 12, 19)) == begins(date(2026, 12, 21), None) == date(2027, 1, 4)
    assert begins(date(2026, 12, 19), date(2027, 1, 4)) == date(2026, 12, 19), "no day is left"


def test_both_ends_are_in_the_pause() -> None:
    assert HOLIDAYS.first in HOLIDAYS
    assert HOLIDAYS.last in HOLIDAYS
    assert date(2026, 12, 20) not in HOLIDAYS
    assert date(2027, 1, 4) not in HOLIDAYS


def test_each_once_in_order() -> None:
    one = Pause(date(2026, 11, 26), date(2026, 11, 26))
    assert merged((HOLIDAYS, one), (one,)) == (one, HOLIDAYS)
    assert [str(pause) for pause in merged((HOLIDAYS, one))] == [
        "2026-11-26",
        "2026-12-21..2027-01-03",
    ]
