"""What is known of a client on a Monday morning, frozen: of the program files (kept by their
state), and of what changes without them (site, sheet, recordings, the log)."""

from __future__ import annotations

import datetime
from dataclasses import dataclass
from typing import Literal

from builder.practice.figures.planned import Timetable
from builder.practice.figures.proposal.counting import Asked
from builder.practice.figures.proposal.move import Proposal

NO_DAYS = Timetable(weekdays=frozenset())

SheetState = Literal[
    "", "not published", "site to build", "no sheet", "sheet to check", "sheet to print"
]
"""How site and sheet stand; "" where there is nothing to do. sheet to check: what it was made of
changed, and perhaps the sheet with it, so build and print; sheet to print: it is in the bound file,
which nobody has taken away."""

OF_SHEETS: tuple[SheetState, ...] = ("no sheet", "sheet to check", "sheet to print")
"""What waits only as long as the visit is to come: after it `print` makes no sheet."""


@dataclass(frozen=True, kw_only=True)
class Written:
    """What the program files of a client say.

    trouble: why one of them cannot be read, a sentence; then the rest may be missing.
    steps: the names of what is practiced now; proposed_of: of each of them what a proposal is asked
    of; seen: the day of the baseline; since: the first day of the oldest sheet with these steps,
    where former versions tell.
    weekdays: days of practice, Monday is 0; pauses: the clinic's and the client's.
    bare: words practiced now that have no picture, of who does not read.
    spoken: how the recordings of what is practiced now are named.
    asked: whether the family is asked for records, on the site or on the sheet.
    """

    code: str
    sounds: tuple[str, ...] = ()
    steps: tuple[str, ...] = ()
    proposed_of: tuple[Asked, ...] = ()
    blanks: int = 0
    trouble: str = ""
    since: datetime.date | None = None
    days: Timetable = NO_DAYS
    bare: tuple[str, ...] = ()
    spoken: tuple[str, ...] = ()
    asked: bool = False

    @property
    def seen(self) -> datetime.date | None:
        """The day of the last baseline."""
        return max(self.days.baselines, default=None)


@dataclass(frozen=True, kw_only=True)
class Facts:
    """A client: what is written, and what lies around it.

    unspoken: how many of the words practiced now have no recording, where others have one.
    hard: days of the last two weeks on which a sitting ended as too hard.
    practiced, sessions: days in the log, those of the last two weeks and the earlier ones on which
    planned days depend; last_practiced: of all time; came: the day on which the last record came.
    proposals: what the log speaks for, of each step that is practiced now; () without records;
    scored: the day of the last score, or note of a visit, in the log.
    proof, progress, sheet_file, site: paths of what is there; address: on the web; else "".
    """

    written: Written
    file: str = ""
    sheet: SheetState = ""
    unspoken: int = 0
    practiced: frozenset[datetime.date] = frozenset()
    came: datetime.date | None = None
    sessions: frozenset[datetime.date] = frozenset()
    hard: frozenset[datetime.date] = frozenset()
    last_practiced: datetime.date | None = None
    scored: datetime.date | None = None
    proposals: tuple[Proposal, ...] = ()
    proof: str = ""
    progress: str = ""
    sheet_file: str = ""
    site: str = ""
    address: str = ""
