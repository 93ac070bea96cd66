"""Schedule and dose: minutes, tries, days and dates."""

from __future__ import annotations

import datetime
from collections.abc import Iterator
from pathlib import PurePath

from builder.checks.findings import finding, listed
from builder.model.dose import (
    is_young,
    round_seconds,
    sitting_minutes,
    sitting_tries,
    week_tries,
)
from builder.model.program import Client, Program
from builder.problems import Finding, KeyPath
from builder.survey.survey import Survey

MAX_MINUTES_YOUNG, MAX_MINUTES = 15, 20  # minutes a sitting, under six years and above
MIN_TRIES_PER_WEEK = 50  # a week
MAX_DAYS_TO_VISIT = 42  # days from start to visit


def check_minutes(client: Client, _survey: Survey) -> Iterator[Finding]:
    """The rounds of all of a client's current steps fit the minutes of a sitting."""
    planned = max(program.minutes for program in client.programs)
    minutes = sum(map(sitting_minutes, client.programs))
    tries = sum(map(sitting_tries, client.programs))
    if minutes >= planned + 0.5:  # what rounds to more than is planned
        program = client.programs[-1]
        yield finding(
            program,
            ("practice",),
            "too-much",
            f"A sitting has {tries} tries, about {minutes:.0f} minutes; {planned} "
            f"{'is' if planned == 1 else 'are'} planned.",
            _rounds_to_drop(client, minutes, planned),
        )


def _rounds_to_drop(client: Client, minutes: float, planned: int) -> str:
    """Which rounds to leave out, last ones first, so that the rest fits; always keeping one."""
    steps = [step for program in client.programs for step in program.current_steps]
    rounds = [(step, r) for step in steps for r in step.rounds]
    dropped = []
    for step, one in reversed(rounds[1:]):
        if minutes < planned + 0.5:
            break
        minutes -= round_seconds(step, one) / 60
        dropped.append(f"`{one.form} {one.support}` from `{step.name}`")
    if minutes < planned + 0.5 and dropped:
        return f"Drop {' and '.join(dropped)}, or plan more minutes."
    return "Shorten the list, or plan more minutes."


def check_sitting(client: Client, _survey: Survey) -> Iterator[Finding]:
    """Long sittings, few tries, too few or too many days."""
    for program in client.programs:
        most = MAX_MINUTES_YOUNG if is_young(program.written.age) else MAX_MINUTES
        if program.minutes > most:
            yield finding(
                program,
                ("practice", "minutes"),
                "long-sitting",
                f"{program.minutes} minutes is long for one sitting.",
                "Short, frequent practice helps more than long, rare practice.",
            )
        tries = week_tries(program)
        if tries < MIN_TRIES_PER_WEEK:
            yield finding(
                program,
                ("practice",),
                "few-tries",
                f"A week has only {tries} tries.",
                "Add items, rounds, sittings or days.",
            )
        yield from _days(program)


def _days(program: Program) -> Iterator[Finding]:
    count = len(program.days)
    if count < 4 or count == 7:
        yield finding(
            program,
            ("practice", "days"),
            "days",
            "Practising on all seven days leaves no day off."
            if count == 7
            else f"Practising on {count} day{'s' if count > 1 else ''} a week is not much.",
            "Four to six days a week are usual.",
        )


def check_dates(client: Client, _survey: Survey) -> Iterator[Finding]:
    """The visit comes after the start, and not long after."""
    for program in client.programs:
        practice = program.written.practice
        yield from _impossible_dates(program)
        if practice.start is None or practice.visit is None:
            continue
        gap = (practice.visit - practice.start).days
        if gap <= 0:
            yield finding(
                program,
                ("practice", "visit"),
                "visit",
                f"The visit ({practice.visit}) is not after the start ({practice.start}).",
                "Correct one of the two dates.",
            )
        elif gap > MAX_DAYS_TO_VISIT:
            yield finding(
                program,
                ("practice", "visit"),
                "far-visit",
                f"The visit is {gap} days after the start.",
                "Plan to review the practice within four to six weeks.",
            )


def _impossible_dates(program: Program) -> Iterator[Finding]:
    """Years that are typing errors, and a baseline taken after the visit it is for."""
    written = program.written
    dates: list[tuple[KeyPath, datetime.date | None]] = [
        (("practice", "from"), written.practice.start),
        (("practice", "visit"), written.practice.visit),
        (("baseline", "date"), written.baseline.date if written.baseline else None),
        *((("mastered", level), date) for level, date in written.mastered.items()),
    ]
    for path, date in dates:
        if date and not 2000 <= date.year < 2100:
            yield finding(
                program,
                path,
                "date",
                f"The year {date.year} cannot be right.",
                "Correct the date.",
            )
    visit, baseline = written.practice.visit, written.baseline
    if visit and baseline and baseline.date > visit:
        yield finding(
            program,
            ("baseline", "date"),
            "date",
            f"The baseline ({baseline.date}) is later than the visit ({visit}).",
            "Correct one of the two dates.",
        )


def check_shared_values(client: Client, _survey: Survey) -> Iterator[Finding]:
    """Two programs of a client are one sitting: age, reading, helper, days and visit are shared."""
    first = client.programs[0]
    for program in client.programs[1:]:
        pairs = (
            ("age", first.written.age, program.written.age),
            ("reads", first.written.reads, program.written.reads),
            ("helper", first.written.helper, program.written.helper),
            ("times", first.times, program.times),
            ("days", first.days, program.days),
            ("visit", first.written.practice.visit, program.written.practice.visit),
        )
        different = [f"`{name}`" for name, one, other in pairs if one != other]
        if different:
            yield finding(
                program,
                ("client",),
                "differs",
                f"This program and `{PurePath(first.file).name}` differ in {listed(different)}.",
                "They share one site and one sitting: write the same in both. Until then the site "
                "shows the days and times of both, the earlier visit, and the helper of the first.",
            )
