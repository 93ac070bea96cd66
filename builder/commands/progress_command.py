"""practice-site progress: what a client practiced, how it went, and a sentence for the notes."""

from __future__ import annotations

import argparse
import datetime
import os
import sys
import webbrowser
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING

from builder.commands import options
from builder.commands.clock import day_typed, today
from builder.commands.private_place import require_private
from builder.problems import UsageError
from builder.workspace.folder import PROGRESS

if TYPE_CHECKING:
    from builder.model.program import Client, Item
    from builder.progress.gather import Progress

ABOUT = "tell a client's progress: practice, clear-rates, scores, moves, a sentence for your notes"
PAGE, PDF = ENDINGS = (".html", ".pdf")
CACHE = "matplotlib"  # in the store: what matplotlib knows of this computer's fonts


def add_options(parser: argparse.ArgumentParser) -> None:
    """What may follow `progress`."""
    options.program(parser)
    parser.add_argument(
        "--since", default="", metavar="DAY", help="from this day on, as in 2026-11-02"
    )
    parser.add_argument("--page", action="store_true", help="as one local page with charts")
    parser.add_argument("--pdf", action="store_true", help="as PDF, to print or to keep")
    options.to(parser, PROGRESS)
    options.quiet(parser)


def run(args: argparse.Namespace) -> int:
    """Print it, or write the page, the PDF or both for her alone."""
    from builder.commands.paths import files_of
    from builder.practice.figures.client_log import client_log
    from builder.program_file.load import clients
    from builder.progress.gather import progress_of
    from builder.workspace.addresses import secret, slug
    from builder.workspace.folder import find

    since = _past(day_typed(args.since)) if args.since else None
    files = files_of([args.file])
    (client,) = clients(files)
    workspace = find(files[0])
    log = client_log(workspace, slug(secret(workspace), client.code))
    progress = progress_of(client, log, today(), since, _pictured(client))
    if progress is None:
        raise UsageError(_nothing(client.code, args.since))
    if not (args.page or args.pdf):
        from builder.progress.lines import lines

        print("\n".join(lines(progress)))
        return 0
    # Else it looks through all fonts of this computer each time, or keeps them elsewhere.
    os.environ.setdefault("MPLCONFIGDIR", str(workspace.store / CACHE))
    for file in _written(args, client, progress):
        print(file)
        if sys.stdout.isatty() and not args.quiet:
            webbrowser.open(file.resolve().as_uri())
    return 0


def _past(day: datetime.date) -> datetime.date:
    if day > today():
        raise UsageError(f"{day} is still to come.")
    return day


def _pictured(client: Client) -> Callable[[Item], bool]:
    """Whether an item has a picture: its own, or a drawing."""
    from builder.survey import files
    from builder.survey.survey import Survey

    own, drawings = files.own_pictures(client), files.drawings_of(client)
    return Survey(own=own, drawings=drawings, takes={}).has_picture


def _nothing(code: str, since: str) -> str:
    if since:
        return f"{code}: the log holds nothing from {since} on. Leave out `--since`."
    return (
        f"{code}: the log holds nothing of this client yet. `practice-site receive` takes in what "
        f"the family sends; `practice-site visit {code} --score 17/20` keeps your own score."
    )


def _written(args: argparse.Namespace, client: Client, progress: Progress) -> Iterator[Path]:
    """The files that were asked for, each written whole, for their owner only."""
    from builder.progress.page import progress_page
    from builder.progress.pdf import progress_pdf
    from builder.workspace.store import write_private

    folder = Path(args.to)
    require_private(folder / client.code if folder.is_dir() else folder)
    folder.mkdir(mode=0o700, exist_ok=True)
    if args.page:
        file = folder / f"{client.code}{PAGE}"
        write_private(file, progress_page(progress).encode())
        yield file
    if args.pdf:
        file = folder / f"{client.code}{PDF}"
        write_private(file, progress_pdf(progress, client.clinic.paper))
        yield file
