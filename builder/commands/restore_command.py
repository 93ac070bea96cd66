"""practice-site restore: a practice folder, from a backup."""

from __future__ import annotations

import argparse
from pathlib import Path

from builder.practice.log.backup import restore
from builder.problems import UsageError
from builder.workspace.stamps import root_around

ABOUT = "make a practice folder of a backup"


def add_options(parser: argparse.ArgumentParser) -> None:
    """What may follow `restore`."""
    parser.add_argument("file", metavar="FILE", help="what `practice-site backup` wrote")
    parser.add_argument("folder", metavar="DIR", help="an empty folder, or a new one")


def run(args: argparse.Namespace) -> int:
    """Restore all of it or nothing, and say what to type next."""
    file, folder = Path(args.file), Path(args.folder)
    if not file.is_file():
        raise UsageError(f"{file}: there is no such file.")
    if around := root_around(str(folder.resolve().parent)):
        raise UsageError(f"{folder}: this lies in the practice folder {around}. Choose another.")
    kept = restore(file, folder)
    print(f"{folder}: {kept.files} files, each as it was backed up")
    print(f"The sites are not in a backup; type `cd {folder}`, then `practice-site build`.")
    return 0
