"""Arguments of the command line as paths, and progress on a terminal."""

from __future__ import annotations

import argparse
import datetime
import os
import sys
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from difflib import get_close_matches
from pathlib import Path

from builder.model.program import Client
from builder.pipeline import Checked, Progress, check_client
from builder.problems import Finding, ProgramError, UsageError, standing, unanswered
from builder.program_file.load import clients, readable
from builder.workspace.folder import find
from builder.workspace.groups import expanded, groups_in, members
from builder.workspace.program_files import CLINIC, PROGRAMS, by_code, named, programs_in
from builder.workspace.stamps import root_around

CLINIC_ALONE = (
    "this is the clinic file, which is read with every program. Name a client or a program, or "
    "nothing for all clients."
)


def files_of(names: list[str]) -> list[Path]:
    """The program files that are named, by path, client or group; all of the clinic's when none
    is. A clinic file among them (`programs/*.yaml`) is read with each.

    Raises UsageError for one that is not there.
    """
    root = root_around(os.getcwd())
    files = list(map(Path, named(expanded(names, root), root)))
    for file in files:
        if not file.is_file():
            raise UsageError(f"{file}: {_missing(file)}")
    programs = [file for file in files if file.name != CLINIC]
    if not programs:
        raise UsageError(f"{files[0]}: {CLINIC_ALONE}" if files else _no_program())
    return programs


def clients_of(
    args: argparse.Namespace, base_url: str = ""
) -> tuple[tuple[Client, ...], tuple[Finding, ...]]:
    """The clients that were named. When none was: those of the clinic's that can be read, and what
    keeps the others from being read, since one unfinished draft must not stop all others.

    Raises ProgramError when a client that was named cannot be read.
    """
    files = files_of(args.files)
    return (clients(files, base_url), ()) if args.files else readable(files, base_url)


def sound_of(
    args: argparse.Namespace, base_url: str = "", today: datetime.date | None = None
) -> tuple[list[Checked], list[Finding]]:
    """The clients that were named, checked. When none was: those of the clinic's of whom no fault
    stands, and the findings of the others. today: for findings on days that are past.

    Raises ProgramError while a fault stands of one that was named.
    """
    loaded, left = clients_of(args, base_url)
    everyone = [check_client(client, today=today) for client in loaded]
    faulty = [one for one in everyone if standing(one.findings)]
    stopped = [*left, *(found for one in faulty for found in unanswered(one.findings))]
    if args.files and stopped:
        raise ProgramError(stopped)
    return [one for one in everyone if one not in faulty], stopped


def tell_left(findings: Sequence[Finding]) -> int:
    """Say, on stderr, why some clients were left as they are; the exit code."""
    for found in findings:
        print(found, file=sys.stderr)
    if findings:
        print("What is named here was left as it is.", file=sys.stderr)
    return 1 if findings else 0


def file_of(name: str) -> Path:
    """The one program file that is named, by path or by a client who has no other.

    Raises UsageError when it is not there.
    """
    if codes := members(name, root_around(os.getcwd())):
        raise UsageError(f"{name}: this is a group. Name one client of it: {', '.join(codes)}.")
    files = files_of([name])
    if len(files) > 1:
        several = " or ".join(f"`{file}`" for file in files)
        raise UsageError(f"{name}: this client has several programs. Name one: {several}.")
    return files[0]


def _no_program() -> str:
    folder = find(Path.cwd()).root / PROGRAMS
    return (
        f"{folder}: there is no program here yet. Type `practice-site new wren-01 --sound k`, with "
        "your client's code and sound."
    )


def _missing(file: Path) -> str:
    if file.is_dir():
        return (
            "this is a folder. Name clients or files, as in `wren-01` or `programs/wren-01.yaml`; "
            "without a name all clients are meant."
        )
    is_code = file.parent == Path() and not file.suffix
    what = "no client has this code" if is_code else "there is no such file"
    near = get_close_matches(file.name, known := _could_be_meant(file, is_code), n=1)
    return f"{what}." + (f" Did you mean `{known[near[0]]}`?" if near else "")


def _could_be_meant(file: Path, is_code: bool) -> dict[str, str]:
    """What to write, by name: codes, or the programs of the folder that a name without one has."""
    root = root_around(os.getcwd())
    bare = file.parent == Path() and root
    folder = Path(os.path.relpath(os.path.join(root, PROGRAMS))) if bare else file.parent
    if not folder.is_dir():
        return {}
    if is_code:
        clinic = folder / CLINIC
        groups = groups_in(str(clinic)) if clinic.is_file() else {}
        return {name: name for name in (*by_code(str(folder)), *groups)}
    return {Path(path).name: str(Path(path)) for path in programs_in(str(folder))}


@contextmanager
def bar() -> Iterator[Progress]:
    """A progress bar on a terminal; nothing at all when the output is piped."""
    if not sys.stderr.isatty():
        yield lambda _what, _done, _total: None
        return
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
