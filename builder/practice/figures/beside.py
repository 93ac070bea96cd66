"""Home marks beside the therapist's own score of the same step and support. Pure."""

from __future__ import annotations

import datetime
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal, get_args

from builder.model.program import Role
from builder.practice.figures.intervals import Rate, difference, total
from builder.practice.figures.listeners import named
from builder.practice.figures.score import Score
from builder.practice.figures.tries import Tries

NEAR_DAYS = 14  # before and after her score; what is later or older may be another ability
ROLES: tuple[Role | Literal[""], ...] = (*get_args(Role), "")
SMALL = 0.1  # a difference of shares that nobody would speak of; our own choice


@dataclass(frozen=True)
class Beside:
    """What home marked in the days around a score, and that score. role: who listened."""

    home: Rate
    score: Score
    role: Role | Literal[""]

    @property
    def home_is(self) -> Literal["more lenient", "stricter", ""]:
        """ "" unless the 95 % interval of the difference (Newcombe 1998, method 10) leaves out 0.

        The tries are not the same ones, so that there is no agreement by point or kappa.
        """
        low, high = difference(self.home, self.score.rate)
        if low > 0:
            return "more lenient"
        return "stricter" if high < 0 else ""

    def __str__(self) -> str:
        """As in "home marked 18 of 20 clear where you heard 13"."""
        home, hers, who = self.home, self.score, named([self.role])
        if home.tries == hers.of:
            told = f"{who} marked {home.clear} of {home.tries} clear where you heard {hers.correct}"
        else:
            told = f"{who} marked {home} clear where you heard {hers.rate}"
        if self.home_is:
            return f"{told}: {who} is {self.home_is} than you"
        if abs(home.share - hers.rate.share) > SMALL:
            return f"{told}: too few tries to call that a difference"
        return f"{told}: about the same"


def beside_each(tries: Iterable[Tries], score: Score) -> tuple[Beside, ...]:
    """Home's marks of the step and support of a score, up to two weeks from it, of each who
    listened apart: one may be lenient where another is not. None for a probe, whose words are not
    practiced."""
    alike = _alike(tries, score)
    rates = {role: [Rate(t.clear, t.tries) for t in alike if t.helper == role] for role in ROLES}
    return tuple(Beside(total(own), score, role) for role, own in rates.items() if own)


def _alike(tries: Iterable[Tries], score: Score) -> list[Tries]:
    if score.probe:
        return []
    near = datetime.timedelta(days=NEAR_DAYS)
    return [
        one
        for one in tries
        if (one.step, one.support) == (score.step, score.support)
        and abs(one.day - score.date) <= near
    ]
