"""What a proposal is asked of: each step that a program practices now, and how often. Pure."""

from __future__ import annotations

from builder.model.program import Program
from builder.practice.figures.proposal import Asked, Schedule


def asked_of(program: Program) -> tuple[Asked, ...]:
    """The current steps of a program in their order."""
    last = len(program.steps) - 1
    return tuple(
        Asked(
            program.steps[at].id,
            program.steps[at].level,
            program.written.criteria,
            at == last,
            schedule_of(program),
        )
        for at in program.current
    )


def schedule_of(program: Program) -> Schedule:
    """How thin practice is planned: on one day a week it is weekly, else as often as usual."""
    return "weekly" if len(program.days) == 1 else ""
