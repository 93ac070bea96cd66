"""Sittings that came from home -> the log. What comes twice is once; several tablets of a client
and what came before are one; what cannot be understood is kept apart, and tried again each time."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from builder.model.record import Sitting, union
from builder.practice.log.rows import Apart, Log
from builder.practice.log.understand import CONTRADICTS, Known, why_apart

Became = Literal["new", "newer", "known", "apart"]


@dataclass(frozen=True)
class Received:
    """What became of a sitting: newer: it took the place of an earlier copy; known: it was there
    as it is; apart: `why` says why, as a clause. again: it was kept apart before."""

    sitting: Sitting
    became: Became
    why: str = ""
    again: bool = False


def receive(log: Log, sittings: Iterable[Sitting], known: Known) -> tuple[Received, ...]:
    """Take sittings into the log, all of them or none, and with them what was kept apart and is
    understood now."""
    day = known.today.isoformat()
    with log.writing():
        before = [_one(log, one.sitting, known, day) for one in log.apart()]
        now = [_one(log, sitting, known, day) for sitting in union(sittings)]
    understood = (one for one in before if one.became != "apart")
    return (*now, *(Received(one.sitting, one.became, again=True) for one in understood))


def _one(log: Log, sitting: Sitting, known: Known, day: str) -> Received:
    earlier = log.sitting(sitting.id)
    # One that is there as it is was understood once, though its plan may be lost since.
    why = "" if sitting == earlier and sitting.site in known.codes else why_apart(sitting, known)
    if not why and earlier and not _same(earlier, sitting):
        why = CONTRADICTS
    if why:
        log.put_apart(Apart(sitting, why), day)
        return Received(sitting, "apart", why)
    log.no_longer_apart(sitting)
    if earlier and union((earlier, sitting)) == (earlier,):
        log.came_again(sitting, day)  # the family's record goes as far as this day
        return Received(sitting, "known")
    log.add_client(sitting.site, known.codes[sitting.site])
    log.put(sitting, day)
    return Received(sitting, "newer" if earlier else "new")


def _same(one: Sitting, other: Sitting) -> bool:
    """Whether these are copies of one sitting: a tablet never writes its beginning anew."""
    return (one.site, one.start) == (other.site, other.start)
