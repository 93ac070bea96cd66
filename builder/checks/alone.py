"""Alone: what asks for somebody who listens, in the programs of a client who has nobody."""

from __future__ import annotations

from collections.abc import Iterator

from builder.checks.findings import finding, quoted, verb
from builder.model.program import Client, Form, Item, Program, Step
from builder.problems import Finding
from builder.recordings.prompts import item_utterance
from builder.survey.speaker import fit_voice, recorded
from builder.survey.survey import Survey

MIN_AGE = 13  # years; a teenager may be a judge of his or her own tries; common practice, no source


def check_alone(client: Client, survey: Survey) -> Iterator[Finding]:
    """Everything that a client who practices alone cannot do."""
    if len(client.helpers) > 1 and "self" in client.helpers:
        yield _with_others(client.programs[0])
    if not client.practises_alone:
        return
    yield from _client(client.programs[0])
    for program in client.programs:
        yield from _contrasts(program)
        yield from _models(program, survey)


def _with_others(program: Program) -> Finding:
    return finding(
        program,
        ("helper",),
        "alone-others",
        "`self` stands beside somebody who listens; the pages can speak to a client who practices "
        "alone or to a helper, not to both.",
        "Write `helper: self` alone, or those who listen, as in `helper: [home, school]`.",
    )


def _client(program: Program) -> Iterator[Finding]:
    """Whether the client can read the pages, and is old enough to judge."""
    age = program.written.age
    if not program.written.reads:
        yield finding(
            program,
            ("helper",),
            "alone-reads",
            "This client practices alone but does not read, and the pages tell in print what to "
            "do.",
            "Write `reads: yes` if this client reads; otherwise say who listens, as in "
            "`helper: home`.",
        )
    if age is not None and age < MIN_AGE:
        yield finding(
            program,
            ("helper",),
            "alone-age",
            f"This client is {age} and practices alone, so nobody else hears the tries.",
            f"Under {MIN_AGE}, somebody should listen: say who does, as in `helper: home`.",
        )


def _contrasts(program: Program) -> Iterator[Finding]:
    for step in program.steps:
        if step.pairs:
            yield finding(
                program,
                (*step.path, "contrast"),
                "alone-contrast",
                f"In the contrast round of `{step.name}` somebody else taps the word that was "
                "heard; this client practices alone and knows which one was meant.",
                "Delete the pairs, say who listens, as in `helper: home`, or give your reason "
                "under `because:`.",
            )


def _models(program: Program, survey: Survey) -> Iterator[Finding]:
    """Words to be heard first that nobody says; one finding for each form, at its first step."""
    forms: tuple[Form, ...] = ("long", "natural")
    for form in forms:
        unsaid = [
            (step, item)
            for step in program.published_steps
            if any(r.form == form and r.support != "spontaneous" for r in step.rounds)
            for item in step.items
            if item.phones and not _is_said(program, step, item, form, survey)
        ]
        if unsaid:
            yield _unsaid(program, unsaid[0][0], form, [item.text for _, item in unsaid])


def _is_said(program: Program, step: Step, item: Item, form: Form, survey: Survey) -> bool:
    asked = item_utterance(program, step, item, form)
    voice = fit_voice(asked, item.position, program.voice)
    return bool(voice or recorded(asked, item.position, survey))


def _unsaid(program: Program, step: Step, form: Form, texts: list[str]) -> Finding:
    first = f"{quoted(texts)}{' with a long sound' if form == 'long' else ''}"
    if program.voice == "helper":
        return finding(
            program,
            ("voice",) if program.written.voice else ("helper",),
            "alone-voice",
            f"With `voice: helper` nobody says {first}: this client practices alone.",
            "Record what is missing, name a voice, as in `voice: woman`, or make the rounds "
            "spontaneous.",
        )
    return finding(
        program,
        (*step.path, "rounds"),
        "alone-model",
        f"No voice is fit to say {first}, so this client, who practices alone, hears no model.",
        f"Record {verb(texts, 'it', 'them')} (`practice-site record`), or choose rounds that need "
        "no such model.",
    )
