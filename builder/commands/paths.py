"""Arguments of the command line as paths, and progress on a terminal."""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from contextlib import contextmanager
from difflib import get_close_matches
from pathlib import Path

from builder.pipeline import Progress
from builder.problems import UsageError
from builder.workspace.program_files import CLINIC, programs_in


def files_of(args: argparse.Namespace) -> list[Path]:
    """The named program files; a clinic file among them (`programs/*.yaml`) is read with each.

    Raises UsageError for one that is not there.
    """
    files = [Path(name) for name in args.files]
    for file in files:
        if not file.is_file():
            raise UsageError(f"{file}: {_missing(file)}")
    programs = [file for file in files if file.name != CLINIC]
    if not programs:
        raise UsageError(
            f"{files[0]}: this is the clinic file, which is read with every program. Name a "
            "program."
        )
    return programs


def _missing(file: Path) -> str:
    if file.is_dir():
        return "this is a folder. Name the files in it, as in `programs/heron-07.yaml`."
    folder = str(file.parent)
    there = [Path(f).name for f in programs_in(folder)] if file.parent.is_dir() else []
    near = get_close_matches(file.name, there, n=1)
    return "there is no such file." + (f" Did you mean `{near[0]}`?" if near else "")


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
