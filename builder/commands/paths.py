"""Arguments of the command line as paths, and progress on a terminal."""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from builder.load import CLINIC
from builder.pipeline import Progress
from builder.problems import UsageError


def files_of(args: argparse.Namespace) -> list[Path]:
    """The named program files; a clinic file among them (`programs/*.yaml`) is read with each.

    Raises UsageError for one that is not there.
    """
    files = [Path(name) for name in args.files]
    for file in files:
        if not file.is_file():
            what = "a folder, not a file" if file.is_dir() else "not there"
            raise UsageError(f"{file}: this file is {what}.")
    programs = [file for file in files if file.name != CLINIC]
    if not programs:
        raise UsageError(f"{files[0]}: name a program; the clinic file is read with each of them.")
    return programs


@contextmanager
def bar() -> Iterator[Progress]:
    """A progress bar on a terminal; nothing at all when the output is piped."""
    from rich.console import Console
    from rich.progress import Progress as Bar

    console = Console(stderr=True)
    with Bar(console=console, transient=True, disable=not console.is_terminal) as shown:
        tasks: dict[str, object] = {}

        def tell(what: str, done: int, total: int) -> None:
            if what not in tasks:
                tasks[what] = shown.add_task(what, total=total)
            shown.update(tasks[what], completed=done, total=total)  # type: ignore[arg-type]

        yield tell
