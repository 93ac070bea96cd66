"""A sentence for the therapist's notes: what she heard in the last session, and what came of it.

Pure; no name and no code stands in it.
"""

from __future__ import annotations

import datetime
from collections.abc import Iterable, Mapping, Sequence
from itertools import groupby

from builder.model.program import Level
from builder.practice.figures.intervals import Rate, total
from builder.practice.figures.listeners import days_of, named
from builder.practice.figures.proposal.counting import counts_for
from builder.practice.figures.score import Score
from builder.practice.figures.tries import Tries
from builder.progress.series import How, how_scored
from builder.progress.steps import KnownStep, Shown
from builder.progress.stretches import Move, Steps

LEVELS: Mapping[Level, str] = {
    "isolation": "isolation",
    "syllable": "syllables",
    "word": "words",
    "phrase": "phrases",
    "sentence": "sentences",
    "reading": "reading aloud",
    "telling": "telling",
    "talk": "everyday talk",
}
ALONE: tuple[Level, ...] = ("reading", "telling", "talk")  # nobody gives a model there
SEEN: Mapping[tuple[bool, Shown], str] = {
    (True, "picture"): "picture naming without a model",
    (False, "picture"): "from pictures without a model",
    (True, "print"): "read aloud without a model",
    (False, "print"): "read aloud without a model",
}
"""By whether it is a word, and what is seen."""


def where(step: KnownStep, before: KnownStep | None = None) -> str:
    """As in "/k/ initial in words"; the sound and its place not again where the step told `before`
    has the same. A step of a plan that is not known stands by its name."""
    level = f"in {LEVELS[step.level]}" if step.level else f"in '{step.name}'"
    if before and (before.sound, before.place) == (step.sound, step.place):
        return level
    return " ".join(filter(None, (f"/{step.sound}/", step.place, level)))


def manner(step: KnownStep, how: How) -> str:
    """As in "picture naming without a model": what is true of the step; "" where it goes without
    saying."""
    if how == "probe words":
        return "probe words without a model"
    if how == "on paper":
        return "counted on paper"
    if how == "after a model":
        return "after a model"
    if step.level in ALONE:
        return ""
    if step.level in ("isolation", "syllable", None):
        return "without a model"
    return SEEN.get((step.level == "word", step.shown), "without a model")


def figures(rate: Rate) -> str:
    """As in "17 of 20 (85 %, 95 % interval 64 to 95 %)"."""
    return f"{rate.clear} of {rate.tries} ({rate.percent}, 95 % interval {rate.surely})"


def of_session(
    scores: Iterable[Score],
    steps: Sequence[KnownStep],
    moves: Iterable[Move],
    now: Steps,
    practiced: bool = False,
) -> str:
    """The sentence of the last session with a score; "" without any. now: the current steps as the
    program has them, () where there is no program; practiced: whether records tell what was
    practiced, so that there is no other move than `moves`."""
    known = {step.id: step for step in steps}
    heard = [one for one in scores if one.step in known]
    if not heard:
        return ""
    day = max(one.date for one in heard)
    order = {step.id: at for at, step in enumerate(steps)}
    last = sorted((s for s in heard if s.date == day), key=lambda s: (order[s.step], s.probe))
    told: list[str] = []
    before: KnownStep | None = None
    for (id_, how), alike in groupby(last, key=lambda s: (s.step, how_scored(s))):
        step, rate = known[id_], total([one.rate for one in alike])
        what = ", ".join(filter(None, (where(step, before), manner(step, how))))
        told.append(f"{what}: {figures(rate)}")
        before = step
    move = next((one for one in moves if one.day >= day), None)
    if move is None:
        scored = now if practiced else tuple(one.step for one in last)
        move = Move(day, scored, now, "session")
    after = _after(move, day, steps)
    return f"{'; '.join(told)} on {day}{'; ' + after if after else ''}."


def _after(move: Move, day: datetime.date, steps: Sequence[KnownStep]) -> str:
    """As in "moved to phrases", with its day where that is not the session's; "" where there is no
    step to name."""
    before = tuple(one for one in move.before if one not in move.after)
    if not move.after:
        return ""
    if not before:
        return f"continues in {_named(move.after, (), steps)}"
    told = f"{direction(before, move.after, steps)} {_named(move.after, before, steps)}"
    if move.day == day or move.whose == "program":
        return told
    return f"{told}{' on' if move.whose == 'session' else ', first practiced on'} {move.day}"


def direction(before: Steps, after: Steps, steps: Sequence[KnownStep]) -> str:
    """As in "moved to" or "back to", by the order of the steps."""
    order = [step.id for step in steps]

    def far(ids: Steps) -> int:
        return max((order.index(one) for one in ids if one in order), default=-1)

    return "back to" if far(after) < far(before) else "moved to"


def _named(ids: Steps, others: Steps, steps: Sequence[KnownStep]) -> str:
    """Steps by their levels; by their names, where a level does not tell them from others."""
    known = {step.id: step for step in steps}
    level_of = {one: known[one].level for one in (*ids, *others) if one in known}
    plain = not {level_of.get(one) for one in ids} & {level_of.get(one) for one in others}
    told = []
    for one in ids:
        level = level_of.get(one)
        name = known[one].name if one in known else one
        told.append(LEVELS[level] if plain and level else f"'{name}'")
    return " and ".join(dict.fromkeys(told))


def of_home(step: KnownStep, tries: Iterable[Tries], days: int) -> str:
    """The sentence where she has no score: home's marks that count for a step, on its last days of
    practice; "" without any."""
    own = [
        one
        for one in tries
        if one.step == step.id and step.level and counts_for(step.level, one.support)
    ]
    last = days_of(own)[-days:]
    if not last or not step.level:
        return ""
    how = "" if step.level in ("isolation", "syllable") else manner(step, "without a model")
    marked = f"as {named(role for day in last for role in day.by_role)} marked it"
    what = ", ".join(filter(None, (where(step), how, marked)))
    when = "the last day" if len(last) == 1 else f"the last {len(last)} days"
    rate = total([day.rate for day in last])
    return f"{what}: {figures(rate)} on {when} of practice, up to {last[-1].date}."
