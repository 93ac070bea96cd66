"""The therapist's own score of a step, from a session, as figures take it."""

from __future__ import annotations

import datetime
from dataclasses import dataclass

from builder.model.program import Support
from builder.practice.figures.intervals import Rate


@dataclass(frozen=True)
class Score:
    """What she heard in one session. probe: words kept out of practice, said without help.

    Raises ValueError for what cannot be.
    """

    date: datetime.date
    step: str
    support: Support
    correct: int
    of: int
    probe: bool = False

    def __post_init__(self) -> None:
        self.rate  # noqa: B018 - raises ValueError

    @property
    def rate(self) -> Rate:
        """Correct of all."""
        return Rate(self.correct, self.of)
