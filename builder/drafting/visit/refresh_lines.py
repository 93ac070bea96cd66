"""Drafted phrases and sentences follow the words: lines of words that are out go, lines of new
words come; what the therapist wrote herself stays, and so does its place."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from builder.drafting.choose_lines import is_drafted, is_drafted_double
from builder.drafting.extend import doubles_for, draft_for, key_of
from builder.drafting.frames import Longer
from builder.drafting.ladder import MOST_LINES, TWO
from builder.drafting.visit.edit_program import Edited
from builder.model.program import Program, Step
from builder.program_file.pronounce import sounds_taught, words_of

LONGER: tuple[Longer, ...] = ("phrase", "sentence")


@dataclass(frozen=True)
class Lines:
    """What became of a step. still: her own lines that say a word that is out."""

    name: str
    gone: tuple[str, ...]
    new: tuple[str, ...]
    still: tuple[str, ...]


def refreshed(
    text: str,
    program: Program,
    out: Iterable[str],
    put: Iterable[str],
    pictured: Callable[[str], bool],
    others: Sequence[Program] = (),
) -> tuple[str, tuple[Lines, ...]]:
    """The text with other lines in its phrase and sentence steps. program: what `text` says, with
    the words `out` out of it and `put` in. others: the client's other programs."""
    gone = {word.lower() for word in out}
    new = {word.lower() for word in put}
    if len(sounds_taught(program)) > 1:  # whose lines are these? hers to write, as in `extend`
        return text, ()
    edited = Edited(text)
    told: list[Lines] = []
    for at, step in enumerate(program.steps):
        for level in LONGER:
            if step.level == level and program.written.steps[at].items:
                lines = _of_step(edited, program, at, level, gone, new, pictured, others)
                told += [lines] if lines.gone or lines.new or lines.still else []
    return edited.text, tuple(told)


def without_line(program: Program, put: Iterable[str], told: Sequence[Lines]) -> tuple[str, ...]:
    """New words with which no line was drafted, though the program has steps for such lines: ours
    know no natural one, or the target is not there as it is practiced."""
    if not any(step.level in LONGER and step.items for step in program.steps):
        return ()
    said = [line for lines in told for line in lines.new]
    return tuple(one for one in put if not any(_holds(line, one) for line in said))


def _holds(line: str, word: str) -> bool:
    return f" {' '.join(words_of(word.lower()))} " in f" {' '.join(words_of(line.lower()))} "


def _of_step(
    edited: Edited,
    program: Program,
    at: int,
    level: Longer,
    gone: set[str],
    new: set[str],
    pictured: Callable[[str], bool],
    others: Sequence[Program],
) -> Lines:
    step = program.steps[at]
    written = program.written.steps[at].items
    saying = [item for item in written if _says(item.word, gone)]
    hers = {
        item.word
        for item in written
        if item.say or item.picture or item.id or not _is_ours(item.word, step, level)
    }
    out = tuple(item.word for item in saying if item.word not in hers)
    left = [item.word for item in written if item.word not in out]
    come = _new_lines(program, at, level, left, new, len(out), pictured, others)
    if not left and not come:  # a step is never left without a line
        return Lines(step.name, (), (), tuple(item.word for item in saying))
    edited.change_entries(("steps", at, "items"), out, come)
    still = tuple(item.word for item in saying if item.word in hers)
    return Lines(step.name, out, come, still)


def _new_lines(
    program: Program,
    at: int,
    level: Longer,
    left: Sequence[str],
    new: set[str],
    free: int,
    pictured: Callable[[str], bool],
    others: Sequence[Program],
) -> tuple[str, ...]:
    """Drafted lines for the step: of new words first, then as many as went."""
    step = program.steps[at]
    if not _practices(program, step):
        return ()
    if _says_two(step):
        drafted: Sequence[object] = doubles_for((program, *others), key_of(step))
    else:
        names = {one.name for one in program.steps}
        draft = draft_for((program, *others), key_of(step), level, names, pictured, at)
        drafted = draft.items if draft else ()
    lines = [one for one in drafted if isinstance(one, str) and one not in left]
    firsts = (next((one for one in lines if _says(one, {word})), "") for word in sorted(new))
    of_new = list(dict.fromkeys(filter(None, firsts)))
    rest = [line for line in lines if line not in of_new]
    room = max(0, MOST_LINES - len(left))
    return tuple([*of_new, *rest[: max(0, free - len(of_new))]][:room])


def _says_two(step: Step) -> bool:
    return TWO in step.name


def _is_ours(line: str, step: Step, level: Longer) -> bool:
    """Whether a draft says this line in such a step."""
    return is_drafted_double(line) if _says_two(step) else is_drafted(line, level)


def _practices(program: Program, step: Step) -> bool:
    """Whether the program has words of the step's kind."""
    return any(one.level == "word" and one.cluster == step.cluster for one in program.steps)


def _says(line: str, words: set[str]) -> bool:
    return any(word.lower() in words for word in words_of(line))
