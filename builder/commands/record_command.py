"""practice-site record: a page on this machine alone that records what the programs need."""

from __future__ import annotations

import argparse
import sys
import webbrowser
from collections.abc import Callable
from contextlib import suppress
from functools import partial
from pathlib import Path

from builder import pipeline
from builder.commands import options
from builder.commands.paths import clients_of, files_of, tell_left
from builder.model.program import Client
from builder.problems import UsageError
from builder.recordings.page.cards import by_id
from builder.recordings.page.page_files import page_files
from builder.recordings.page.recorder import Recorder
from builder.recordings.page.restart import session_secret, usual_ports
from builder.recordings.page.server import RecordingServer
from builder.recordings.prompts import prompts
from builder.workspace.store import Store

ANOTHER_ADDRESS = (
    "Another program has the usual address of this folder. Is it a recording page? Recordings that "
    "were not kept wait there; its window can also save them as files."
)
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
    options.port(parser, None)
    options.quiet(parser)


def run(args: argparse.Namespace) -> int:
    """Until Ctrl-C."""
    files = files_of(args.files)
    everyone, unread = clients_of(args)
    tell_left(unread)
    asked = by_id(prompts(everyone))
    if not asked:
        if unread:
            return 1
        raise UsageError(f"{files[0]}: it has nothing to record.")
    workspace, folder = pipeline.workspace_of(files), _folder(args.to, everyone)
    store = Store(workspace.store)
    recorder = Recorder(asked, folder, store)
    own = page_files((prompt.text + prompt.sound.ipa for prompt in asked.values()), store)
    session = session_secret(workspace.hidden)
    server = _server(args.port, partial(RecordingServer, recorder, own, session=session), folder)
    _open(server.access.address, len(asked), folder, quiet=args.quiet)
    if args.port is None and server.server_port != next(usual_ports(folder)):
        print(ANOTHER_ADDRESS, flush=True)
    with server:
        server.serve_forever()
    return 0


def _server(
    port: int | None, server_at: Callable[[int], RecordingServer], folder: Path
) -> RecordingServer:
    """The server at the named port, else at one of the folder's own, else at a free one."""
    if port is None:
        for usual in usual_ports(folder):
            with suppress(OSError):
                return server_at(usual)
        port = 0
    try:
        return server_at(port)
    except OSError as problem:
        raise UsageError(f"port {port}: {problem.strerror}. Try another `--port`.") from None


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
