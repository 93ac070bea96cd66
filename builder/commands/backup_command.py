"""practice-site backup: all that cannot be made again, in one file."""

from __future__ import annotations

import argparse
import os
import sys
from pathlib import Path

from builder.commands.clock import today
from builder.commands.private_place import require_private
from builder.practice.log.backup import back_up
from builder.problems import UsageError
from builder.program_file.load import clinic_of
from builder.workspace.folder import HIDDEN_FOLDER, Workspace, find
from builder.workspace.program_files import CLINIC, PROGRAMS

ABOUT = "write programs, pictures, recordings, secret and log into one file"
MB = 1_000_000


def add_options(parser: argparse.ArgumentParser) -> None:
    """What may follow `backup`."""
    parser.add_argument("to", metavar="DIR", help="folder to write into, as on another disk")


def run(args: argparse.Namespace) -> int:
    """Write it, restore it into an empty folder to see that it can be, and say so."""
    workspace = find(Path.cwd())
    folder = Path(args.to)
    if not folder.is_dir():
        raise UsageError(f"{folder}: there is no such folder.")
    file = _new_name(folder)
    require_private(file)
    _require_outside(folder, workspace)
    others, away = _takes(workspace)
    kept = back_up(workspace, file, others)
    print(f"{file}: {kept.files} files, {kept.size / MB:.1f} MB")
    print("It was restored into an empty folder, and every file was as it is here.")
    print("It holds the secret of your addresses and your clients' records: keep it as these.")
    if away:
        print(f"practice-site: not in it: {away}, outside the practice folder.", file=sys.stderr)
    return 0


def _new_name(folder: Path) -> Path:
    name = f"practice backup {today()}"
    file, number = folder / f"{name}.zip", 1
    while file.exists():
        number += 1
        file = folder / f"{name}-{number}.zip"
    return file


def _require_outside(folder: Path, workspace: Workspace) -> None:
    """UsageError for a folder that is itself backed up."""
    whole, root = folder.resolve(), workspace.root.resolve()
    if any(whole.is_relative_to(root / inside) for inside in (PROGRAMS, HIDDEN_FOLDER)):
        raise UsageError(f"{folder}: this is backed up itself. Choose a folder on another disk.")


def _takes(workspace: Workspace) -> tuple[list[Path], str]:
    """The folder of recordings where it is not among the programs: to be backed up too, or, outside
    the practice folder, to be named."""
    programs, root = workspace.root / PROGRAMS, workspace.root.resolve()
    if not (programs / CLINIC).is_file():
        return [], ""
    takes = (programs / clinic_of(programs).takes).resolve()
    if not takes.is_dir() or takes.is_relative_to(programs.resolve()):
        return [], ""
    if not takes.is_relative_to(root) or takes == root:
        return [], str(takes)
    return [workspace.root / os.path.relpath(takes, root)], ""
