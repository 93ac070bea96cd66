"""Pauses: days on which nobody practices, and what they leave of the time up to the visit."""

from __future__ import annotations

import datetime
from collections.abc import Iterable, Iterator

from builder.checks.findings import finding, listed
from builder.model.clinic import DAYS, Day
from builder.model.pause import Pause, merged, practice_days
from builder.model.program import Client, Program
from builder.problems import Finding
from builder.survey.survey import Survey
from builder.text.several import several


def check_pauses(client: Client, _survey: Survey) -> Iterator[Finding]:
    """Start and visit lie in no pause, and days of practice are left between them."""
    pauses = pauses_of(client)
    for program in client.programs:
        practice = program.written.practice
        for key, what, date in (
            ("from", "start", practice.start),
            ("visit", "visit", practice.visit),
        ):
            hit = [pause for pause in pauses if date and date in pause]
            if hit:
                yield finding(
                    program,
                    ("practice", key),
                    "pause-date",
                    f"The {what} ({date}) is in the pause {hit[0]}.",
                    "Correct one of the two.",
                )
        if practice.start and practice.visit and practice.visit > practice.start:
            yield from _no_days(program, practice.start, practice.visit, pauses)


def _no_days(
    program: Program, start: datetime.date, visit: datetime.date, pauses: tuple[Pause, ...]
) -> Iterator[Finding]:
    """One where nobody has a day, else where one of those who listen has none."""
    each = {f" for `{role}`": days for role, days in program.by_role.items()}
    for whose, days in ({"": program.days} | each).items():
        if any(practice_days(start, visit, _weekdays(days), pauses)):
            continue
        reason = " outside the pauses" if pauses else ""
        yield finding(
            program,
            ("practice", "visit"),
            "no-days",
            f"From {start} up to the visit on {visit} there is no day of practice{whose}{reason}.",
            f"Correct the dates, or practice on other days than {listed(days)}.",
        )
        if not whose:
            return


def pauses_of(client: Client) -> tuple[Pause, ...]:
    """The clinic's pauses and those of all programs of the client."""
    return merged(client.clinic.pause, *(p.written.pause for p in client.programs))


def days_left(client: Client) -> str:
    """The pauses between start and visit and the days of practice beside them, in a line; "" when
    there is no pause, or a date is not known."""
    told = []
    for program in client.programs:
        start, visit = program.written.practice.start, program.written.practice.visit
        if not start or not visit:
            continue
        within = [str(p) for p in pauses_of(client) if p.first < visit and p.last >= start]
        if within:
            days = len(
                list(practice_days(start, visit, _weekdays(program.days), pauses_of(client)))
            )
            told.append(
                f"    pause: {listed(within)}; {several(days, 'day')} of practice from "
                f"{start} up to the visit on {visit}"
            )
    return "\n".join(dict.fromkeys(told))


def _weekdays(days: Iterable[Day]) -> set[int]:
    return {DAYS.index(day) for day in days}
