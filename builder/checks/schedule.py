"""Schedule and dose: minutes, tries, days and dates."""

from __future__ import annotations

import datetime
from collections.abc import Iterator
from dataclasses import replace
from pathlib import PurePath

from builder.checks.findings import finding, listed
from builder.model import dose
from builder.model.fill_sitting import filled, with_times
from builder.model.program import PAST_SENTENCES, Client, Program
from builder.problems import Finding, KeyPath
from builder.survey.survey import Survey
from builder.text.several import several

MAX_MINUTES_YOUNG, MAX_MINUTES = 15, 20  # minutes a sitting, under six years and above
MIN_TRIES, MIN_TRIES_SMALL = 25, 15  # a sitting; under four years
# Of pairs a sitting holds fewer: with a therapist at least 50 tries in 30 minutes. Williams 2012,
# IJSLP 14(5):456-461.
MIN_PAIR_TRIES_A_MINUTE = 50 / 30
FAR_TIMES, FAR_MINUTES = 3, 15  # of what is planned, and minutes, past any reason
FAR_TRIES = 200  # a sitting; studies of dense practice with a therapist report 60 to 120
MAX_DAYS_TO_VISIT = 42  # days from start to visit


def check_minutes(client: Client, _survey: Survey) -> Iterator[Finding]:
    """The rounds of all of a client's current steps fit and fill the minutes of a sitting."""
    programs = client.programs
    tries, minutes = dose.sitting_tries(programs), dose.sitting_minutes(programs)
    planned = dose.planned_minutes(programs)
    if minutes > max(FAR_TIMES * planned, FAR_MINUTES) or tries > FAR_TRIES:
        usual = "15 to 25" if dose.is_small(programs[0].written.age) else "30 to 60"
        remedy = f"{usual} tries are usual. {_what_fits(client)} If so much is meant, say why."
        yield _of_sitting(client, "far-too-much", remedy)
    elif minutes > planned:
        yield _of_sitting(client, "too-much", f"{_what_fits(client)} {_as_it_is(planned)}")
    elif any(s.level in PAST_SENTENCES for p in programs for s in p.current_steps):
        return  # few-targets; of telling and talk nothing can be told beforehand
    elif tries < _least_tries(client) or (
        dose.sitting_seconds(programs) < planned * 60 / 2 and _more_fits(client)
    ):
        yield _of_sitting(client, "few-tries", _what_fills(client))


def _least_tries(client: Client) -> float:
    """Tries under which a sitting is too short to be practice."""
    least = MIN_TRIES_SMALL if dose.is_small(client.programs[0].written.age) else MIN_TRIES
    rounds = [r for p in client.programs for s in p.current_steps for r in s.rounds]
    if rounds and all(one.contrast for one in rounds):
        return min(least, MIN_PAIR_TRIES_A_MINUTE * dose.planned_minutes(client.programs))
    return least


def _as_it_is(planned: int) -> str:
    return (
        f"As it is, a sitting ends after {several(planned, 'minute')}, and the next "
        "one goes on from there."
    )


def _of_sitting(client: Client, rule: str, remedy: str) -> Finding:
    """What all programs come to, told at the last one; the tries where they are known."""
    programs = client.programs
    tries, minutes = dose.sitting_tries(programs), dose.sitting_minutes(programs)
    planned = dose.planned_minutes(programs)
    about = f"about {several(minutes, 'minute')}"
    known = not any(s.level in dose.UNCOUNTED for p in programs for s in p.current_steps)
    said = f"has {several(tries, 'try', 'tries')}, {about}" if known else f"takes {about}"
    sentence = f"A sitting {said}; {planned} {'is' if planned == 1 else 'are'} planned."
    return finding(programs[-1], ("practice",), rule, sentence, remedy)


def _what_fits(client: Client) -> str:
    """Other `times`, or rounds to drop, with which a sitting is no longer than planned."""
    planned = dose.planned_minutes(client.programs)
    fitted = filled(client, every=True)
    then = _once_written(client, fitted)
    if dose.sitting_minutes(then.programs) <= planned and (times := _new_times(client, fitted)):
        return f"{times} That makes {_amount(then)}. Or plan more minutes."
    return _rounds_to_drop(client, planned)


def _what_fills(client: Client) -> str:
    """Other `times` with which a sitting fills its minutes."""
    fitted = filled(client, every=True)
    if _more_fits(client) and (times := _new_times(client, fitted)):
        return f"{times} That makes {_amount(_once_written(client, fitted))}."
    return "Add items or rounds, or plan more minutes."


def _more_fits(client: Client) -> bool:
    fitted = filled(client, every=True)
    return dose.sitting_tries(fitted.programs) > dose.sitting_tries(client.programs)


def _new_times(client: Client, fitted: Client) -> str:
    """What to write where, for rounds that a program writes itself."""
    said = []
    for old, new in zip(client.programs, fitted.programs, strict=True):
        for step, other in zip(old.current_steps, new.current_steps, strict=True):
            changed = [
                f"`times: {b.times}` for `{b.form} {b.support}`"
                for a, b in zip(step.rounds, other.rounds, strict=True)
                if a.times != b.times and not a.contrast
            ]
            said += [f"{listed(changed)} of `{step.name}`"] if changed else []
    return f"Write {'; '.join(said)}." if said else ""


def _once_written(client: Client, fitted: Client) -> Client:
    """The client once these `times` are written: what no program writes, as the rounds of pairs,
    is then fitted anew."""
    programs = []
    for old, new in zip(client.programs, fitted.programs, strict=True):
        times = {
            (at, i): b.times
            for at in old.current
            for i, (a, b) in enumerate(zip(old.steps[at].rounds, new.steps[at].rounds, strict=True))
            if not a.contrast
        }
        programs.append(with_times(old, times))
    return filled(replace(client, programs=tuple(programs)))


def _amount(client: Client) -> str:
    minutes = dose.sitting_minutes(client.programs)
    tries = dose.sitting_tries(client.programs)
    return f"{several(tries, 'try', 'tries')} in about {several(minutes, 'minute')}"


def _rounds_to_drop(client: Client, planned: int) -> str:
    """Which rounds to leave out, last ones first, so that the rest fits; always keeping one."""
    seconds = dose.sitting_seconds(client.programs)
    steps = [(program, step) for program in client.programs for step in program.current_steps]
    rounds = [(program, step, r) for program, step in steps for r in step.rounds]
    dropped = []
    for program, step, one in reversed(rounds[1:]):
        if dose.whole_minutes(seconds) <= planned:
            break
        seconds -= dose.round_seconds(program, step, one)
        dropped.append(f"`{one.form} {one.support}` from `{step.name}`")
    if dose.whole_minutes(seconds) <= planned and dropped:
        return f"Drop {' and '.join(dropped)}, or plan more minutes."
    if any(step.minutes for _, step in steps):
        return "Practice fewer steps at once, give texts and talks fewer `minutes`, or plan more."
    return "Shorten the list, or plan more minutes."


def check_sitting(client: Client, _survey: Survey) -> Iterator[Finding]:
    """Long sittings, too few or too many days."""
    for program in client.programs:
        most = MAX_MINUTES_YOUNG if dose.is_young(program.written.age) else MAX_MINUTES
        if program.minutes > most:
            yield finding(
                program,
                ("practice", "minutes"),
                "long-sitting",
                f"{program.minutes} minutes is long for one sitting.",
                "Short, frequent practice helps more than long, rare practice.",
            )
        yield from _days(program)


def _days(program: Program) -> Iterator[Finding]:
    count = len(program.days)
    if count < 4 or count == 7:
        yield finding(
            program,
            ("practice", "days"),
            "days",
            "Practicing on all seven days leaves no day off."
            if count == 7
            else f"Practicing on {several(count, 'day')} a week is not much.",
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
            (
                "times",
                (first.times, first.times_by_role),
                (program.times, program.times_by_role),
            ),
            ("days", (first.days, first.by_role), (program.days, program.by_role)),
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
