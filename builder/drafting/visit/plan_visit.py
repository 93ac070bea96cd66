"""What is to change at a visit -> the new text of the program. Pure: the day is an argument."""

from __future__ import annotations

import datetime
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from difflib import get_close_matches

from builder.drafting.visit.edit_program import Edited
from builder.drafting.visit.edit_yaml import Keys
from builder.model.clinic import DAYS
from builder.model.pause import Pause, paused
from builder.model.program import LEVELS, ItemFile, Program
from builder.problems import UsageError
from builder.program_file.pronounce import Target, item_of

A_DAY, A_WEEK = datetime.timedelta(days=1), datetime.timedelta(days=7)
LONGEST_PAUSE_WEEKS = 52
ON, BACK = "on", "back"  # in the place of a step's name


@dataclass(frozen=True, kw_only=True)
class Wanted:
    """What she said. day: of the visit. to: number of the step to practice next, None to stay;
    tried: (correct, of) of that step in the room. dates: of practice, by key. out, put: words."""

    day: datetime.date
    to: int | None = None
    tried: tuple[int, int] | None = None
    dates: dict[str, datetime.date]
    out: tuple[str, ...] = ()
    put: tuple[str, ...] = ()


def changed(text: str, program: Program, wanted: Wanted) -> str:
    """The program's text after the visit. Raises UsageError for what cannot be."""
    edited = Edited(text, program.file)
    check_words(edited, wanted.out, wanted.put)
    if wanted.out or wanted.put:
        edited.change_words(wanted.out, _placed(edited, program, wanted.put))
    if wanted.to is not None and (wanted.to,) != program.current:
        name = program.steps[wanted.to].name
        edited.set_current(name)
        if wanted.tried is None:
            edited.remove_baseline()
        else:
            edited.set_baseline(wanted.day, *wanted.tried, name)
    edited.set_dates(wanted.dates)
    return edited.text


def step_named(program: Program, told: str) -> int:
    """The number of the step with this name, id or level ("phrase", "phrases"), or of the one after
    or before what is practiced ("on", "back"). Raises UsageError where there is none, or several.
    """
    text = told.strip().lower()
    ways = (
        [step.name.lower() == text for step in program.steps],
        [step.id == text for step in program.steps],
        [text in (step.level, f"{step.level}s") for step in program.steps],
    )
    for way in ways:
        found = [at for at, fits in enumerate(way) if fits]
        if len(found) == 1:
            return found[0]
        if found:
            names = " or ".join(f"`{program.steps[at].name}`" for at in found)
            raise UsageError(f"`{told}` could be several steps. Say which: {names}.")
    if text in (ON, BACK):
        return _beside_current(program, text)
    names = ", ".join(f"`{step.name}`" for step in program.steps)
    level = text.removesuffix("s")
    more = (
        f" `practice-site extend {program.written.client} --to {level}` writes one."
        if level in LEVELS[LEVELS.index("phrase") :]
        else ""
    )
    raise UsageError(f"{program.file}: no step is called `{told}`. There are {names}.{more}")


def _beside_current(program: Program, text: str) -> int:
    at = max(program.current) + 1 if text == ON else min(program.current) - 1
    if 0 <= at < len(program.steps):
        return at
    end = "last" if text == ON else "first"
    step = program.steps[-1 if text == ON else 0]
    raise UsageError(f"{program.file}: `{text}` leads nowhere: `{step.name}` is the {end} step.")


def dates_until(
    visit: datetime.date, day: datetime.date, program: Program, pauses: Sequence[Pause]
) -> dict[str, datetime.date]:
    """The first day of practice after the visit of `day`, and the next visit; both moved past
    pauses, the visit by whole weeks. Raises UsageError where no day of practice is left."""
    weekdays = {DAYS.index(one) for one in program.days}
    for _ in range(LONGEST_PAUSE_WEEKS):
        if not paused(visit, pauses):
            break
        visit += A_WEEK
    start = day + A_DAY
    while start < visit and (start.weekday() not in weekdays or paused(start, pauses)):
        start += A_DAY
    if start >= visit:
        raise UsageError(f"After {day} no day of practice is left before the visit on {visit}.")
    return {"from": start, "visit": visit}


def check_words(edited: Edited, out: Sequence[str], put: Sequence[str] = ()) -> None:
    """Raises UsageError for a word that cannot go, since it is not there, or cannot come, since it
    is."""
    there = {text.lower(): text for keys in edited.word_lists() for text in edited.words(keys)}
    for text in out:
        if text.lower() not in there:
            near = get_close_matches(text.lower(), there, n=1)
            hint = f" Did you mean `{there[near[0]]}`?" if near else ""
            raise UsageError(f"`{text}` is none of the words that are practiced.{hint}")
    gone = {text.lower() for text in out}
    for text in put:
        if text.lower() in there and text.lower() not in gone:
            raise UsageError(f"`{text}` is practiced already.")


def _placed(edited: Edited, program: Program, put: Iterable[str]) -> dict[Keys, list[str]]:
    """The new words by the list that each belongs into: that of the position of its target."""
    found: dict[Keys, list[str]] = {}
    for text in put:
        places = program.written.position
        fitting = [p for p in places if _stands(text, program, p)] or list(places)
        keys = next(filter(None, map(edited.list_for, fitting)), None)
        if keys is None:
            raise UsageError(
                f"{program.file}: it has no list of words to which one could be added."
            )
        found.setdefault(keys, []).append(text)
    return found


def _stands(text: str, program: Program, position: object) -> bool:
    target = Target(program.sound, tuple(p for p in program.written.position if p == position))
    item = item_of(ItemFile(word=text), (), target, "word")
    return any(target.found(word.phones) for word in item.words)


def with_fitted_times(text: str, before: Program, fitted: Program) -> str:
    """The text with the `times:` that `fitted` has in rounds of its current steps, where the
    program writes some; rounds without stay as they are."""
    edited = Edited(text)
    for at in fitted.current:
        rounds = zip(before.steps[at].rounds, fitted.steps[at].rounds, strict=True)
        for old, new in rounds:
            if old.times != new.times and not old.contrast:
                edited.set_times(old.path, new.times)
    return edited.text
