"""What a visit changed, in a line: "2 words out, 3 in; now 'phrases'; 36 tries in 8 minutes"."""

from __future__ import annotations

from collections.abc import Iterator

from builder.model import dose
from builder.model.program import Client, Program, RoundFile
from builder.text.several import several


def in_words(before: Program, after: Program, client: Client) -> str:
    """The difference of two states of a program. client: with the program as it is after."""
    return "; ".join([*_parts(before, after), _dose(client)])


def _parts(before: Program, after: Program) -> Iterator[str]:
    old, new = _words(before), _words(after)
    out, put = len(old - new), len(new - old)
    counts = [
        f"{several(out, 'word')} out" if out else "",
        f"{put} {'' if out else 'word ' if put == 1 else 'words '}in" if put else "",
    ]
    if out or put:
        yield ", ".join(filter(None, counts))
    names = [[step.name for step in one.current_steps] for one in (before, after)]
    if names[0] != names[1]:
        yield "now " + " and ".join(f"'{name}'" for name in names[1])
    for at in after.current:
        rounds = zip(before.written.steps[at].rounds, after.written.steps[at].rounds, strict=True)
        often = [f"{_times(new)} instead of {_times(old)}" for old, new in rounds if old != new]
        if often:
            yield f"'{after.steps[at].name}' {', '.join(often)}"
    if before.written.baseline and not after.written.baseline:
        yield "the old baseline is out"
    elif after.written.baseline and before.written.baseline != after.written.baseline:
        tried = after.written.baseline
        yield f"baseline {tried.correct} of {tried.of}"
    practice = after.written.practice
    if practice != before.written.practice:
        yield f"practice from {practice.start} to the visit on {practice.visit}"


def _times(one: RoundFile) -> str:
    return "once" if one.times == 1 else f"{one.times} times"


def _words(program: Program) -> set[str]:
    steps = (one for one in program.steps if one.level == "word" and not one.only_pairs)
    return {item.text.lower() for step in steps for item in step.items}


def _dose(client: Client) -> str:
    """Of what is tried in telling and talk nothing is known beforehand."""
    steps = [step for one in client.programs for step in one.current_steps]
    if steps and all(step.level in dose.UNCOUNTED for step in steps):
        minutes = dose.sitting_minutes(client.programs)
        return several(minutes, "minute")
    tries, minutes = dose.sitting_tries(client.programs), dose.sitting_minutes(client.programs)
    return f"{several(tries, 'try', 'tries')} in {several(minutes, 'minute')}"
