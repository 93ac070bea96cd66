"""A step past sentences for a draft or for a program that is there."""

from __future__ import annotations

from collections.abc import Iterable
from typing import cast

from builder.drafting.insert_step import with_step
from builder.drafting.ladder import Draft
from builder.drafting.past_sentences.bank import Past, age_of, bank, talks
from builder.model.past_sentences import MINUTES, places_of
from builder.model.program import LEVELS, PAST_SENTENCES, Program, Step
from builder.phonetics.inventory import Sound
from builder.problems import UsageError
from builder.text.passage import Places, counted


def draft_past(
    sound: Sound,
    years: int | None,
    level: Past,
    places: Places,
    taken: Iterable[str] = (),
    names: Iterable[str] = (),
) -> Draft | None:
    """A step of the level; None where there is no text for it that the client has not yet.

    Of several texts the one with the most targets where they count. taken: texts and talks that the
    program has; names: of steps that there are.
    """
    used, age = set(taken), age_of(years)
    if level == "talk":
        ours = talks(age)
        name, where, company = next((talk for talk in ours if talk[1] not in used), ours[0])
        return Draft(
            name=_free(name, names), level=level, where=where, company=company, minutes=MINUTES
        )
    fit = [t for t in bank() if (t.sound, t.age, t.level) == (sound, age, level)]
    new = [t for t in fit if t.text not in used and counted(t.text, sound, places)]
    if not new:
        return None
    best = max(new, key=lambda t: len(counted(t.text, sound, places)))
    return Draft(name=_free(best.name, names), level=level, passage=best.text)


def _free(name: str, names: Iterable[str]) -> str:
    taken = set(names)
    numbered = (name, *(f"{name} {n}" for n in range(2, 99)))
    return next(one for one in numbered if one not in taken)


def extended_past(
    text: str, program: Program, level: Past, taken: Iterable[str] = ()
) -> tuple[str, tuple[Draft, ...]]:
    """The text with a step of the level after the last one that may stand before it.

    taken: names of steps that other programs of the client have. No step comes back where there is
    no text.
    """
    rank = LEVELS.index(level)
    earlier = (i for i, s in enumerate(program.steps) if LEVELS.index(s.level) <= rank)
    after = max(earlier, default=0)
    step = _like(program, level)
    made = draft_past(
        program.sound,
        program.written.age,
        level,
        places_of(program.steps[: after + 1], step),
        (t for s in program.steps for t in (s.passage, s.where)),
        {*(s.name for s in program.steps), *taken},
    )
    return (with_step(text, made, after), (made,)) if made else (text, ())


def up_to(level: Past, reads: bool, whose: str) -> tuple[Past, ...]:
    """The levels past sentences up to one. UsageError for reading, asked for who does not read.

    whose: the client or the file, for the message.
    """
    if level == "reading" and not reads:
        raise UsageError(
            f"{whose}: a client who does not read has no text to read aloud. Take `--to telling`: "
            "the helper reads it, and the client tells it again."
        )
    levels = cast(tuple[Past, ...], PAST_SENTENCES)
    wanted = levels[: levels.index(level) + 1]
    return wanted if reads else tuple(one for one in wanted if one != "reading")


def _like(program: Program, level: Past) -> Step:
    """A step of the level at all positions of the program, to ask what would count in it."""
    positions = tuple(dict.fromkeys(p for s in program.steps for p in s.positions))
    return Step(
        id="",
        name="",
        level=level,
        positions=positions,
        cluster=(),
        rounds=(),
        items=(),
        hold=0.0,
        path=(),
    )
