"""practice-site extend: a phrase or sentence step from the program's own words, or other lines for
the one that was drafted before."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from builder.commands import options
from builder.problems import UsageError
from builder.workspace.program_files import PICTURES
from builder.workspace.store import write_whole

if TYPE_CHECKING:
    from builder.drafting.extend import Refreshed
    from builder.drafting.ladder import Draft

ABOUT = "add a phrase or sentence step from a program's own words"


def add_options(parser: argparse.ArgumentParser) -> None:
    """What may follow `extend`."""
    options.program(parser)
    parser.add_argument(
        "--to", required=True, choices=("phrase", "sentence"), help="the level to add"
    )
    parser.add_argument(
        "--replace",
        action="store_true",
        help="let a step that is refreshed lose the lines that you wrote into it",
    )


def run(args: argparse.Namespace) -> int:
    """Put the steps into the file; all else in it stays as it stands."""
    from builder.commands.paths import file_of
    from builder.drafting.copy_program import begun, others_of, step_names
    from builder.drafting.extend import extended
    from builder.make import drawings
    from builder.program_file.load import clinic_of, program_of

    file = file_of(args.file)
    clinic = clinic_of(file.parent)
    program = program_of(file, clinic)
    if not any(step.level == "word" for step in program.steps):
        raise UsageError(f"{file}: it has no word step whose words could be put into a {args.to}.")
    folders = (file.parent / program.written.client, file.parent / PICTURES)
    own = set[str]().union(*map(_pictures, folders))
    old = file.read_bytes().decode("utf-8")
    others = tuple(begun(one, clinic) for one in others_of(file))
    taken = step_names(others, program.sound)
    text, made, refreshed = extended(
        old,
        program,
        args.to,
        lambda w: w.lower() in own or drawings.find(w) is not None,
        taken,
        others,
    )
    if not made and not refreshed:
        raise UsageError(
            f"{file}: no {args.to} was found that has one practised word and no other target."
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
    write_whole(file, text.encode())
    _tell(file, made, refreshed)
    return 0


def _tell(file: Path, made: Sequence[Draft], refreshed: Sequence[Refreshed]) -> None:
    """What was added, what was changed and what went."""
    read = "Read it aloud, change what you would not say, then check it."
    if made:
        names = " and ".join(f"'{draft.name}'" for draft in made)
        print(f"{file}: {names} added. {read}")
    changed = [one for one in refreshed if one.gone]
    if refreshed:
        names = " and ".join(f"'{one.name}'" for one in changed)
        fresh = (
            f"{names} refreshed. {read}" if changed else "its lines are as they would be drafted."
        )
        print(f"{file}: {fresh}")
    for draft in made:
        print(f"  {draft.name}: {' · '.join(map(str, draft.items))}")
    for one in changed:
        print(f"  {one.name}: {' · '.join(one.items)}")
        print(f"  gone: {' · '.join(one.gone)}")


def _pictures(folder: Path) -> set[str]:
    """The words that have a picture here."""
    files = folder.iterdir() if folder.is_dir() else ()
    return {file.stem.lower() for file in files if file.is_file()}
