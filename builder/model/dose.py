"""How long a sitting takes and how many tries it holds.

A sitting is the client's: all current steps of all programs, one after the other. Seconds come from
`Pace`, which the clinic file may change. Dose, frequency and duration, and their product, as in
Warren, Fey & Yoder 2007, MRDD Research Reviews 13:70-77.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from builder.model.clinic import DAYS, Day, Pace
from builder.model.pause import Pause, practice_days
from builder.model.program import Form, Level, Program, Round, Step, Support
from builder.text.several import several

YOUNG_BELOW_YEARS, SMALL_BELOW_YEARS = 6, 4
PATH_BELOW_YEARS = 10  # older children may find it childish; common practice, no source
USUAL_WEEKS = 2  # from one sheet to the next; common practice, no source
HOLDS_IN_A_ROW = 5  # long holds before a rest; common practice, no source
HOLD_S = 1.5  # seconds; the middle of 1-2 s (design of the long form)
LONGER_MINUTES: dict[Level, int] = {"word": 6, "phrase": 7, "sentence": 8}
"""Minutes that 30 tries of these levels take at four and five years, at the usual pace."""

UNCOUNTED: tuple[Level, ...] = ("telling", "talk")
"""Levels whose tries are not known before they are said."""


def is_young(age: int | None) -> bool:
    """Whether a client is so young that sittings and lists are shorter."""
    return age is not None and age < YOUNG_BELOW_YEARS


def is_small(age: int | None) -> bool:
    """Whether a client is so young that a sitting holds fewer tries."""
    return age is not None and age < SMALL_BELOW_YEARS


def likes_a_path(age: int | None) -> bool:
    """Whether a drawing that grows with practice suits a client; so where no age is told."""
    return age is None or age < PATH_BELOW_YEARS


def usual_minutes(age: int | None, levels: Iterable[Level] = ()) -> int:
    """Minutes of a sitting where the program gives none, by what is practiced in it."""
    if not is_young(age):
        return 10
    return 5 if is_small(age) else max([5, *(LONGER_MINUTES.get(level, 5) for level in levels)])


def try_seconds(
    pace: Pace,
    age: int | None,
    level: Level,
    form: Form,
    support: Support,
    hold: float = HOLD_S,
    contrast: bool = False,
) -> float:
    """Seconds of one try, those that are said once more counted in.

    A held sound takes its hold in the model and once more in the try.
    """
    first = {
        "imitation": pace.imitation,
        "delayed": pace.delayed,
        "spontaneous": pace.spontaneous,
    }
    of_level = {
        "isolation": pace.isolation,
        "syllable": pace.syllable,
        "word": 0.0,
        "phrase": pace.phrase,
    }
    of_age = pace.under_four if is_small(age) else pace.under_six if is_young(age) else 0.0
    held = hold * (1 if support == "spontaneous" else 2) if form == "long" else 0.0
    said = pace.pairs if contrast else first[support]
    each = max(2.0, said + of_level.get(level, pace.sentence) + of_age) + held
    return each * (1 + pace.repeats / 100)


def try_seconds_of(program: Program, step: Step, planned: Round) -> float:
    """Seconds of one try in a round of a step."""
    return try_seconds(
        program.pace,
        program.written.age,
        step.level,
        planned.form,
        planned.support,
        step.hold,
        planned.contrast,
    )


def breath_seconds(pace: Pace, form: Form, tries: int) -> float:
    """Seconds of the rests between held sounds."""
    return pace.breath * ((tries - 1) // HOLDS_IN_A_ROW) if form == "long" and tries else 0.0


def round_seconds(program: Program, step: Step, planned: Round) -> float:
    """Seconds of one round over all items of its step, every pass and every breath counted."""
    tries = step.tries_of(planned)
    each = try_seconds_of(program, step, planned)
    return tries * each + breath_seconds(program.pace, planned.form, tries)


def step_seconds(program: Program, step: Step) -> float:
    """Seconds of all rounds of a step, without the warm-up; past sentences, its own minutes."""
    return 60 * step.minutes + sum(round_seconds(program, step, planned) for planned in step.rounds)


def sitting_seconds(programs: Sequence[Program]) -> float:
    """Seconds of one sitting: one warm-up, then all rounds of all current steps of a client."""
    warm_up = max((program.pace.warm_up for program in programs), default=0.0)
    return warm_up + sum(step_seconds(p, step) for p in programs for step in p.current_steps)


def sitting_minutes(programs: Sequence[Program]) -> int:
    """The same in whole minutes, at least one: the figure that check names."""
    return whole_minutes(sitting_seconds(programs))


def family_minutes(programs: Sequence[Program]) -> int:
    """Minutes of one sitting as page and sheet name them: it ends with all that is due, or once the
    planned minutes are over; then the next one goes on from there."""
    return min(sitting_minutes(programs), planned_minutes(programs))


def whole_minutes(seconds: float) -> int:
    """Seconds as a family is told of them."""
    return max(1, int(seconds / 60 + 0.5))


def planned_minutes(programs: Sequence[Program]) -> int:
    """Minutes that are planned for a sitting."""
    return max(program.minutes for program in programs)


def planned_days(programs: Sequence[Program]) -> int:
    """Days from the start to the visit; those of the usual weeks where no program gives both."""
    dates = ((p.written.practice.start, p.written.practice.visit) for p in programs)
    spans = ((visit - start).days for start, visit in dates if start and visit and start < visit)
    return max(spans, default=7 * USUAL_WEEKS)


def sitting_tries(programs: Sequence[Program]) -> int:
    """Tries of one sitting: the dose."""
    return sum(step.tries for program in programs for step in program.current_steps)


def cumulative_tries(dose: float, frequency: float, duration: float) -> float:
    """Cumulative intervention intensity: tries a sitting x sittings a week x weeks, or a
    day x days."""
    return dose * frequency * duration


def week_tries(programs: Sequence[Program]) -> int:
    """Tries of one week, each program at its own times and days."""
    return round(sum(_tries_on(program, program.days) for program in programs))


def visit_tries(programs: Sequence[Program], pauses: Sequence[Pause] = ()) -> int:
    """Tries on all days of practice from the start up to the day before the visit, as the sheet has
    boxes for them; 0 where a program does not give both days."""
    tries = 0.0
    for program in programs:
        start, visit = program.written.practice.start, program.written.practice.visit
        if not (start and visit and start < visit):
            return 0
        weekdays = {DAYS.index(day) for day in program.days}
        days = practice_days(start, visit, weekdays, pauses)
        tries += _tries_on(program, (DAYS[day.weekday()] for day in days))
    return round(tries)


def _tries_on(program: Program, days: Iterable[Day]) -> float:
    dose = sitting_tries((program,))
    return sum(cumulative_tries(dose, program.sittings_on(day), 1) for day in days)


def in_words(programs: Sequence[Program], pauses: Sequence[Pause] = ()) -> str:
    """A sitting, a week and the time to the visit, for the therapist."""
    tries, minutes, planned = (
        count(programs) for count in (sitting_tries, sitting_minutes, planned_minutes)
    )
    if any(s.level in UNCOUNTED for p in programs for s in p.current_steps):
        return (
            f"a sitting takes about {several(minutes, 'minute')} ({planned} planned); how many "
            "tries telling and talk hold cannot be told beforehand"
        )
    said = (
        f"a sitting has {several(tries, 'try', 'tries')}, about {several(minutes, 'minute')} "
        f"({planned} planned)"
    )
    amount = [f"{week_tries(programs)} tries a week"]
    if until := visit_tries(programs, pauses):
        amount.append(f"{until} until the visit")
    return "; ".join((said, ", ".join(amount)))
