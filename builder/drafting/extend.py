"""More steps for a program that is there, from its own words."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from builder.drafting import ladder
from builder.drafting.choose_lines import doubles, in_turn, is_drafted
from builder.drafting.frames import Longer
from builder.drafting.insert_step import with_items, with_step
from builder.drafting.ladder import Draft, Learner, Share
from builder.drafting.line_difficulty import Limits, limits
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
"""What a ladder of steps practices: positions and cluster."""


@dataclass(frozen=True)
class Refreshed:
    """A step with other lines than before.

    gone: the lines that it had and has no longer. hers: those of them that no draft says, and that
    the therapist therefore wrote or gave a pronunciation, picture or permanent name.
    """

    name: str
    items: tuple[str, ...]
    gone: tuple[str, ...]
    hers: tuple[str, ...]


def extended(
    text: str,
    program: Program,
    level: Longer,
    pictured: Callable[[str], bool],
    taken: Iterable[str] = (),
    others: Sequence[Program] = (),
) -> tuple[str, tuple[Draft, ...], tuple[Refreshed, ...]]:
    """The text with a step of `level` for each ladder that has none; the steps added.

    For a sentence step the phrase step before it is added too where it is missing. Where all
    ladders have the level, the steps of it that bear the name of a drafted one get lines of the
    words that are practiced now: these are the steps refreshed. Where no step bears it, the last
    ladder gets one more. No steps come back when the program has no words, or nothing fit to say
    is found. No new step gets a name of `taken`.
    others: the client's other programs, whose lacking sounds count too.
    """
    made: list[Draft] = []
    steps: list[tuple[Level, Key]] = [(s.level, key_of(s)) for s in program.steps]
    wanted = tuple(_lacking(program, level))
    drafted = () if wanted else tuple(_drafted(program, level))
    for at in drafted:
        step, names = program.steps[at], {s.name for s in program.steps}
        draft = draft_for((program, *others), key_of(step), level, names, pictured, at)
        if draft:
            text = with_items(text, at, draft.items)
            made.append(replace(draft, name=step.name))
    if drafted:
        by_name = {step.name: step for step in program.steps}
        return text, (), tuple(_refreshed(program, by_name[d.name], d) for d in made)
    for key, one in wanted or [(key, level) for key in _ladders(program)[-1:]]:
        names = {s.name for s in program.steps} | {d.name for d in made} | set(taken)
        draft = draft_for((program, *others), key, one, names, pictured)
        if draft:
            after = _after(steps, key, one)
            text = with_step(text, draft, after)
            steps.insert(after + 1, (one, key))
            made.append(draft)
    return text, tuple(made), ()


def _drafted(program: Program, level: Longer) -> Iterator[int]:
    """The places of the steps that bear the name that a draft gives."""
    for at, step in enumerate(program.steps):
        if step.level == level and step.items and step.name == _usual(level, step.cluster):
            yield at


def _usual(level: Longer, cluster: tuple[str, ...]) -> str:
    return f"{ladder.typed(cluster)} {ladder.NAMES[level]}" if cluster else ladder.NAMES[level]


def _refreshed(program: Program, step: Step, draft: Draft) -> Refreshed:
    now = tuple(map(str, draft.items))
    written = {item.word: item for item in program.written.steps[program.steps.index(step)].items}
    gone = tuple(text for text in written if text not in now)
    marked = {t for t, item in written.items() if item.say or item.picture or item.id}
    level: Longer = "phrase" if step.level == "phrase" else "sentence"
    hers = (t for t in written if t in marked or (t in gone and not is_drafted(t, level)))
    return Refreshed(step.name, now, gone, tuple(hers))


def key_of(step: Step) -> Key:
    """What the ladder of a step practices."""
    return step.positions, step.cluster


def _ladders(program: Program) -> list[Key]:
    return list(dict.fromkeys(key_of(s) for s in program.steps if s.level == "word"))


def _lacking(program: Program, level: Longer) -> Iterator[tuple[Key, Longer]]:
    """The ladders that lack a level up to this one, with the level."""
    for key in _ladders(program):
        for one in UP_TO[level]:
            missing = _missing(program, key, one)
            if missing and one not in program.written.mastered:
                yield (missing, key[1]), one


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


def draft_for(
    programs: tuple[Program, ...],
    key: Key,
    level: Longer,
    names: set[str],
    pictured: Callable[[str], bool],
    instead_of: int = -1,
) -> Draft | None:
    """One more step, or one with lines `instead_of` those of a step."""
    program, *others = programs
    positions, cluster = key
    words, limit = _sayable(programs, key)
    reader = Learner(program.written.age, program.written.reads, pictured)
    kept = [step for at, step in enumerate(program.steps) if at != instead_of]
    taken = [item.text for step in kept for item in step.items]
    name = _free(_usual(level, cluster), names)
    found = ladder.longer(level, words, limit, reader, taken, name)
    if found is None:
        return None
    written = program.written
    share = Share(program.pace, written.age, written.practice.minutes, tuple(others))
    found = ladder.filled(found, share, 1)
    everywhere = set(positions) == set(written.position)
    return found if everywhere else replace(found, positions=positions)


def doubles_for(programs: tuple[Program, ...], key: Key) -> tuple[str, ...]:
    """Sentences with two practiced words each, varied ones first, then all others."""
    return doubles(*_sayable(programs, key), ladder.MOST_LINES, programs[0].written.age)


def _sayable(programs: tuple[Program, ...], key: Key) -> tuple[list[PractisedWord], Limits]:
    """The practiced words of a ladder, and what the client may say beside them."""
    program, *others = programs
    positions, cluster = key
    words = in_turn([tuple(practised(program, ((p,), cluster))) for p in positions])
    target = Target(program.sound, positions, cluster)
    return words, limits(target, needs_for(program, others))


def practised(program: Program, key: Key) -> Iterator[PractisedWord]:
    """The words of a ladder at its positions, said as the program says them; none in which the
    target is not there as the ladder practices it, which the check calls a fault."""
    seen: set[str] = set()
    for step in program.steps:
        for item in step.items if step.level == "word" and step.cluster == key[1] else ():
            if item.text.lower() in seen or item.position not in key[0]:
                continue
            target = Target(step.sound or program.sound, key[0], key[1])
            if not any(target.found(one.phones) for one in item.words):
                continue
            seen.add(item.text.lower())
            found = word(item.text, item.words[0].phones if len(item.words) == 1 else ())
            if found:
                yield found


def _free(name: str, names: set[str]) -> str:
    numbered = (name, *(f"{name} {n}" for n in range(2, 99)))
    return next(one for one in numbered if one not in names)
