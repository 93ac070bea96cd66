"""practice-site extend: a phrase or sentence step from the program's own words, or other lines for
the one that was drafted before; past sentences a text of ours or a talk."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from builder.commands import options
from builder.commands.run import nothing_written
from builder.model.program import Program
from builder.problems import UsageError
from builder.workspace.program_files import PICTURES
from builder.workspace.store import rewrite

if TYPE_CHECKING:
    from builder.drafting.extend import Refreshed
    from builder.drafting.frames import Longer
    from builder.drafting.ladder import Draft
    from builder.drafting.past_sentences.bank import Past

READ_ALOUD = "Read it aloud, change what you would not say, then check it."
TO: tuple[Longer | Past, ...] = ("phrase", "sentence", "reading", "telling", "talk")
ABOUT = "add a step: phrases or sentences of a program's own words, a text, a talk"


def add_options(parser: argparse.ArgumentParser) -> None:
    """What may follow `extend`."""
    options.program(parser)
    parser.add_argument(
        "--to",
        required=True,
        metavar="LEVEL",
        help=f"the level to add: {', '.join(TO)}; or a step of it, by name",
    )
    parser.add_argument(
        "--replace",
        action="store_true",
        help="let a step that is refreshed lose the lines that you wrote into it",
    )


@nothing_written()
def run(args: argparse.Namespace) -> int:
    """Put the steps into the file; all else in it stays as it stands."""
    from builder.commands.paths import file_of
    from builder.drafting.copy_program import begun, others_of, step_names
    from builder.drafting.extend import extended
    from builder.make import drawings
    from builder.program_file.load import clinic_of, program_of
    from builder.program_file.pronounce import sounds_taught

    file = file_of(args.file)
    clinic = clinic_of(file.parent)
    program = program_of(file, clinic)
    level = _level(args.to, program)
    if level != "phrase" and level != "sentence":
        return _past(file, program, level)
    if not any(step.level == "word" for step in program.steps):
        raise UsageError(f"{file}: it has no word step whose words could be put into a {level}.")
    if len(sounds_taught(program)) > 1:
        raise UsageError(
            f"{file}: its steps practice several vowels with r. Write the {level} step yourself, "
            "with the `sound:` of its words."
        )
    folders = (file.parent / program.written.client, file.parent / PICTURES)
    own = set[str]().union(*map(_pictures, folders))
    old = file.read_bytes().decode("utf-8")
    others = tuple(begun(one, clinic) for one in others_of(file))
    taken = step_names(others, program.sound)
    text, made, refreshed = extended(
        old,
        program,
        level,
        lambda w: w.lower() in own or drawings.find(w) is not None,
        taken,
        others,
    )
    if not made and not refreshed:
        raise UsageError(
            f"{file}: no {level} was found that has one practiced word and no other target."
        )
    hers = [line for one in refreshed for line in one.hers]
    if hers and not args.replace:
        names = " and ".join(f"'{one.name}'" for one in refreshed if one.hers)
        raise UsageError(
            f"{file}: nothing was changed. {names} would get other lines and lose what you wrote: "
            f"{' · '.join(hers)}\n"
            "Add `--replace` to let them go. To keep them, give the step a name of your own; "
            f"then `extend` adds a step beside it."
        )
    rewrite(file, text.encode())
    _tell(file, made, refreshed)
    return 0


def _level(told: str, program: Program) -> Longer | Past:
    """The level that was named, in the singular or plural, or that of a step by name or id."""
    from builder.drafting.visit.plan_visit import step_named

    named = {text: level for level in TO for text in (level, f"{level}s")}
    if (text := told.strip().lower()) in named:
        return named[text]
    level = program.steps[step_named(program, told)].level
    if level not in named:
        raise UsageError(f"`{told}` is a {level} step. `extend` adds {', '.join(TO)}.")
    return named[level]


def _tell(file: Path, made: Sequence[Draft], refreshed: Sequence[Refreshed]) -> None:
    """What was added, what was changed and what went."""
    if made:
        names = " and ".join(f"'{draft.name}'" for draft in made)
        print(f"{file}: {names} added. {READ_ALOUD}")
    changed = [one for one in refreshed if one.gone]
    if refreshed:
        names = " and ".join(f"'{one.name}'" for one in changed)
        fresh = (
            f"{names} refreshed. {READ_ALOUD}"
            if changed
            else "its lines are as they would be drafted."
        )
        print(f"{file}: {fresh}")
    for draft in made:
        print(f"  {draft.name}: {' · '.join(map(str, draft.items))}")
    for one in changed:
        print(f"  {one.name}: {' · '.join(one.items)}")
        print(f"  gone: {' · '.join(one.gone)}")


def _past(file: Path, program: Program, level: Past) -> int:
    """A step of our own texts and talks, after the last one that may stand before it."""
    from builder.drafting.copy_program import begun, others_of, step_names
    from builder.drafting.past_sentences.steps import extended_past, up_to
    from builder.program_file.load import clinic_of

    up_to(level, program.written.reads, str(file))
    clinic = clinic_of(file.parent)
    taken = step_names((begun(one, clinic) for one in others_of(file)), program.sound)
    text, made = extended_past(file.read_bytes().decode("utf-8"), program, level, taken)
    if not made:
        raise UsageError(
            f"{file}: we have no further text for /{program.sound.ipa}/ at this age. Write "
            f"your own step: `{{name: a text, level: {level}, passage: …}}`."
        )
    rewrite(file, text.encode())
    print(f"{file}: '{made[0].name}' added. {READ_ALOUD}")
    print(f"  {made[0].passage or f'{made[0].where}, with {made[0].company}'}")
    return 0


def _pictures(folder: Path) -> set[str]:
    """The words that have a picture here."""
    files = folder.iterdir() if folder.is_dir() else ()
    return {file.stem.lower() for file in files if file.is_file()}
