"""The therapist's own scores and notes of a visit, as typed and as kept. Pure."""

from __future__ import annotations

import datetime
from dataclasses import dataclass

from builder.model.program import Support
from builder.practice.log.paper import right_of

MOST_TRIES = 1000  # of a session


@dataclass(frozen=True)
class VisitScore:
    """What she heard of one step in one session. sound: the symbol of the program's; step: its id,
    as in the record. probe: words kept out of practice."""

    site: str
    date: datetime.date
    sound: str
    step: str
    support: Support
    correct: int
    of: int
    probe: bool = False
    note: str = ""

    @property
    def kind(self) -> tuple[datetime.date, str, str, Support, bool]:
        """What a client's log keeps one score of: a later one takes its place."""
        return self.date, self.sound, self.step, self.support, self.probe


@dataclass(frozen=True)
class VisitNote:
    """What she wrote of a session without a score."""

    site: str
    date: datetime.date
    note: str


def read_score(text: str) -> tuple[int, int]:
    """(correct, of) of what was typed, as in "17/20". Raises ValueError with what to type."""
    score = right_of(text)
    if not score:
        raise ValueError(f"`{text}` is no score. Type it as in `17/20`.")
    correct, of = score
    if not 0 < of <= MOST_TRIES:
        raise ValueError(f"A session has 1 to {MOST_TRIES} tries of a step.")
    if correct > of:
        raise ValueError(f"{correct} correct of {of} cannot be.")
    return correct, of
