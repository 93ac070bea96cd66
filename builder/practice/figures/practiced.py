"""How much was practiced: days of those planned, tries a sitting and in all. Pure."""

from __future__ import annotations

import datetime
from collections.abc import Collection, Iterable
from dataclasses import dataclass

from builder.model.record import Sitting
from builder.practice.figures.tries import day_of
from builder.practice.log.counts import Counted
from builder.practice.log.paper import PaperCount


@dataclass(frozen=True)
class Days:
    """Days practiced of the days planned, and on others besides. What was not practiced is no
    figure of ours."""

    practiced: int
    planned: int
    besides: int

    def __str__(self) -> str:
        """As in "practiced on 9 of 12 planned days, and on 1 more"."""
        if not self.planned:
            days = self.besides
            return f"practiced on {days} day{'' if days == 1 else 's'}, none of them planned"
        told = f"practiced on {self.practiced} of {_days(self.planned)}"
        return f"{told}, and on {self.besides} more" if self.besides else told


def _days(number: int) -> str:
    return f"{number} planned day{'' if number == 1 else 's'}"


def days_practiced(
    sittings: Iterable[Sitting],
    papers: Iterable[PaperCount],
    planned: Collection[datetime.date],
) -> Days:
    """Days on which anything was tried, a contrast or a text among it, or a box of the paper sheet
    was ticked; `planned` as `model.pause.practice_days` gives them, without pauses."""
    days = {day_of(one) for one in sittings if was_practice(one)} | {one.day for one in papers}
    return Days(len(days & set(planned)), len(set(planned)), len(days - set(planned)))


def was_practice(sitting: Sitting) -> bool:
    """Whether anything in it was tried: a sitting that was opened and closed is none."""
    tried = any(trial.mark != "not_tried" for trial in sitting.trials)
    return tried or bool(sitting.tallies)


@dataclass(frozen=True)
class Dose:
    """Tries in all, and the sittings that had any.

    Dose is what is tried in one session: Warren, Fey & Yoder 2007, MRDD Research Reviews
    13:70-77; the product with how often and how long is all that was tried.
    """

    tries: int
    sittings: int

    @property
    def each(self) -> float:
        """Tries a sitting; 0 without any."""
        return self.tries / self.sittings if self.sittings else 0.0

    def __str__(self) -> str:
        """As in "312 tries in 14 sittings, about 22 in each"."""
        if not self.sittings:
            return "no tries"
        told = f"{self.tries} tr{'y' if self.tries == 1 else 'ies'}"
        if self.sittings == 1:
            return f"{told} in 1 sitting"
        return f"{told} in {self.sittings} sittings, about {self.each:.0f} in each"


def dose(counts: Iterable[Counted]) -> Dose:
    """Of all that was counted, on tablets and on paper, each sitting once (`log.counts`). Two
    tablets at one time of a day are two sittings, and so are the sheets of two homes."""
    taken = [one for one in counts if one.tries]
    sittings = {(one.day, one.time, one.sitting or one.helper) for one in taken}
    return Dose(sum(one.tries for one in taken), len(sittings))
