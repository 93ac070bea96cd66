"""Holding a sound: only one that can be held, not for long, not in running speech."""

from __future__ import annotations

from collections.abc import Iterator

from builder.checks.findings import finding
from builder.model.program import Client, Program, Step
from builder.problems import Finding
from builder.survey.survey import Survey

LONG_HOLD_S = 3.0  # seconds
STRAINING_HOLD_S = 5.0  # seconds


def check_long_rounds(client: Client, _survey: Survey) -> Iterator[Finding]:
    """Long rounds and how long they hold."""
    for program in client.programs:
        for step in program.steps:
            first = next((r for r in step.rounds if r.form == "long"), None)
            if first:
                yield from _can_be_held(program, step, (*step.path, "rounds"))
                yield from _hold_seconds(program, step)


def _can_be_held(program: Program, step: Step, path: tuple[str | int, ...]) -> Iterator[Finding]:
    sound = program.sound
    if sound.hold == "no":
        yield finding(
            program,
            path,
            "no-hold",
            f"`{step.name}` asks for a long /{sound.ipa}/, but this sound cannot be held.",
            "Use natural rounds.",
        )
    elif sound.hold == "short":
        yield finding(
            program,
            path,
            "weak-hold",
            f"`{step.name}` holds /{sound.ipa}/, which turns into another sound when held.",
            "Use natural rounds, or listen to the long model first.",
        )
    if step.level in ("phrase", "sentence"):
        yield finding(
            program,
            path,
            "long-level",
            f"`{step.name}` holds the sound in a {step.level}.",
            "Use long rounds for isolation, syllables and words only.",
        )


def _hold_seconds(program: Program, step: Step) -> Iterator[Finding]:
    rule = (
        "hold-strain"
        if step.hold > STRAINING_HOLD_S
        else "hold-long"
        if step.hold > LONG_HOLD_S
        else ""
    )
    if rule:
        yield finding(
            program,
            (*step.path, "hold"),
            rule,
            f"`{step.name}` holds the sound for {step.hold:g} seconds.",
            "One to two seconds are enough; the client should not run short of breath.",
        )
