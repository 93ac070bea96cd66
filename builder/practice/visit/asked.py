"""What a proposal is asked of: each step that a program practices now, and how often. Pure."""

from __future__ import annotations

from collections.abc import Iterable

from builder.model.clinic import DAYS
from builder.model.pause import Pause, practice_days
from builder.model.program import Program
from builder.practice.figures.proposal.counting import Asked, Schedule

MONTHLY_DAYS = 21  # between two days of practice, from which on it is no longer weekly


def asked_of(program: Program, pauses: Iterable[Pause] = ()) -> tuple[Asked, ...]:
    """The current steps of a program in their order. pauses: the clinic's and the client's."""
    last = len(program.steps) - 1
    return tuple(
        Asked(
            program.steps[at].id,
            program.steps[at].level,
            program.written.criteria,
            at == last,
            schedule_of(program, pauses),
        )
        for at in program.current
    )


def schedule_of(program: Program, pauses: Iterable[Pause] = ()) -> Schedule:
    """How thin practice is planned: weekly on one day a week; monthly where pauses leave so few of
    these days up to the visit that they are about a month apart; else as often as usual."""
    if len(program.days) > 1:
        return ""
    practice = program.written.practice
    if not practice.start or not practice.visit:
        return "weekly"
    weekdays = {DAYS.index(day) for day in program.days}
    days = list(practice_days(practice.start, practice.visit, weekdays, tuple(pauses)))
    apart = (practice.visit - practice.start).days / len(days) if days else 0
    return "monthly" if apart >= MONTHLY_DAYS else "weekly"
