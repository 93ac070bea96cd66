"""More steps for a program that is there, from its own words."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace

from builder.drafting import ladder
from builder.drafting.choose_lines import in_turn
from builder.drafting.frames import Longer
from builder.drafting.insert_step import with_step
from builder.drafting.ladder import Draft, Learner, Share
from builder.drafting.line_difficulty import limits
from builder.drafting.word_kinds import PractisedWord, word
from builder.model.program import LEVELS, Level, Program, Step
from builder.phonetics.position import Position
from builder.program_file.pronounce import Target
from builder.wordbank.needs import needs_for

UP_TO: dict[Longer, tuple[Longer, ...]] = {
    "phrase": ("phrase",),
    "sentence": ("phrase", "sentence"),
}
Key = tuple[tuple[Position, ...], tuple[str, ...]]
"""What a ladder of steps practises: positions and cluster."""


def extended(
    text: str,
    program: Program,
    level: Longer,
    pictured: Callable[[str], bool],
    taken: Iterable[str] = (),
    others: Sequence[Program] = (),
) -> tuple[str, tuple[Draft, ...]]:
    """The text with a step of `level` for each ladder that has none, and the steps added.

    For a sentence step the phrase step before it is added too where it is missing. Where all
    ladders have the level, the last one gets a further step with other lines. No steps come back
    when the program has no words, or nothing fit to say is found. No step gets a name of `taken`.
    others: the client's other programs, whose lacking sounds count too.
    """
    made: list[Draft] = []
    steps: list[tuple[Level, Key]] = [(s.level, _key(s)) for s in program.steps]
    for key, one in _wanted(program, level):
        names = {s.name for s in program.steps} | {d.name for d in made} | set(taken)
        draft = _draft((program, *others), key, one, names, pictured)
        if draft:
            after = _after(steps, key, one)
            text = with_step(text, draft, after)
            steps.insert(after + 1, (one, key))
            made.append(draft)
    return text, tuple(made)


def _key(step: Step) -> Key:
    return step.positions, step.cluster


def _ladders(program: Program) -> list[Key]:
    return list(dict.fromkeys(_key(s) for s in program.steps if s.level == "word"))


def _wanted(program: Program, level: Longer) -> Iterator[tuple[Key, Longer]]:
    found = [
        ((missing, key[1]), one)
        for key in _ladders(program)
        for one in UP_TO[level]
        if (missing := _missing(program, key, one)) and one not in program.written.mastered
    ]
    yield from found or [(key, level) for key in _ladders(program)[-1:]]


def _missing(program: Program, key: Key, level: Longer) -> tuple[Position, ...]:
    """The positions of a ladder at which no step has the level."""
    there = {
        position
        for step in program.steps
        if step.level == level and step.cluster == key[1]
        for position in step.positions
    }
    return tuple(position for position in key[0] if position not in there)


def _after(steps: list[tuple[Level, Key]], key: Key, level: Longer) -> int:
    """After the last step of the ladder up to the level."""
    rank = LEVELS.index(level)
    return max(
        i
        for i, (one, other) in enumerate(steps)
        if other[1] == key[1] and set(other[0]) & set(key[0]) and LEVELS.index(one) <= rank
    )


def _draft(
    programs: tuple[Program, ...],
    key: Key,
    level: Longer,
    names: set[str],
    pictured: Callable[[str], bool],
) -> Draft | None:
    program, *others = programs
    positions, cluster = key
    words = in_turn([tuple(practised(program, ((p,), cluster))) for p in positions])
    target = Target(program.sound, positions, cluster)
    limit = limits(target, needs_for(program, others))
    reader = Learner(program.written.age, program.written.reads, pictured)
    usual = ladder.NAMES[level] if not cluster else f"{ladder.typed(cluster)} {ladder.NAMES[level]}"
    taken = [item.text for step in program.steps for item in step.items]
    found = ladder.longer(level, words, limit, reader, taken, _free(usual, names))
    if found is None:
        return None
    written = program.written
    share = Share(program.pace, written.age, written.practice.minutes, tuple(others))
    found = ladder.filled(found, share, 1)
    everywhere = set(positions) == set(written.position)
    return found if everywhere else replace(found, positions=positions)


def practised(program: Program, key: Key) -> Iterator[PractisedWord]:
    """The words of a ladder at its positions, said as the program says them."""
    seen: set[str] = set()
    for step in program.steps:
        for item in step.items if step.level == "word" and step.cluster == key[1] else ():
            if item.text.lower() in seen or item.position not in key[0]:
                continue
            seen.add(item.text.lower())
            found = word(item.text, item.words[0].phones if len(item.words) == 1 else ())
            if found:
                yield found


def _free(name: str, names: set[str]) -> str:
    numbered = (name, *(f"{name} {n}" for n in range(2, 99)))
    return next(one for one in numbered if one not in names)
