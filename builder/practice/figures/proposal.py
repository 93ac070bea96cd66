"""What the figures of a step speak for: on, stay or back, or that they say too little. Pure.

A proposal, never a decision. Thresholds are the program's `criteria:`; their defaults are usual in
clinics (80 % in three sessions; below 50 % in two) and no published rule. Marks from home are
lenient as often as not, so that they alone never propose to move on.
"""

from __future__ import annotations

import datetime
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Literal, TypeVar

from builder.model.criteria import Criteria, Criterion
from builder.model.program import Level, Support
from builder.practice.figures.intervals import Rate, difference, total
from builder.practice.figures.listeners import Day, are, by_role, days_of, named
from builder.practice.figures.score import Score
from builder.practice.figures.tries import Tries

Move = Literal["on", "stay", "back", "too little"]
Schedule = Literal["", "weekly", "monthly"]  # "": as often as the program says

LEAST_TRIES = 20  # of all days together: of 10, 10 clear may still be 72 % (Wilson)
FRESH_DAYS = 14  # as old her score may be, and home's last day of practice
FRESH_MONTHLY = 35  # home's, where practice is once a month
SCORES_ALONE = 3  # sessions in a row, the last one fresh: her own scores do without home's
LEAST_DAYS_BACK = 2  # whatever the program says, since one bad day moves nothing
WITH_A_MODEL: tuple[Level, ...] = ("isolation", "syllable")
"""Levels at which a try after a model counts; from words up only one without."""

TALK = "a reason to talk first: children have learned with 58 % clear in practice"
"""Matthews, Barbeau-Morrison & Rvachew 2021, LSHSS (abstract): 58 % correct on average."""


@dataclass(frozen=True)
class Asked:
    """A step and what is known of it. last: no step comes after it; schedule: how often it is
    practiced where all is reached already."""

    step: str
    level: Level
    criteria: Criteria
    last: bool = False
    schedule: Schedule = ""


@dataclass(frozen=True)
class Proposal:
    """move, and the sentence that gives it with its figures. ready: home has reached what is
    asked, and she has not heard it yet. schedule: the thinner one to go on with, after the last
    step. home, hers: what it rests on, None where there is nothing."""

    step: str
    move: Move
    sentence: str
    ready: bool = False
    schedule: Schedule = ""
    home: Rate | None = None
    hers: Rate | None = None


def counts_for(level: Level, support: Support | None) -> bool:
    """Whether a try speaks for moving on from a step of this level; None: nobody knows which."""
    return level in WITH_A_MODEL or support == "spontaneous"


def propose(
    asked: Asked, tries: Iterable[Tries], scores: Iterable[Score], today: datetime.date
) -> Proposal:
    """The proposal for a step from all tries and scores of a client up to `today`."""
    days = _days(asked, tries, today)
    own = _sessions(asked, scores, today)
    advance, back = asked.criteria.advance, asked.criteria.step_back
    fresh = own[-1] if own and (today - own[-1][0]).days <= FRESH_DAYS else None
    hers = fresh[1] if fresh else None
    home = _run(days, advance.days)
    reached = _reached(_rates(home), advance)
    alone = [rate for _, rate in _run(own, max(SCORES_ALONE, advance.days))] if fresh else []
    if reached and fresh and fresh[1].reaches(advance.percent):
        told = f"{_home(asked, home)}, and {_heard(fresh)}{_caution(home, fresh[1])}"
        return _on(asked, told, _total(home), hers)
    low = _run(days, max(back.days, LEAST_DAYS_BACK))
    fell = _fell(_rates(low), back)
    if not fell and len(alone) >= SCORES_ALONE and _reached(alone, advance):
        told = f"you heard {_each(alone)} correct in your last {len(alone)} sessions"
        return _on(asked, told, _total(home), total(alone))
    if fell:
        return _low(asked, low, back, fresh)
    sessions = [rate for _, rate in _run(own, max(back.days, LEAST_DAYS_BACK))] if fresh else []
    if _fell(sessions, back):
        return _she_heard_little(asked, sessions, home, reached)
    if reached:
        return _shown(asked, home, fresh)
    if _tries(_rates(home)) < LEAST_TRIES and _tries(alone) < LEAST_TRIES:
        return _too_little(asked, home, fresh)
    return _stay(asked, home, fresh)


Session = tuple[datetime.date, Rate]
T = TypeVar("T")


def _tries(rates: Iterable[Rate]) -> int:
    return sum(rate.tries for rate in rates)


def _days(asked: Asked, tries: Iterable[Tries], today: datetime.date) -> list[Day]:
    """The days on which the step was practiced as it counts; none where the last one is long
    past."""
    days = days_of(
        one
        for one in tries
        if one.step == asked.step and counts_for(asked.level, one.support) and one.day <= today
    )
    return days if days and (today - days[-1].date).days <= _fresh_days(asked) else []


def _fresh_days(asked: Asked) -> int:
    return FRESH_MONTHLY if asked.schedule == "monthly" else FRESH_DAYS


def _sessions(asked: Asked, scores: Iterable[Score], today: datetime.date) -> list[Session]:
    """Her scores of the step as they count, oldest first, those of one session together."""
    found: dict[datetime.date, list[Rate]] = {}
    for one in scores:
        if one.step == asked.step and counts_for(asked.level, one.support) and one.date <= today:
            found.setdefault(one.date, []).append(one.rate)
    return [(date, total(rates)) for date, rates in sorted(found.items())]


def _run(days: Sequence[T], number: int) -> list[T]:
    return list(days[-number:])


def _rates(days: Iterable[Day]) -> list[Rate]:
    return [one.rate for one in days]


def _total(days: list[Day]) -> Rate | None:
    return total(_rates(days)) if days else None


def _reached(rates: list[Rate], criterion: Criterion) -> bool:
    enough = len(rates) >= criterion.days and _tries(rates) >= LEAST_TRIES
    return enough and all(rate.reaches(criterion.percent) for rate in rates)


def _fell(rates: list[Rate], criterion: Criterion) -> bool:
    enough = len(rates) >= max(criterion.days, LEAST_DAYS_BACK)
    low = not any(rate.reaches(criterion.percent) for rate in rates)
    return enough and low and _tries(rates) >= LEAST_TRIES


def _on(asked: Asked, told: str, home: Rate | None, hers: Rate | None) -> Proposal:
    if not asked.last:
        return Proposal(asked.step, "on", f"Propose moving on: {told}.", False, "", home, hers)
    if asked.schedule == "monthly":
        sentence = f"Propose an end of practice, or staying with a month between: {told}."
        return Proposal(asked.step, "stay", sentence, False, "monthly", home, hers)
    thinner: Schedule = "monthly" if asked.schedule == "weekly" else "weekly"
    often = {"weekly": "once a week, later once a month", "monthly": "once a month"}[thinner]
    sentence = f"Propose practicing this last step {often}: {told}."
    return Proposal(asked.step, "on", sentence, False, thinner, home, hers)


def _low(asked: Asked, low: list[Day], back: Criterion, fresh: Session | None) -> Proposal:
    told = _marked(asked, _each(_rates(low)), low)
    home, hers = _total(low), fresh[1] if fresh else None
    if fresh and fresh[1].reaches(asked.criteria.advance.percent):
        sentence = f"Propose staying and listening together: {told}, but {_heard(fresh)}."
        return Proposal(asked.step, "stay", sentence, False, "", home, hers)
    also = f", and {_heard(fresh)}" if fresh else ""
    sentence = f"Propose stepping back: {told}, below {back.percent} % on each{also}; {TALK}."
    return Proposal(asked.step, "back", sentence, False, "", home, hers)


def _she_heard_little(
    asked: Asked, sessions: list[Rate], home: list[Day], reached: bool
) -> Proposal:
    """Low in her own sessions in a row. reached: home has what moving on asks for."""
    told = f"you heard {_each(sessions)} correct in your last {len(sessions)} sessions"
    rate, hers = _total(home), total(sessions)
    if reached:
        sentence = f"Propose staying and listening together: {_home(asked, home)}, but {told}."
        return Proposal(asked.step, "stay", sentence, False, "", rate, hers)
    also = f", and {_marked(asked, _each(_rates(home)), home)}" if home else ""
    below = f"below {asked.criteria.step_back.percent} % in each"
    sentence = f"Propose stepping back: {told}, {below}{also}; {TALK}."
    return Proposal(asked.step, "back", sentence, False, "", rate, hers)


def _shown(asked: Asked, home: list[Day], fresh: Session | None) -> Proposal:
    told = _home(asked, home)
    if fresh:
        sentence = f"Propose staying: {told}, but {_heard(fresh)}."
        return Proposal(asked.step, "stay", sentence, False, "", _total(home), fresh[1])
    none = f"you have no score{_how(asked)} of the last {FRESH_DAYS} days"
    sentence = f"Ready to be shown to you: {told}; {none}."
    return Proposal(asked.step, "stay", sentence, True, "", _total(home), None)


def _too_little(asked: Asked, home: list[Day], fresh: Session | None) -> Proposal:
    if home:
        told = _marked(asked, f"{_total(home)}", home)
    else:
        told = f"home marked no tries{_how(asked)} in the last {_fresh_days(asked)} days"
    also = f", and {_heard(fresh)}" if fresh else ""
    sentence = f"Too little to say: {told}{also}; it takes {LEAST_TRIES} tries."
    hers = fresh[1] if fresh else None
    return Proposal(asked.step, "too little", sentence, False, "", _total(home), hers)


def _stay(asked: Asked, home: list[Day], fresh: Session | None) -> Proposal:
    advance = asked.criteria.advance
    told = [
        _marked(asked, _each(_rates(home)), home) if home else "",
        _heard(fresh) if fresh else "",
    ]
    days = "one day" if advance.days == 1 else f"{advance.days} days in a row"
    asks = f"moving on asks for {advance.percent} % on {days}, and in your own score"
    figures = ", and ".join(filter(None, told))
    hers = fresh[1] if fresh else None
    sentence = f"Propose staying: {figures}; {asks}."
    return Proposal(asked.step, "stay", sentence, False, "", _total(home), hers)


def _home(asked: Asked, home: list[Day]) -> str:
    whole = total(_rates(home))
    told = _marked(asked, f"{whole}", home)
    each = " on each" if len(home) > 1 else ""
    percent = asked.criteria.advance.percent
    return f"{told}, {percent} % or more{each} (95 % interval {whole.surely})"


def _caution(home: list[Day], hers: Rate) -> str:
    """A helper who hears more than she does adds little to a single score of hers."""
    roles = by_role(home)
    lenient = [role for role, rate in roles.items() if difference(rate, hers)[0] > 0]
    if not lenient and difference(total(_rates(home)), hers)[0] > 0:
        lenient = [*roles]
    who = f"{named(lenient)} {are(lenient)}"
    told = f"; {who} more lenient than you, so one more score of yours is worth it"
    return told if lenient else ""


def _marked(asked: Asked, figures: str, days: list[Day]) -> str:
    """As in "home marked 54 of 60 (90 %) clear without a model on the last 3 days of practice".
    Where several listened, what each of them marked stands beside it."""
    roles = by_role(days)
    apart = [f"{named([role])} {rate.clear} of {rate.tries}" for role, rate in roles.items()]
    each = f" ({', '.join(apart)})" if len(apart) > 1 else ""
    when = f"on the last {_number(len(days))} of practice"
    return f"{named(roles)} marked {figures} clear{_how(asked)} {when}{each}"


def _how(asked: Asked) -> str:
    return "" if asked.level in WITH_A_MODEL else " without a model"


def _each(rates: list[Rate]) -> str:
    return _listed([str(rate) for rate in rates])


def _listed(parts: list[str]) -> str:
    return f"{', '.join(parts[:-1])} and {parts[-1]}" if len(parts) > 1 else parts[0]


def _number(days: int) -> str:
    return "day" if days == 1 else f"{days} days"


def _heard(session: Session) -> str:
    date, rate = session
    return f"you heard {rate} correct on {date.isoformat()}"
