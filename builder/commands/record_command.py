"""practice-site record: a page on this machine alone that records what the programs need."""

from __future__ import annotations

import argparse
import sys
import webbrowser
from pathlib import Path

from builder import pipeline
from builder.commands import options
from builder.commands.paths import clients_of, files_of, tell_left
from builder.model.program import Client
from builder.problems import UsageError
from builder.recordings.page.cards import by_id
from builder.recordings.page.page_files import page_files
from builder.recordings.page.recorder import Recorder
from builder.recordings.page.server import RecordingServer
from builder.recordings.prompts import prompts
from builder.workspace.store import Store

ABOUT = "open a page on this computer to record what the programs need"


def add_options(parser: argparse.ArgumentParser) -> None:
    """What may follow `record`."""
    options.programs(parser)
    parser.add_argument(
        "--to",
        default="",
        metavar="FOLDER",
        help="where recordings go (default: `takes:` of the clinic file)",
    )
    options.port(parser, 0)
    options.quiet(parser)


def run(args: argparse.Namespace) -> int:
    """Until Ctrl-C."""
    files = files_of(args)
    everyone, unread = clients_of(args)
    tell_left(unread)
    asked = by_id(prompts(everyone))
    if not asked:
        if unread:
            return 1
        raise UsageError(f"{files[0]}: it has nothing to record.")
    store = Store(pipeline.workspace_of(files).store)
    recorder = Recorder(asked, _folder(args.to, everyone), store)
    own = page_files((prompt.text + prompt.sound.ipa for prompt in asked.values()), store)
    try:
        server = RecordingServer(recorder, own, args.port)
    except OSError as problem:
        raise UsageError(f"port {args.port}: {problem.strerror}. Try another `--port`.") from None
    _open(server.access.address, len(asked), recorder.folder, quiet=args.quiet)
    with server:
        server.serve_forever()
    return 0


def _folder(named: str, everyone: tuple[Client, ...]) -> Path:
    """Where recordings go. Raises UsageError when that is not one folder."""
    places = {Path(client.folder) / client.clinic.takes for client in everyone}
    folders = {Path(named)} if named else places
    if len(folders) > 1:
        raise UsageError(
            "these programs keep their recordings in different folders. Choose one with `--to`."
        )
    folder = folders.pop().resolve()
    above = next(place for place in (folder, *folder.parents) if place.exists())
    if not above.is_dir():
        raise UsageError(f"{above}: this is a file; recordings need a folder.")
    return folder


def _open(address: str, count: int, folder: Path, *, quiet: bool) -> None:
    print(f"{count} prompts; recordings go into {folder}")
    print(f"Open this address once, in a browser on this computer: {address}")
    print("Press Ctrl+C to stop. What you kept stays; next time you go on from there.", flush=True)
    if sys.stdout.isatty() and not quiet:
        webbrowser.open(address)
