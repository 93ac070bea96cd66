"""practice-site extend: a phrase or sentence step from the program's own words."""

from __future__ import annotations

import argparse
from pathlib import Path

from builder.commands import options
from builder.problems import UsageError
from builder.workspace.program_files import PICTURES
from builder.workspace.store import write_whole

ABOUT = "add a phrase or sentence step from a program's own words"


def add_options(parser: argparse.ArgumentParser) -> None:
    """What may follow `extend`."""
    options.program(parser)
    parser.add_argument(
        "--to", required=True, choices=("phrase", "sentence"), help="the level to add"
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
    text, made = extended(
        old,
        program,
        args.to,
        lambda w: w.lower() in own or drawings.find(w) is not None,
        taken,
        others,
    )
    if not made:
        raise UsageError(
            f"{file}: no {args.to} was found that has one practised word and no other target."
        )
    write_whole(file, text.encode())
    names = " and ".join(f"'{draft.name}'" for draft in made)
    print(f"{file}: {names} added. Read it aloud, change what you would not say, then check it.")
    for draft in made:
        print(f"  {draft.name}: {' · '.join(map(str, draft.items))}")
    return 0


def _pictures(folder: Path) -> set[str]:
    """The words that have a picture here."""
    files = folder.iterdir() if folder.is_dir() else ()
    return {file.stem.lower() for file in files if file.is_file()}
