"""Order: isolation to sentence, then reading, telling, talk, for each position; model before no
model."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from builder.checks.findings import finding, listed
from builder.model.program import LEVELS, PAST_SENTENCES, Client, Level, Program, Step
from builder.phonetics.position import POSITIONS, Position
from builder.problems import Finding
from builder.survey.survey import Survey


def check_order(client: Client, _survey: Survey) -> Iterator[Finding]:
    """Levels never go back and leave none out; the first is where the ladder begins."""
    for program in client.programs:
        reported: set[tuple[str, str]] = set()
        for position in POSITIONS:
            steps = [s for s in program.steps if position in s.positions]
            for found in _ladder(program, position, steps):
                # One cause, one finding: a step at two positions goes wrong once.
                if (str(found.place), found.rule) not in reported:
                    reported.add((str(found.place), found.rule))
                    yield found


def _ladder(program: Program, position: Position, steps: list[Step]) -> Iterator[Finding]:
    groups: dict[tuple[object, ...], list[Step]] = {}
    for step in steps:
        groups.setdefault((step.sound or program.sound, *step.cluster), []).append(step)
    for group in groups.values():
        # A level that comes too late is out of order, and not missing as well.
        there = {*program.written.mastered, *(step.level for step in group)}
        if program.sound.kind == "rhotic":
            there.add("syllable")  # most are words already: deer, fear, near
        yield from _start(program, position, group[0], there)
        for before, after in zip(group, group[1:], strict=False):
            yield from _pair(program, position, before, after, there)


def _rank(level: Level) -> int:
    return LEVELS.index(level)


def _start(
    program: Program, position: Position, first: Step, there: set[Level]
) -> Iterator[Finding]:
    # A cluster and a second position take up what the single sound has learned.
    earlier = [s for s in program.steps[: program.steps.index(first)] if not s.cluster]
    known = {s.level for s in earlier} | there
    if not program.sound.stays_alone:
        known.add("isolation")
    if any(position in s.positions for s in earlier):
        known |= {level for s in earlier for level in LEVELS[: _rank(s.level) + 1]}
    missing = [level for level in LEVELS[: _rank(first.level)] if level not in known]
    if missing and first.level not in PAST_SENTENCES:  # sentences-first
        yield finding(
            program,
            (*first.path, "level"),
            "start",
            f"`{first.name}` begins at the {first.level} level in {position} position, but "
            f"{listed(missing)} {'is' if len(missing) == 1 else 'are'} neither a step nor "
            "listed as mastered.",
            f"Add a step for {listed(missing)}, or write when it was mastered on a line of its "
            f"own before `steps:`, as in `mastered: {{{missing[-1]}: 2026-11-02}}`.",
        )


def _pair(
    program: Program, position: Position, before: Step, after: Step, there: set[Level]
) -> Iterator[Finding]:
    path = (*after.path, "level")
    if _rank(after.level) < _rank(before.level):
        yield finding(
            program,
            path,
            "order",
            f"`{after.name}` ({after.level}) goes back to a lower level after `{before.name}` "
            f"({before.level}) in {position} position.",
            f"Put the steps in the order {', '.join(LEVELS)}.",
        )
        return
    between = LEVELS[_rank(before.level) + 1 : _rank(after.level)]
    missing = [level for level in between if level not in there]
    if missing and after.level not in PAST_SENTENCES:  # each optional; sentences-first
        yield finding(
            program,
            path,
            "gap",
            f"Between `{before.name}` ({before.level}) and `{after.name}` ({after.level}) the "
            f"{listed(missing)} level is missing in {position} position.",
            f"Add a step at the {missing[0]} level between them.",
        )


def check_rounds(client: Client, _survey: Survey) -> Iterator[Finding]:
    """Within a step: imitation before spontaneous, long before natural."""
    for program in client.programs:
        for step in program.steps:
            if _comes_late("imitation", "spontaneous", [r.support for r in step.rounds]):
                yield finding(
                    program,
                    (*step.path, "rounds"),
                    "support-order",
                    f"In `{step.name}` the client says the items alone before hearing them.",
                    "Put the imitation round first.",
                )
            if _comes_late("long", "natural", [r.form for r in step.rounds]):
                yield finding(
                    program,
                    (*step.path, "rounds"),
                    "form-order",
                    f"In `{step.name}` the natural form comes before the long one.",
                    "Put the long round first.",
                )


def _comes_late(easy: str, hard: str, rounds: Sequence[str]) -> bool:
    """Whether the first easy round follows a hard one; a later return to it is no matter."""
    return easy in rounds and hard in rounds[: rounds.index(easy)]
