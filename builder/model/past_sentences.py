"""Steps past sentences: a text or a talk in place of items, and which targets in it count."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from builder.model.program import PAST_SENTENCES, ProgramFile, Step, StepFile
from builder.phonetics.inventory import Sound
from builder.phonetics.position import POSITIONS, Position
from builder.problems import KeyPath
from builder.text.passage import PassageTarget, Places, counted

MINUTES = 5  # of reading, telling or talk where the program gives none; common practice, no source


def past_sentence_step(
    step: StepFile,
    positions: tuple[Position, ...],
    cluster: tuple[str, ...],
    name: str,
    path: KeyPath,
) -> Step:
    """The step without its targets, which depend on the steps before it."""
    return Step(
        id=name,
        name=step.name,
        level=step.level,
        positions=positions,
        cluster=cluster,
        rounds=(),
        items=(),
        hold=0.0,
        path=path,
        passage=step.passage.strip(),
        where=step.where,
        company=step.company,
        minutes=step.minutes or MINUTES,
    )


def with_targets(written: ProgramFile, steps: tuple[Step, ...], sound: Sound) -> tuple[Step, ...]:
    """The steps, those past sentences with their positions and with how many targets count.

    Unless it names its own, a passage is for all positions that were practiced up to it.
    """
    return tuple(_with_targets(written, steps, at, sound) for at in range(len(steps)))


def _with_targets(written: ProgramFile, steps: tuple[Step, ...], at: int, sound: Sound) -> Step:
    step = steps[at]
    if step.level not in PAST_SENTENCES:
        return step
    if not written.steps[at].position:
        there = {p for s in steps[: at + 1] for p in s.positions} | {*written.position}
        step = replace(step, positions=tuple(p for p in POSITIONS if p in there))
    places = places_of(steps, step)
    return replace(step, targets=len(counted(step.passage, step.sound or sound, places)))


def places_of(steps: Sequence[Step], step: Step) -> Places:
    """Where targets of a passage count: at the step's positions, alone and in the clusters that
    steps before it practice; in its own cluster only where it names one. Where no step before it
    says which, they count in every cluster."""
    if step.cluster:
        return Places(step.positions, frozenset((step.cluster,)))
    before = list(_before(steps, step))
    known = frozenset({(), *(one.cluster for one in before)}) if before else None
    return Places(step.positions, known)


def _before(steps: Sequence[Step], step: Step) -> Iterator[Step]:
    for one in steps:
        if one.id == step.id:
            return
        if one.level not in PAST_SENTENCES:
            yield one


def targets_of(steps: Sequence[Step], step: Step, sound: Sound) -> tuple[PassageTarget, ...]:
    """The targets of a step's passage that count; `sound` where the step names none of its own."""
    return counted(step.passage, step.sound or sound, places_of(steps, step))
