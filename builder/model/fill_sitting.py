"""How often the rounds of a step are gone through, so that a sitting fills its minutes: 30 to 60
tries, under four years 15 to 25, shared between all programs of a client.

The numbers of tries are common practice, no source. Cf. Williams 2012, IJSLP 14(5):456-461, with at
least 50 tries in a session of 30 minutes; a sitting at home is shorter and comes more often.
"""

from __future__ import annotations

import itertools
import operator
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

from builder.model.clinic import Pace
from builder.model.dose import (
    breath_seconds,
    is_small,
    planned_minutes,
    sitting_tries,
    step_seconds,
    try_seconds,
    try_seconds_of,
    usual_minutes,
)
from builder.model.program import Client, Form, Level, Program, Round, Step, Support

TRIES, TRIES_SMALL = (30, 60), (15, 25)  # least and most of a sitting; under four years
MOST_TIMES = 30  # passes of one round
FILLED = 0.85  # the share of the minutes to aim at; the rest is slack
LEAST_PART = 0.8  # of an equal part, where others take a little more than theirs
ENOUGH = 0.75  # of what is aimed at, for the number of items
ROUNDING_S = 29.0  # seconds over the minutes that still round down to them


@dataclass(frozen=True)
class Room:
    """What a step may take of a sitting: seconds at most and aimed at, tries at least and most."""

    seconds: float
    aim: float
    least: float
    most: float

    def of(self, share: float) -> Room:
        """A share of it."""
        parts = (self.seconds, self.aim, self.least, self.most)
        return Room(*(part * share for part in parts))


@dataclass(frozen=True)
class Pass:
    """One pass of a round: seconds of a try, how many tries, how often at least."""

    form: Form
    seconds: float
    tries: int
    least: int = 1


def room(pace: Pace, age: int | None, minutes: int, level: Level) -> Room:
    """All that a sitting of so many minutes holds at a level, its warm-up taken off. A sound alone,
    the same each time, is tried no more often than must be; common practice, no source."""
    least, most = TRIES_SMALL if is_small(age) else TRIES
    most = least if level == "isolation" else most
    planned = minutes * 60
    return Room(planned + ROUNDING_S - pace.warm_up, planned * FILLED - pace.warm_up, least, most)


def pass_of(
    pace: Pace, age: int | None, level: Level, form: Form, support: Support, items: int
) -> Pass:
    """A pass over so many items."""
    return Pass(form, try_seconds(pace, age, level, form, support), items)


def best_times(passes: Sequence[Pass], room: Room, pace: Pace) -> tuple[int, ...]:
    """How often to go through each round; once each where even that is too much.

    What holds the least tries comes before what fills the minutes, and that before rounds of one
    length. Later rounds, which ask for more, are not gone through less often than earlier ones.
    """
    if not passes:
        return ()
    least = tuple(one.least for one in passes)
    fewest = min(max(1, one.tries) for one in passes)
    most = max(*least, min(MOST_TIMES, int(room.most / fewest)))
    fitting = [
        times
        for times in itertools.combinations_with_replacement(range(1, most + 1), len(passes))
        if all(map(operator.ge, times, least)) and _fits(passes, times, room, pace)
    ]
    return min(fitting, key=lambda times: _cost(passes, times, room, pace), default=least)


def best_items(
    choices: Sequence[int], passes: Callable[[int], Sequence[Pass]], room: Room, pace: Pace
) -> int:
    """The number of items with which rounds fill the room; of equals the one named first.

    passes: one pass over so many items, of each round.
    """

    def cost(items: int) -> tuple[bool, float, int]:
        once = passes(items)
        times = best_times(once, room, pace)
        short, _ = _cost(once, times, room, pace)
        empty = max(0.0, ENOUGH * room.aim - seconds(once, times, pace))
        return not _fits(once, times, room, pace), short + empty / 60, choices.index(items)

    return min(choices, key=cost)


def _fits(passes: Sequence[Pass], times: tuple[int, ...], room: Room, pace: Pace) -> bool:
    return _tries(passes, times) <= room.most and seconds(passes, times, pace) <= room.seconds


def _cost(
    passes: Sequence[Pass], times: tuple[int, ...], room: Room, pace: Pace
) -> tuple[float, float]:
    short = max(0.0, room.least - _tries(passes, times))
    off = abs(seconds(passes, times, pace) - room.aim) / 60
    # A round gone through once more than another weighs a quarter of a minute.
    return short, off + 0.25 * (max(times) - min(times))


def seconds(passes: Sequence[Pass], times: Sequence[int], pace: Pace) -> float:
    """Seconds of all rounds, breaths included."""
    return sum(
        one.tries * n * one.seconds + breath_seconds(pace, one.form, one.tries * n)
        for one, n in zip(passes, times, strict=True)
    )


def _tries(passes: Sequence[Pass], times: Sequence[int]) -> int:
    return sum(one.tries * n for one, n in zip(passes, times, strict=True))


def beside(whole: Room, others: Sequence[Program], level: Level) -> Room:
    """What a step of a further program may take beside the client's others, were they at the same
    level: what they leave, and never much less than its equal part."""
    part = LEAST_PART / (1 + len(others)) if others else 1.0
    return _beside(whole, [_at(other, level) for other in others], part)


def _at(program: Program, level: Level) -> Program:
    """The program with its first step of a level as the current one, where it has one."""
    at = next((i for i, step in enumerate(program.steps) if step.level == level), None)
    return program if at is None else replace(program, current=(at,))


def _keeps(program: Program, step: Step, parts: int) -> bool:
    """Whether a step fills its equal part as a draft does."""
    return tuple(one.times for one in step.rounds) == _times_of_part(program, step, parts)


def _beside(whole: Room, others: Sequence[Program], share: float) -> Room:
    """What the current steps of `others` leave of a room; never less than a share of it."""
    taken = sum(step_seconds(other, step) for other in others for step in other.current_steps)
    tries = sitting_tries(others)
    equal = whole.of(share)
    return Room(
        max(equal.seconds, whole.seconds - taken),
        max(equal.aim, whole.aim - taken),
        max(0.0, whole.least - tries),
        max(equal.most, whole.most - tries),
    )


def filled(client: Client, every: bool = False) -> Client:
    """The client with the rounds whose number no program writes gone through as often as fits: the
    usual rounds, and those of pairs, in which each word of a pair may be chosen.

    every: with all rounds, as advice for what a program writes.
    """
    fixed = tuple(_fixed_only(p, every) for p in client.programs)
    wanting = sum(
        any(_is_free(p, one, every) for one in step.rounds)
        for p in client.programs
        for step in p.current_steps
    )
    programs = (_filled(program, fixed, wanting, every) for program in client.programs)
    return replace(client, programs=tuple(programs))


def _is_free(program: Program, planned: Round, every: bool) -> bool:
    """Whether a program leaves it open how often a round is gone through."""
    written = program.written.steps[int(planned.path[1])].rounds
    return every or planned.contrast or not written


def _fixed_only(program: Program, every: bool) -> Program:
    steps = (
        replace(step, rounds=tuple(r for r in step.rounds if not _is_free(program, r, every)))
        for step in program.steps
    )
    return replace(program, steps=tuple(steps))


def _filled(program: Program, fixed: Sequence[Program], wanting: int, every: bool) -> Program:
    """One program with its free rounds fitted: those of the current steps share what the fixed
    rounds of the client leave, others are as long as if they were current."""
    share = 1 / len(fixed)
    parts = max(1, sum(len(one.current) for one in fixed))
    steps = []
    for at, step in enumerate(program.steps):
        now = at in program.current
        minutes = _minutes(program, step, now, fixed)
        whole = room(program.pace, program.written.age, minutes, step.level)
        left = _beside(whole, fixed, 1 / parts).of(1 / max(1, wanting)) if now else whole.of(share)
        free = [one for one in step.rounds if _is_free(program, one, every)]
        times = best_times([_pass(program, step, one) for one in free], left, program.pace)
        fitted = dict(zip(free, times, strict=True))
        rounds = (replace(r, times=fitted.get(r, r.times)) for r in step.rounds)
        steps.append(replace(step, rounds=tuple(rounds)))
    return replace(program, steps=tuple(steps))


def _pass(program: Program, step: Step, planned: Round) -> Pass:
    once = replace(planned, times=1)
    each = try_seconds_of(program, step, planned)
    return Pass(planned.form, each, step.tries_of(once), 2 if planned.contrast else 1)


def _minutes(program: Program, step: Step, now: bool, programs: Sequence[Program]) -> int:
    if now:
        return planned_minutes(programs)
    return program.written.practice.minutes or usual_minutes(program.written.age, (step.level,))


def reshared(program: Program, parts: int) -> dict[tuple[int, int], int]:
    """How often rounds are to be gone through, by step and round, when one more program shares a
    sitting of so many parts. Only steps that fill their part as a draft does: what else a program
    says is its author's choice."""
    found: dict[tuple[int, int], int] = {}
    for at, step in enumerate(program.steps):
        if program.written.steps[at].rounds and _keeps(program, step, parts):
            after = zip(step.rounds, _times_of_part(program, step, parts + 1), strict=True)
            found |= {(at, i): n for i, (one, n) in enumerate(after) if n != one.times}
    return found


def with_times(program: Program, times: Mapping[tuple[int, int], int]) -> Program:
    """The program with some rounds, by step and round, gone through so often."""
    steps = (
        replace(
            step,
            rounds=tuple(
                replace(one, times=times.get((at, i), one.times))
                for i, one in enumerate(step.rounds)
            ),
        )
        for at, step in enumerate(program.steps)
    )
    return replace(program, steps=tuple(steps))


def _times_of_part(program: Program, step: Step, parts: int) -> tuple[int, ...]:
    minutes = _minutes(program, step, False, ())
    part = room(program.pace, program.written.age, minutes, step.level).of(1 / parts)
    return best_times([_pass(program, step, one) for one in step.rounds], part, program.pace)
