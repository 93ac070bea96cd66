"""practice-site proof: one local page of each client, opened in the browser."""

from __future__ import annotations

import argparse
import sys
import webbrowser
from pathlib import Path

from builder import pipeline
from builder.commands import options, stand_in
from builder.commands.check_command import verdict
from builder.commands.clock import today
from builder.commands.paths import bar, clients_of, files_of, tell_left
from builder.model.program import Client
from builder.problems import UsageError, standing
from builder.program_file.load import clients
from builder.recordings import accept, takes
from builder.recordings.prompts import client_prompts
from builder.recordings.takes import Takes
from builder.survey.files import store_of

ABOUT = "make one local page to see and hear everything before publishing"


def add_options(parser: argparse.ArgumentParser) -> None:
    """What may follow `proof`."""
    options.programs(parser)
    options.to(parser, "proof")
    options.quiet(parser)
    parser.add_argument(
        "--heard", action="store_true", help="you have heard the last proof: use the cuts on it"
    )
    parser.add_argument(
        "--right",
        default="",
        metavar="NAMES",
        help="and of the doubtful recordings these, which are right, as in cow,my-key",
    )


def run(args: argparse.Namespace) -> int:
    """Exit code 1 when a fault stands: the page shows it beside its item."""
    files = files_of(args.files)
    workspace = pipeline.workspace_of(files)
    faults = 0
    if args.heard:
        return _heard(files, Path(args.to), list(filter(None, args.right.split(","))))
    if args.right:
        raise UsageError("`--right` goes with `--heard`: hear them on the proof first.")
    loaded, unread = clients_of(args)
    stand_in.tell(loaded)
    for client in loaded:
        checked = pipeline.check_client(client, today=today())
        with bar() as progress:
            made = pipeline.proof(checked, workspace, Path(args.to), progress)
        print(f"{made / 'index.html'}: {verdict(checked.findings)}")
        faults += len(standing(checked.findings))
        if sys.stdout.isatty() and not args.quiet:
            webbrowser.open((made / "index.html").resolve().as_uri())
    return tell_left(unread) or (1 if faults else 0)


def _heard(files: list[Path], proofs: Path, right: list[str]) -> int:
    """What the proofs of these clients play was heard: from now on the cuts are used, and of the
    doubtful recordings those that are right."""
    everyone = clients(files)
    if right and len(everyone) > 1:
        raise UsageError("`--right` is for one client at a time: name that client's file only.")
    for client in everyone:
        accepted = accept.accept(proofs / client.code, takes.folders(client), right)
        asked = [prompt.utterance for prompt in client_prompts(client)]
        found = takes.find_takes(asked, takes.folders(client), store_of(client))
        usable = {take.path for some in found.values() for take in some if take.usable}
        used = sum(str(file) in usable or takes.is_wrong(file) for file in accepted)
        are = "recording is" if used == 1 else "recordings are"
        print(f"{client.code}: {used or 'no new'} {are} used from now on")
        _left(client, found)
    return 0


def _left(client: Client, found: Takes) -> None:
    """What waits to be heard."""
    places = takes.folders(client)
    if newer := [file.stem for place in places for file in takes.files_of(place, "unheard")]:
        print(f"    newer than this proof: {', '.join(newer)}. Make the proof again and hear them.")
    first = (
        Path(some[0].path)
        for some in found.values()
        if some[0].waits and some[0].state == "accepted"
    )
    cuts = (file for place in places for file in takes.files_of(place, "doubtful"))
    if left := list(dict.fromkeys(takes.name_of(file) for file in (*first, *cuts))):
        print(
            f"    still doubtful: {', '.join(left)}. If one is right: `--heard --right {left[0]}`"
        )
