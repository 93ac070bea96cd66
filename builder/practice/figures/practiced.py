"""How much was practiced: days of those planned, tries a sitting and in all. Pure."""

from __future__ import annotations

import datetime
from collections.abc import Collection, Iterable
from dataclasses import dataclass

from builder.model.record import Sitting, counts_by_step
from builder.practice.figures.tries import day_of
from builder.practice.log.counts import Counted, only_on_paper
from builder.practice.log.paper import PaperCount
from builder.text.several import several


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
            return f"practiced on {several(self.besides, 'day')}, none of them planned"
        told = f"practiced on {self.practiced} of {several(self.planned, 'planned day')}"
        return f"{told}, and on {self.besides} more" if self.besides else told


def days_practiced(
    sittings: Iterable[Sitting],
    papers: Iterable[PaperCount],
    planned: Collection[datetime.date],
) -> Days:
    """The days of `practice_dates` beside those that were `planned` (`planned.planned_days`)."""
    return days_among(practice_dates(sittings, papers), planned)


def days_among(practiced: Collection[datetime.date], planned: Collection[datetime.date]) -> Days:
    """Days of practice, each once, beside those that were planned."""
    days, due = set(practiced), set(planned)
    return Days(len(days & due), len(due), len(days - due))


def practice_dates(
    sittings: Iterable[Sitting], papers: Iterable[PaperCount]
) -> frozenset[datetime.date]:
    """Days on which anything was tried, a contrast or a text among it, or a box of the paper sheet
    was ticked."""
    on_tablets = {day_of(one) for one in sittings if was_practice(one)}
    return frozenset(on_tablets | {one.day for one in papers})


def was_practice(sitting: Sitting) -> bool:
    """Whether anything in it was tried: a sitting that was opened and closed is none."""
    tried = any(trial.mark != "not_tried" for trial in sitting.trials)
    return tried or bool(sitting.tallies)


@dataclass(frozen=True)
class Dose:
    """Tries in all, and the sittings that had any. pairs_alone: sittings besides in which words of
    pairs were chosen and nothing else was tried, which has a figure of its own (`pairs`);
    uncounted: those besides of which no count is known.

    Dose is what is tried in one session: Warren, Fey & Yoder 2007, MRDD Research Reviews
    13:70-77; the product with how often and how long is all that was tried.
    """

    tries: int
    sittings: int
    pairs_alone: int = 0
    uncounted: int = 0

    @property
    def each(self) -> float:
        """Tries a sitting; 0 without any."""
        return self.tries / self.sittings if self.sittings else 0.0

    def __str__(self) -> str:
        """As in "312 tries in 14 sittings, about 22 in each; 1 sitting more without a count"."""
        return f"{self._tries}{self._besides}"

    @property
    def _tries(self) -> str:
        if not self.sittings:
            return "no tries"
        told = several(self.tries, "try", "tries")
        if self.sittings == 1:
            return f"{told} in 1 sitting"
        return f"{told} in {self.sittings} sittings, about {self.each:.0f} in each"

    @property
    def _besides(self) -> str:
        told = ""
        if self.pairs_alone:
            told += f"; pairs alone in {several(self.pairs_alone, 'sitting')}"
        if self.uncounted:
            more = " more" if self.sittings or self.pairs_alone else ""
            told += f"; {several(self.uncounted, 'sitting')}{more} without a count"
        return told


def dose(
    counts: Iterable[Counted],
    sittings: Collection[Sitting] = (),
    papers: Iterable[PaperCount] = (),
) -> Dose:
    """Of all that was counted, on tablets and on paper, each sitting once (`log.counts`), and how
    many of the `sittings` and boxes of paper had nothing to count. Two tablets at one time of a day
    are two sittings, and so are the sheets of two homes. A target of a text is a try like any
    other; what was chosen from a pair is none."""
    taken = [one for one in counts if one.tries]
    times = {(one.day, one.time, one.sitting or one.helper) for one in taken}
    alone = pairs_alone(sittings)
    return Dose(
        sum(one.tries for one in taken), len(times), alone, _uncounted(sittings, papers) - alone
    )


def _uncounted(sittings: Collection[Sitting], papers: Iterable[PaperCount]) -> int:
    """Sittings of practice without a try that counts, and boxes that were only ticked, or have
    slips alone, where no tablet has the sitting."""
    practiced = [one for one in sittings if was_practice(one)]
    boxes = only_on_paper(papers, practiced)
    return sum(not counts_by_step(one) for one in practiced) + sum(not one.tries for one in boxes)


def pairs_alone(sittings: Iterable[Sitting]) -> int:
    """How many sittings had choices between the words of pairs, and no other try."""
    return sum(
        any(t.chosen is not None and t.mark != "not_tried" for t in one.trials)
        and not one.tallies
        and not any(t.counts for t in one.trials)
        for one in sittings
    )
