"""What was counted at home, from all tablets and on paper, each sitting once. Pure."""

from __future__ import annotations

import datetime
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from builder.model.clinic import TIMES, Time
from builder.model.program import Role
from builder.model.record import Sitting, counts_by_step
from builder.practice.log.paper import PaperCount


@dataclass(frozen=True)
class Counted:
    """The tries of one step in one sitting. helper: "" and sitting: "" on paper, where nobody says
    who listened; step: "" for a count on paper of several steps together."""

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


def counted(sittings: Iterable[Sitting], papers: Iterable[PaperCount]) -> tuple[Counted, ...]:
    """The counts of all sittings, by site and in the order of time. A count on paper of a sitting
    that a tablet counted too is that sitting, and the tablet's stands."""
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
    there = {(one.site, one.day, one.time) for one in taken}
    written = [
        Counted(p.site, p.day, p.time, "paper", "", "", p.plan, p.step, p.clear, p.tries)
        for p in papers
        if p.tries and (p.site, p.day, p.time) not in there
    ]
    return tuple(sorted((*taken, *written), key=_order))


def _order(one: Counted) -> tuple[str, datetime.date, int, str, str]:
    return (one.site, one.day, TIMES.index(one.time), one.sitting, one.step)
