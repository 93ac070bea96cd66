"""Readiness: home practice consolidates what the client can already say."""

from __future__ import annotations

from collections.abc import Iterator

from builder.checks.findings import finding, listed
from builder.model.program import JUDGED, Client, Program
from builder.problems import Finding
from builder.survey.survey import Survey

READY_PERCENT = 80  # per cent
LOW_PERCENT = 50  # per cent; below it a client goes back a step, unless the program says otherwise
MAX_DAYS_TO_START = 42  # days from a baseline to the start of practice, as from start to visit


def check_baseline(client: Client, _survey: Survey) -> Iterator[Finding]:
    """There is a baseline, it is possible, and it is 80 % or more."""
    for program in client.programs:
        baseline = program.written.baseline
        if baseline is None:
            yield finding(
                program,
                ("current",),
                "baseline",
                "There is no baseline for the current step; practicing a sound that is not secure "
                "yet reinforces the error.",
                "Say how it went in the session: `baseline: {date: 2026-12-03, correct: 17, of: "
                "20}`.",
            )
        elif baseline.correct > baseline.of:
            yield finding(
                program,
                ("baseline", "correct"),
                "baseline-count",
                f"Of {baseline.of} tries, {baseline.correct} cannot have been correct.",
                "Correct one of the two numbers.",
            )
        elif baseline.correct * 100 < LOW_PERCENT * baseline.of:
            yield finding(
                program,
                ("baseline",),
                "baseline-low",
                f"{baseline.correct} of {baseline.of} correct is below {LOW_PERCENT} %: at home "
                "most tries would practice the error.",
                "Make an easier step the current one. If this one is right all the same, say why "
                "under `because:`, as in `baseline-low: ...`.",
            )
        elif baseline.correct * 100 < READY_PERCENT * baseline.of:
            yield finding(
                program,
                ("baseline",),
                "baseline",
                f"{baseline.correct} of {baseline.of} correct is below {READY_PERCENT} %; "
                "practicing a sound that is not secure yet reinforces the error.",
                "Make an easier step the current one, or say under `because:` why this one helps.",
            )


def check_old_baseline(client: Client, _survey: Survey) -> Iterator[Finding]:
    """The baseline is of the step that is practiced now, and of these weeks."""
    for program in client.programs:
        if why := _why_old(program):
            yield finding(
                program,
                ("baseline",),
                "baseline-old",
                f"The baseline {why}.",
                "Try the current step in the session, and write how it went.",
            )


def _why_old(program: Program) -> str:
    written = program.written
    baseline = written.baseline
    if baseline is None:
        return ""
    names = [step.name for step in written.steps]
    now = [names[at] for at in program.current]
    if baseline.step and names.index(baseline.step) < min(program.current):
        return f"is of `{baseline.step}`, not of {listed(f'`{name}`' for name in now)}"
    later = [level for level, date in written.mastered.items() if date > baseline.date]
    if later and not baseline.step:
        level = max(later, key=written.mastered.__getitem__)
        day = written.mastered[level]
        return f"({baseline.date}) is older than the day on which {level} was mastered ({day})"
    start = written.practice.start
    days = (start - baseline.date).days if start else 0
    return f"was taken {days} days before the start" if days > MAX_DAYS_TO_START else ""


def check_criteria(client: Client, _survey: Survey) -> Iterator[Finding]:
    """Moving on asks for more than going back."""
    for program in client.programs:
        criteria = program.written.criteria
        up, back = criteria.advance.percent, criteria.step_back.percent
        if back >= up:
            yield finding(
                program,
                ("criteria",),
                "criteria",
                f"A client would go back below {back} % and move on at {up} %.",
                "Make `step_back` lower than `advance`, as in 50 and 80.",
            )


def check_client_judges(client: Client, _survey: Survey) -> Iterator[Finding]:
    """Where the client is to judge first, somebody judges after, and there is a step for it."""
    for program in client.programs:
        if not program.written.client_judges:
            continue
        if client.practises_alone:
            yield finding(
                program,
                ("client_judges",),
                "client-judges",
                "This client practices alone, so every mark is the client's own anyway.",
                "Delete the line, or say who listens, as in `helper: home`.",
            )
        elif not any(step.level in JUDGED for step in program.published_steps):
            yield finding(
                program,
                ("client_judges",),
                "client-judges",
                "The client judges first from phrases up, and no step of phrases or sentences is "
                "published yet.",
                "Delete the line until phrases are practiced.",
            )


def check_hear_yourself(client: Client, _survey: Survey) -> Iterator[Finding]:
    """Where tries are recorded, even for a moment, nobody forbids it."""
    if "school" not in client.helpers:
        return
    for program in client.programs:
        if program.hear_yourself:
            own = program.written.hear_yourself is not None
            yield finding(
                program,
                ("hear_yourself",) if own else ("helper",),
                "hear-yourself",
                "School is among those who listen, and the client may record tries to hear them; "
                "many schools forbid recording, even where nothing is kept.",
                "Ask the school first, or write `hear_yourself: no`.",
            )


def check_error(client: Client, _survey: Survey) -> Iterator[Finding]:
    """What is said instead is another sound."""
    for program in client.programs:
        if program.error == program.sound:
            yield finding(
                program,
                ("error",),
                "same-error",
                f"`error` names the target sound itself, /{program.sound.ipa}/.",
                "Name what the client says instead, or delete the line.",
            )
