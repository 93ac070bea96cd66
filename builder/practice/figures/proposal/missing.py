"""What is missing: why nothing of practice counts, what moving on still needs. In plain clauses,
pure."""

from __future__ import annotations

import datetime
from collections.abc import Iterable
from itertools import islice, takewhile

from builder.model.criteria import Criterion
from builder.practice.figures.intervals import Rate
from builder.practice.figures.listeners import named
from builder.practice.figures.proposal.counting import (
    LEAST_TRIES,
    SCORES_ALONE,
    Asked,
    fresh_days,
    tries_in,
)
from builder.practice.figures.proposal.said import how
from builder.practice.figures.tries import Tries
from builder.text.several import several


def none_counted(asked: Asked, tries: Iterable[Tries], today: datetime.date) -> str:
    """Why no try of the last days speaks for the step, where none does: there was none, or from
    words up all were after a model, or on paper, which does not say."""
    since = fresh_days(asked)
    late = [o for o in tries if o.step == asked.step and 0 <= (today - o.day).days <= since]
    when = f"in the last {since} days"
    if not late:
        return f"home marked no tries{how(asked)} {when}"
    paper = sum(one.tries for one in late if one.support is None)
    modeled = sum(one.tries for one in late) - paper
    if not paper:
        ways = "all after a model"
    elif not modeled:
        ways = "all on paper, which does not say how"
    else:
        ways = f"{modeled} after a model and {paper} on paper, which does not say how"
    told = f"{named(one.helper for one in late)} marked {_tries(modeled + paper)} {when}, {ways}"
    return f"{told}, so from words up none counts"


def still_needed(asked: Asked, days: list[Rate], hers: Rate | None) -> str:
    """What moving on asks for and is not there yet. days: the rates of counted days of practice, of
    which the last ones do not reach it; hers: her own fresh score."""
    advance = asked.criteria.advance
    at = f"at {advance.percent} % or more"
    heard = hers is not None and hers.reaches(advance.percent)
    sessions = max(SCORES_ALONE, advance.days)
    more = f"and a score of yours{how(asked)} {at}"
    if heard:
        more = f"or {sessions} sessions of yours in a row {at}"
    if advance.days == 1:
        asks = f"a day of practice {at}{how(asked)}, with at least {LEAST_TRIES} tries"
    else:
        asks = (
            f"{advance.days} days of practice in a row {at}{how(asked)}, with at least "
            f"{LEAST_TRIES} tries together"
        )
    to = "practice less often" if asked.last else "move on"
    return f"still needed to {to}: {asks} ({_so_far(days, advance)}), {more}"


def _so_far(days: list[Rate], advance: Criterion) -> str:
    """The last days that reach it, as in "so far 1 day, 10 tries"."""
    high = takewhile(lambda rate: rate.reaches(advance.percent), reversed(days))
    there = list(islice(high, advance.days))
    if not there:
        return "so far none"
    return f"so far {several(len(there), 'day')}, {_tries(tries_in(there))}"


def _tries(number: int) -> str:
    return several(number, "try", "tries")
