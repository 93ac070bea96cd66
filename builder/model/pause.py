"""Days without practice (holidays), and the days that are left. Pure: dates are arguments."""

from __future__ import annotations

import datetime
from collections.abc import Container, Iterable, Iterator
from dataclasses import dataclass
from typing import Any

DATE = "[0-9]{4}-[0-9]{2}-[0-9]{2}"
PATTERN = rf"^{DATE}(\.\.{DATE})?$"


@dataclass(frozen=True, order=True)
class Pause:
    """Days without practice, `first` and `last` among them."""

    first: datetime.date
    last: datetime.date

    def __contains__(self, day: datetime.date) -> bool:
        return self.first <= day <= self.last

    def __str__(self) -> str:
        """As it is written into a file: 2026-12-21..2027-01-03."""
        one = self.first == self.last
        return str(self.first) if one else f"{self.first}..{self.last}"

    @classmethod
    def __get_pydantic_json_schema__(cls, _core: Any, _handler: Any) -> dict[str, Any]:
        """As it is written: 2026-12-21..2027-01-03, or a single date."""
        return {"type": "string", "pattern": PATTERN}


def paused(day: datetime.date, pauses: Iterable[Pause]) -> bool:
    """Whether a day is in one of the pauses."""
    return any(day in pause for pause in pauses)


def merged(*several: Iterable[Pause]) -> tuple[Pause, ...]:
    """The pauses of the clinic and of a client's programs, each once, in their order."""
    return tuple(sorted({pause for pauses in several for pause in pauses}))


def first_practice_day(
    start: datetime.date,
    visit: datetime.date | None,
    weekdays: Container[int],
    pauses: Iterable[Pause] = (),
) -> datetime.date:
    """The first day of practice from `start` on, within a year and before the visit; `start` itself
    where there is none."""
    end = visit or start + datetime.timedelta(366)
    return next(practice_days(start, end, weekdays, tuple(pauses)), start)


def practice_days(
    start: datetime.date,
    visit: datetime.date,
    weekdays: Container[int],
    pauses: Iterable[Pause] = (),
) -> Iterator[datetime.date]:
    """The days of practice from `start` on up to the day before the visit; Monday is 0."""
    for count in range((visit - start).days):
        day = start + datetime.timedelta(days=count)
        if day.weekday() in weekdays and not paused(day, pauses):
            yield day
