"""What the figures of a step speak for: on, stay or back, or that they say too little. Pure.

A proposal, never a decision. Thresholds are the program's `criteria:`; their defaults are usual in
clinics (80 % in three sessions; below 50 % in two) and no published rule. Marks from home are
lenient as often as not, so that they alone never propose to move on.
"""

from __future__ import annotations

import datetime
from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Literal

from builder.model.criteria import Criterion
from builder.practice.figures.intervals import Rate, total
from builder.practice.figures.listeners import Day
from builder.practice.figures.proposal.counting import (
    FRESH_DAYS,
    LEAST_DAYS_BACK,
    LEAST_TRIES,
    SCORES_ALONE,
    Asked,
    Schedule,
    Session,
    counted_days,
    counted_sessions,
    falls,
    hard_of,
    last,
    rates_of,
    reaches,
    total_of,
    tries_in,
)
from builder.practice.figures.proposal.missing import none_counted, still_needed
from builder.practice.figures.proposal.said import (
    caution,
    each_of,
    heard,
    home_reached,
    how,
    marked,
)
from builder.practice.figures.score import Score
from builder.practice.figures.tries import Tries

Move = Literal["on", "stay", "back", "too little"]

TALK = "a reason to talk first: children have learned with 58 % clear in practice"
"""Matthews, Barbeau-Morrison & Rvachew 2021, LSHSS (abstract): 58 % correct on average."""


@dataclass(frozen=True)
class Proposal:
    """move, and the sentence that gives it with its figures. ready: home has reached what is
    asked, and she has not heard it yet. schedule: the thinner one to go on with, after the last
    step. home, hers: what it rests on, None where there is nothing. hard: as `hard_of`."""

    step: str
    move: Move
    sentence: str
    ready: bool = False
    schedule: Schedule = ""
    home: Rate | None = None
    hers: Rate | None = None
    hard: Rate | None = None


def propose(
    asked: Asked, tries: Iterable[Tries], scores: Iterable[Score], today: datetime.date
) -> Proposal:
    """The proposal for a step from all tries and scores of a client up to `today`."""
    every, own = tuple(tries), tuple(scores)
    found = _proposed(asked, every, own, today)
    return replace(found, hard=hard_of(asked, every, own, today))


def _proposed(
    asked: Asked, every: tuple[Tries, ...], scores: tuple[Score, ...], today: datetime.date
) -> Proposal:
    days = counted_days(asked, every, today)
    own = counted_sessions(asked, scores, today)
    advance, back = asked.criteria.advance, asked.criteria.step_back
    fresh = own[-1] if own and (today - own[-1][0]).days <= FRESH_DAYS else None
    hers = fresh[1] if fresh else None
    home = last(days, advance.days)
    reached = reaches(rates_of(home), advance)
    alone = [rate for _, rate in last(own, max(SCORES_ALONE, advance.days))] if fresh else []
    if reached and fresh and fresh[1].reaches(advance.percent):
        told = f"{home_reached(asked, home)}, and {heard(fresh)}{caution(home, fresh[1])}"
        return _on(asked, told, total_of(home), hers)
    low = last(days, max(back.days, LEAST_DAYS_BACK))
    fell = falls(rates_of(low), back)
    if not fell and len(alone) >= SCORES_ALONE and reaches(alone, advance):
        told = f"you heard {each_of(alone)} correct in your last {len(alone)} sessions"
        return _on(asked, told, total_of(home), total(alone))
    if fell:
        return _low(asked, low, back, fresh)
    sessions = [rate for _, rate in last(own, max(back.days, LEAST_DAYS_BACK))] if fresh else []
    if falls(sessions, back):
        return _she_heard_little(asked, sessions, home, reached)
    if reached:
        return _shown(asked, home, fresh)
    none = "" if home else none_counted(asked, every, today)
    if tries_in(rates_of(home)) < LEAST_TRIES and tries_in(alone) < LEAST_TRIES:
        return _too_little(asked, none, home, fresh)
    return _stay(asked, none, days, fresh)


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
    told = marked(asked, each_of(rates_of(low)), low)
    home, hers = total_of(low), fresh[1] if fresh else None
    if fresh and fresh[1].reaches(asked.criteria.advance.percent):
        sentence = f"Propose staying and listening together: {told}, but {heard(fresh)}."
        return Proposal(asked.step, "stay", sentence, False, "", home, hers)
    also = f", and {heard(fresh)}" if fresh else ""
    sentence = f"Propose stepping back: {told}, below {back.percent} % on each{also}; {TALK}."
    return Proposal(asked.step, "back", sentence, False, "", home, hers)


def _she_heard_little(
    asked: Asked, sessions: list[Rate], home: list[Day], reached: bool
) -> Proposal:
    """Low in her own sessions in a row. reached: home has what moving on asks for."""
    told = f"you heard {each_of(sessions)} correct in your last {len(sessions)} sessions"
    rate, hers = total_of(home), total(sessions)
    if reached:
        sentence = (
            f"Propose staying and listening together: {home_reached(asked, home)}, but {told}."
        )
        return Proposal(asked.step, "stay", sentence, False, "", rate, hers)
    also = f", and {marked(asked, each_of(rates_of(home)), home)}" if home else ""
    below = f"below {asked.criteria.step_back.percent} % in each"
    sentence = f"Propose stepping back: {told}, {below}{also}; {TALK}."
    return Proposal(asked.step, "back", sentence, False, "", rate, hers)


def _shown(asked: Asked, home: list[Day], fresh: Session | None) -> Proposal:
    told = home_reached(asked, home)
    if fresh:
        sentence = f"Propose staying: {told}, but {heard(fresh)}."
        return Proposal(asked.step, "stay", sentence, False, "", total_of(home), fresh[1])
    none = f"the log has no score of yours{how(asked)} of the last {FRESH_DAYS} days"
    sentence = f"Ready to be shown to you: {told}; {none}."
    return Proposal(asked.step, "stay", sentence, True, "", total_of(home), None)


def _too_little(asked: Asked, none: str, home: list[Day], fresh: Session | None) -> Proposal:
    told = none or marked(asked, f"{total_of(home)}", home)
    figures = _with(told, fresh, hers_first=bool(none))
    sentence = f"Too little to say: {figures}; it takes {LEAST_TRIES} tries{how(asked)}."
    hers = fresh[1] if fresh else None
    return Proposal(asked.step, "too little", sentence, False, "", total_of(home), hers)


def _stay(asked: Asked, none: str, days: list[Day], fresh: Session | None) -> Proposal:
    home = last(days, asked.criteria.advance.days)
    told = none or marked(asked, each_of(rates_of(home)), home)
    figures = _with(told, fresh, hers_first=bool(none))
    hers = fresh[1] if fresh else None
    sentence = f"Propose staying: {figures}; {still_needed(asked, rates_of(days), hers)}."
    return Proposal(asked.step, "stay", sentence, False, "", total_of(home), hers)


def _with(told: str, fresh: Session | None, *, hers_first: bool) -> str:
    """What practice tells, and what she heard."""
    both = (heard(fresh), told) if fresh and hers_first else (told, heard(fresh) if fresh else "")
    return ", and ".join(filter(None, both))
