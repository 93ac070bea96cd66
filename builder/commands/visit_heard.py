"""What was typed of scores and notes -> what goes into the log."""

from __future__ import annotations

import argparse
import datetime
from collections.abc import Iterator

from builder.drafting.visit.plan_visit import step_named
from builder.model.program import PAST_SENTENCES, Program
from builder.practice.log.scores import VisitNote, VisitScore, read_score
from builder.practice.visit.written import Heard
from builder.problems import UsageError


def heard(
    args: argparse.Namespace, program: Program, to: int | None, day: datetime.date, site: str
) -> Heard:
    """Scores, with the note beside the first, or the note alone. to: number of the step that is
    practiced next. Raises UsageError for what cannot be read."""
    scores = scores_of(args, program, to, day, site)
    note = args.note.strip()
    return Heard(scores, (VisitNote(site, day, note),) if note and not scores else ())


def scores_of(
    args: argparse.Namespace, program: Program, to: int | None, day: datetime.date, site: str
) -> tuple[VisitScore, ...]:
    """Of the step practiced until now, and of the next one if it was tried."""
    told: list[tuple[int, tuple[int, int], bool, bool]] = []
    if args.score:
        told.append((_scored(args, program), read(args.score), args.no_model, args.probe))
    if to is not None and args.tried:
        told.append((to, read(args.tried), args.tried_no_model, False))
    made: list[VisitScore] = []
    for at, (correct, of), alone, probe in told:
        step = program.steps[at]
        alone = alone or probe or step.level in PAST_SENTENCES  # where nothing is heard first
        made.append(
            VisitScore(
                site=site,
                date=day,
                sound=(step.sound or program.sound).symbol,
                step=step.id,
                support="spontaneous" if alone else "imitation",
                correct=correct,
                of=of,
                probe=probe,
                note="" if made else args.note.strip(),
            )
        )
    return tuple(made)


def read(text: str) -> tuple[int, int]:
    """(correct, of). Raises UsageError for what is no score."""
    try:
        return read_score(text)
    except ValueError as problem:
        raise UsageError(str(problem)) from None


def _scored(args: argparse.Namespace, program: Program) -> int:
    """The step that was scored: the one named, else the current one."""
    if args.step:
        return step_named(program, args.step)
    if len(program.current) > 1:
        names = " or ".join(f'`--step "{step.name}"`' for step in program.current_steps)
        raise UsageError(f"Several steps are practiced. Say which was scored: {names}.")
    return program.current[0]


def in_log(heard: Heard) -> Iterator[str]:
    """What goes into the log, a line each."""
    yield from map(score_in_words, heard.scores)
    yield from (f"{note.date}: {note.note}" for note in heard.notes)


def score_in_words(score: VisitScore) -> str:
    """As in "2026-12-04 k-words: 17 of 20, without a model"."""
    how = "without a model" if score.support == "spontaneous" else "with a model"
    what = ", words kept out of practice" if score.probe else ""
    note = f" ({score.note})" if score.note else ""
    return f"{score.date} {score.step}: {score.correct} of {score.of}, {how}{what}{note}"
