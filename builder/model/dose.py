"""How long a sitting takes and how many tries it holds.

Seconds a try are common practice, no source: a try is hearing, saying and marking.
"""

from __future__ import annotations

from builder.model.program import Program, Round, Step

SECONDS_PER_TRY = {"imitation": 10.0, "delayed": 13.0, "spontaneous": 8.0}
CONTRAST_SECONDS_PER_TRY = 15.0  # choosing, saying, tapping, looking
YOUNG_BELOW_YEARS = 6


def is_young(age: int | None) -> bool:
    """Whether a client is so young that sittings and lists are shorter."""
    return age is not None and age < YOUNG_BELOW_YEARS


def usual_minutes(age: int | None) -> int:
    """Minutes of a sitting where the program gives none."""
    return 5 if is_young(age) else 10


def round_seconds(step: Step, planned: Round) -> float:
    """Seconds of one round over all items of its step, every pass counted."""
    held = step.hold if planned.form == "long" else 0.0
    each = CONTRAST_SECONDS_PER_TRY if planned.contrast else SECONDS_PER_TRY[planned.support]
    return step.tries_of(planned) * (each + held)


def step_seconds(step: Step) -> float:
    """Seconds of all rounds of a step."""
    return sum(round_seconds(step, planned) for planned in step.rounds)


def sitting_minutes(program: Program) -> float:
    """Minutes of one sitting: all rounds of all current steps."""
    return sum(map(step_seconds, program.current_steps)) / 60


def sitting_tries(program: Program) -> int:
    """Tries of one sitting."""
    return sum(step.tries for step in program.current_steps)


def week_tries(program: Program) -> int:
    """Tries of one week: a sitting's, times sittings a day, times days."""
    return sitting_tries(program) * len(program.times) * len(program.days)
