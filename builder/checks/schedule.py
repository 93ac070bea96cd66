"""Schedule and dose: minutes, tries, days and dates."""

from __future__ import annotations

from collections.abc import Iterator

from builder.checks.findings import finding
from builder.dose import YOUNG, round_seconds, sitting_minutes, sitting_tries, week_tries
from builder.model import Client, Program
from builder.problems import Finding
from builder.survey import Survey

LONG_YOUNG, LONG = 15, 20  # minutes a sitting, under six years and above
FEW_TRIES = 50  # a week
FAR = 42  # days from start to visit


def check_minutes(client: Client, _survey: Survey) -> Iterator[Finding]:
    """The rounds of all of a client's current steps fit the minutes of a sitting."""
    for program in client.programs:
        minutes = sitting_minutes(program)
        if minutes > program.minutes:
            yield finding(
                program, ("practice",), "too-much",
                f"A sitting holds {sitting_tries(program)} tries, about {minutes:.0f} minutes; "
                f"{program.minutes} are planned.",
                _drop(program, minutes),
            )  # fmt: skip


def _drop(program: Program, minutes: float) -> str:
    """Which rounds to leave out, last ones first, so that the rest fits; always keeping one."""
    rounds = [(step, r) for step in program.current_steps for r in step.rounds]
    dropped = []
    for step, planned in reversed(rounds[1:]):
        if minutes <= program.minutes:
            break
        minutes -= round_seconds(step, planned) / 60
        dropped.append(f"'{planned.form} {planned.support}' of '{step.name}'")
    if minutes <= program.minutes and dropped:
        return f"Drop {' and '.join(dropped)}, or plan more minutes."
    return "Shorten the list, or plan more minutes."


def check_sitting(client: Client, _survey: Survey) -> Iterator[Finding]:
    """Long sittings, few tries, too few or too many days."""
    for program in client.programs:
        age = program.written.age
        most = LONG_YOUNG if age is not None and age < YOUNG else LONG
        if program.minutes > most:
            yield finding(
                program, ("practice", "minutes"), "long-sitting",
                f"{program.minutes} minutes are long for one sitting.",
                "Short and often helps more than long and rare.",
            )  # fmt: skip
        tries = week_tries(program)
        if tries < FEW_TRIES:
            yield finding(
                program, ("practice",), "few-tries", f"A week holds only {tries} tries.",
                "Add words, rounds, sittings or days.",
            )  # fmt: skip
        yield from _days(program)


def _days(program: Program) -> Iterator[Finding]:
    count = len(program.days)
    if count < 4 or count == 7:
        yield finding(
            program, ("practice", "days"), "days",
            "Practice on all seven days leaves no day off." if count == 7
            else f"Practice on {count} day{'s' if count > 1 else ''} a week is little.",
            "Four to six days a week are usual.",
        )  # fmt: skip


def check_dates(client: Client, _survey: Survey) -> Iterator[Finding]:
    """The visit comes after the start, and not long after."""
    for program in client.programs:
        practice = program.written.practice
        if practice.start is None or practice.visit is None:
            continue
        gap = (practice.visit - practice.start).days
        if gap <= 0:
            yield finding(
                program, ("practice", "visit"), "visit",
                f"The visit ({practice.visit}) does not come after the start ({practice.start}).",
                "Mend one of the two dates.",
            )  # fmt: skip
        elif gap > FAR:
            yield finding(
                program, ("practice", "visit"), "far-visit",
                f"The visit is {gap} days after the start.",
                "Plan a look at the practice within four to six weeks.",
            )  # fmt: skip
