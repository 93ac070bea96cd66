"""How often a criterion moves on too early or holds too long: python -m tests.benchmarks.criteria.

1,000 learners whose true accuracy grows, each with a helper who hears in a way of their own, are
taken through 16 weeks of one step. All numbers of the model are our own choice, no finding: it
compares criteria with one another and says nothing of any child.
"""

from __future__ import annotations

import datetime
import math
import random
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from statistics import median

from builder.model.criteria import Criteria
from builder.practice.figures.intervals import Rate
from builder.practice.figures.proposal.counting import Asked
from builder.practice.figures.proposal.move import propose
from builder.practice.figures.score import Score
from builder.practice.figures.tries import Tries

LEARNERS, WEEKS, DAYS_A_WEEK, TRIES, HERS = 1000, 16, 5, 15, 20
TRUE_AT, EARLY_BELOW, LATE_WEEKS = 0.80, 0.75, 3  # hers is a session a week
START = datetime.date(2027, 1, 4)
DAY_TO_DAY = 0.4  # standard deviation, in logits
HELPERS = {"lenient": (0.97, 0.40), "even": (0.95, 0.05), "strict": (0.80, 0.03)}
"""How much of what is clear is marked clear, and of what is not."""
THERAPIST = (0.97, 0.05)
ASKED = Asked("k-words", "word", Criteria.model_validate({}))


@dataclass(frozen=True)
class Learner:
    """truth: true accuracy by day; days: home's marks; scores: hers, one at the end of a week."""

    truth: tuple[float, ...]
    tries: tuple[Tries, ...]
    scores: tuple[Score, ...]


Decide = Callable[[Learner, int], bool]
"""Whether to move on at the end of a week, counted from 1."""


def learner(rng: random.Random, helper: tuple[float, float]) -> Learner:
    """From 20 to 55 % at the start to 65 to 97 % in the end, half of it after 2 to 8 weeks."""
    low, high = rng.uniform(0.20, 0.55), rng.uniform(0.65, 0.97)
    half, width = rng.uniform(2, 8) * 7, rng.uniform(6, 16)
    truth = tuple(low + (high - low) * _logistic((d - half) / width) for d in range(WEEKS * 7))
    tries, scores = [], []
    for day, share in enumerate(truth):
        on = START + datetime.timedelta(days=day)
        if day % 7 < DAYS_A_WEEK:
            clear = _clear(rng, share, TRIES, helper)
            tries.append(Tries(on, str(day), "k-words", "word", "spontaneous", "", clear, TRIES))
        if day % 7 == 6:
            correct = _clear(rng, share, HERS, THERAPIST)
            scores.append(Score(on, "k-words", "spontaneous", correct, HERS))
    return Learner(truth, tuple(tries), tuple(scores))


def _logistic(x: float) -> float:
    return 1 / (1 + math.exp(-x))


def _clear(rng: random.Random, share: float, tries: int, ear: tuple[float, float]) -> int:
    """How many are marked clear on a day that is better or worse than others."""
    today = _logistic(math.log(share / (1 - share)) + rng.gauss(0, DAY_TO_DAY))
    return sum(rng.random() < (ear[0] if rng.random() < today else ear[1]) for _ in range(tries))


def ours(one: Learner, week: int) -> bool:
    """The proposal, as it is."""
    return propose(ASKED, _until(one, week), one.scores[:week], _day(week)).move == "on"


def home_alone(percent: int, days: int) -> Decide:
    """So many per cent on so many days of practice, by home's marks alone."""

    def decide(one: Learner, week: int) -> bool:
        rates = [Rate(t.clear, t.tries) for t in _until(one, week)[-days:]]
        return len(rates) == days and all(rate.reaches(percent) for rate in rates)

    return decide


def hers_alone(sessions: int) -> Decide:
    """80 % in so many of her own sessions in a row."""

    def decide(one: Learner, week: int) -> bool:
        scores = one.scores[max(0, week - sessions) : week]
        return len(scores) == sessions and all(score.rate.reaches(80) for score in scores)

    return decide


def both(one: Learner, week: int) -> bool:
    """Home's three days and her latest score, without the way by three of her own."""
    return home_alone(80, 3)(one, week) and hers_alone(1)(one, week)


def _until(one: Learner, week: int) -> Sequence[Tries]:
    return one.tries[: DAYS_A_WEEK * week]


def _day(week: int) -> datetime.date:
    return START + datetime.timedelta(days=7 * week - 1)


CRITERIA: dict[str, Decide] = {
    "home alone, 80 % on 3 days": home_alone(80, 3),
    "home alone, 90 % on 2 days": home_alone(90, 2),
    "her latest score alone, 80 %": hers_alone(1),
    "her last three scores, 80 %": hers_alone(3),
    "home 80 % on 3 days and her latest score": both,
    "**the proposal**: that, or her last three": ours,
}


@dataclass(frozen=True)
class Outcome:
    """Of one learner. early: moved on below 75 %. waited: weeks from the day on which 80 % was
    truly reached, below 0 before it; None where it was not, or in the last three weeks."""

    early: bool
    waited: float | None


def outcome(one: Learner, decide: Decide) -> Outcome:
    """Where a criterion leads a learner, asked at the end of each week."""
    moved = next((7 * w - 1 for w in range(1, WEEKS + 1) if decide(one, w)), len(one.truth))
    early = moved < len(one.truth) and one.truth[moved] < EARLY_BELOW
    in_time = enumerate(one.truth[: -7 * LATE_WEEKS])
    ready = next((day for day, share in in_time if share >= TRUE_AT), None)
    return Outcome(early, None if ready is None else (moved - ready) / 7)


@dataclass(frozen=True)
class Result:
    """Of many learners. early: share of all who moved on too early; long: of those who truly reach
    80 %, the share who were held for more than three weeks from there; weeks: the median."""

    early: float
    long: float
    weeks: float

    def __str__(self) -> str:
        return f"{self.early:.0%}, {self.long:.0%}, {self.weeks:+.1f}"


def results(learners: int = LEARNERS) -> dict[tuple[str, str], Result]:
    """By criterion and helper, who each have a third of the learners."""
    found = {}
    for n, (helper, ear) in enumerate(HELPERS.items()):
        rng = random.Random(f"criteria {helper}")
        share = learners // 3 + (n < learners % 3)
        several = [learner(rng, ear) for _ in range(share)]
        for name, decide in CRITERIA.items():
            found[name, helper] = _result([outcome(one, decide) for one in several])
    return found


def _result(found: list[Outcome]) -> Result:
    waited = [one.waited for one in found if one.waited is not None]
    return Result(
        sum(one.early for one in found) / len(found),
        sum(weeks > LATE_WEEKS for weeks in waited) / len(waited),
        median(waited),
    )


def main() -> None:
    """Print a table."""
    print(f"| too early, too long, weeks | {' | '.join(f'{name} helper' for name in HELPERS)} |")
    print("|---|---|---|---|")
    found = results()
    for name in CRITERIA:
        print(f"| {name} | {' | '.join(str(found[name, helper]) for helper in HELPERS)} |")


if __name__ == "__main__":
    main()
