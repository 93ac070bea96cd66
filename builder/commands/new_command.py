"""practice-site new: the next client's program from another one's."""

from __future__ import annotations

import argparse
import re
from pathlib import Path

from builder.drafts import first_of, like
from builder.load import clinic_of, code_in, program_of, programs_in
from builder.model import CODE
from builder.problems import UsageError
from builder.store import write_whole


def run(args: argparse.Namespace) -> int:
    """Write the new file; never over another."""
    folder = Path(args.folder)
    if not folder.is_dir():
        raise UsageError(f"{folder}: there is no such folder.")
    if not re.fullmatch(CODE, args.code):
        raise UsageError(
            f"'{args.code}' is no client code: an animal, a hyphen and a number, as in otter-12. "
            "Never a name."
        )
    target = folder / f"{args.code}.yaml"
    taken = [
        f for f in programs_in(folder) if code_in(f.read_text("utf-8", "replace")) == args.code
    ]
    if target.exists() or taken:
        raise UsageError(f"{(taken or [target])[0]}: {args.code} has a program already.")
    source = _program_of(folder, args.like)
    program = program_of(source, clinic_of(folder))
    text = like(source.read_text("utf-8"), args.code, first_of(s.name for s in program.steps))
    write_whole(target, text.encode())
    print(
        f"{target}: made from {source.name}. Fill in every 'fill-in', look at the sound, "
        "the words and the cues, then check it."
    )
    return 0


def _program_of(folder: Path, code: str) -> Path:
    found = [f for f in programs_in(folder) if code_in(f.read_text("utf-8", "replace")) == code]
    if not found:
        raise UsageError(f"{folder}: no program here has the client code '{code}'.")
    return found[0]
