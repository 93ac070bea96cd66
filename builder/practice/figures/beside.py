"""Home marks beside the therapist's own score of the same step, support and words. Pure."""

from __future__ import annotations

import datetime
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from builder.practice.figures.intervals import Rate, difference, total
from builder.practice.figures.score import Score
from builder.practice.figures.tries import Tries

NEAR_DAYS = 14  # before and after her score; what is later or older may be another ability
SMALL = 0.1  # a difference of shares that nobody would speak of; our own choice


@dataclass(frozen=True)
class Beside:
    """What home marked in the days around a score, and that score."""

    home: Rate
    score: Score

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
        home, hers = self.home, self.score
        if home.tries == hers.of:
            told = f"home marked {home.clear} of {home.tries} clear where you heard {hers.correct}"
        else:
            told = f"home marked {home} clear where you heard {hers.rate}"
        if self.home_is:
            return f"{told}: home is {self.home_is} than you"
        if abs(home.share - hers.rate.share) > SMALL:
            return f"{told}: too few tries to call that a difference"
        return f"{told}: about the same"


def beside(tries: Iterable[Tries], score: Score) -> Beside | None:
    """Home's marks of the step, support and words of a score, up to two weeks from it; None where
    there are none, and for a probe, whose words are not practiced."""
    if score.probe:
        return None
    near = datetime.timedelta(days=NEAR_DAYS)
    alike = [
        Rate(one.clear, one.tries)
        for one in tries
        if (one.step, one.support) == (score.step, score.support)
        and abs(one.day - score.date) <= near
        and (not score.items or one.item in score.items)
    ]
    return Beside(total(alike), score) if alike else None
