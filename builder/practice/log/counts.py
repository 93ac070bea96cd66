"""What was counted at home, from all tablets and on paper, each sitting once. Pure."""

from __future__ import annotations

import datetime
from collections.abc import Collection, Iterable
from dataclasses import dataclass
from typing import Literal

from builder.model.clinic import TIMES, Time
from builder.model.program import Role
from builder.model.record import Sitting, counts_by_step
from builder.practice.log.paper import PaperCount


@dataclass(frozen=True)
class Counted:
    """The tries of one step in one sitting. sitting: "" on paper; helper: "" there where nobody
    said who listened; step: "" for a count on paper of several steps together."""

    site: str
    day: datetime.date
    time: Time
    source: Literal["tablet", "paper"]
    helper: Role | Literal[""]
    sitting: str
    plan: str
    step: str
    clear: int
    tries: int


def counted(sittings: Iterable[Sitting], papers: Collection[PaperCount]) -> tuple[Counted, ...]:
    """The counts of all sittings, by site and in the order of time. A count on paper of a sitting
    that a tablet counted too, with the same listener, is that sitting, and the tablet's stands. A
    count on paper of nobody known yields to all else that is known of that time of the day."""
    taken = [
        Counted(
            sitting.site,
            datetime.date.fromisoformat(sitting.start[:10]),
            sitting.time,
            "tablet",
            sitting.helper,
            sitting.id,
            sitting.plan,
            step,
            count.clear,
            count.tries,
        )
        for sitting in sittings
        for step, count in counts_by_step(sitting).items()
    ]
    written = [
        Counted(p.site, p.day, p.time, "paper", p.helper, "", p.plan, p.step, p.clear, p.tries)
        for p in only_on_paper((p for p in papers if p.tries), taken)
    ]
    return tuple(sorted((*taken, *written), key=_order))


def only_on_paper(
    papers: Iterable[PaperCount], taken: Collection[Counted | Sitting]
) -> tuple[PaperCount, ...]:
    """Counts on paper of sittings that nothing `taken` from tablets is of, as `counted` has it."""
    every = list(papers)
    on_tablets = {_sitting(one) for one in taken}
    of_somebody = [p for p in every if p.helper and _sitting(p) not in on_tablets]
    known = {one[:-1] for one in on_tablets} | {_sitting(p)[:-1] for p in of_somebody}
    of_nobody = [p for p in every if not p.helper and _sitting(p)[:-1] not in known]
    return (*of_somebody, *of_nobody)


def _sitting(one: Counted | PaperCount | Sitting) -> tuple[str, datetime.date, Time, str]:
    day = datetime.date.fromisoformat(one.start[:10]) if isinstance(one, Sitting) else one.day
    return (one.site, day, one.time, one.helper)


def _order(one: Counted) -> tuple[str, datetime.date, int, str, str, str]:
    return (one.site, one.day, TIMES.index(one.time), one.sitting, one.helper, one.step)
