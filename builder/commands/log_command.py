"""practice-site log: the clinic's log for other programs, and a client out of it."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from builder.commands import options
from builder.commands.known_clients import codes, known
from builder.commands.private_place import require_private
from builder.practice.log.export import Holdings, as_json, counts_csv, scores_csv, trials_csv
from builder.practice.log.file import FILE
from builder.practice.log.rows import opened
from builder.problems import UsageError
from builder.workspace.folder import HIDDEN_FOLDER, Workspace, find
from builder.workspace.groups import expanded
from builder.workspace.store import write_private

ABOUT = "write the log as a table or as JSON; remove a client from it"

EXPORT, FORGET = "export", "forget"
FORMS = {"trials": trials_csv, "counts": counts_csv, "scores": scores_csv, "json": as_json}


def add_options(parser: argparse.ArgumentParser) -> None:
    """What may follow `log`."""
    parser.add_argument(
        "what",
        choices=[EXPORT, FORGET],
        help="export: write it for other programs; forget: remove all of a client",
    )
    parser.add_argument(
        "clients",
        nargs="*",
        metavar="CODE",
        help="whose records, as in wren-01, or a group (default: all)",
    )
    form = parser.add_mutually_exclusive_group()
    form.add_argument(
        "--counts",
        dest="form",
        action="store_const",
        const="counts",
        help="a table of counts, a step of a sitting a row, texts and paper among them",
    )
    form.add_argument(
        "--scores",
        dest="form",
        action="store_const",
        const="scores",
        help="a table of your own scores, one a row",
    )
    form.add_argument(
        "--json",
        dest="form",
        action="store_const",
        const="json",
        help="all of it as JSON, notes and plans too (default: a table, CSV, a try a row)",
    )
    parser.add_argument("--to", metavar="FILE", help="file to write (default: print it)")
    options.out(parser)
    parser.set_defaults(form="trials")


def run(args: argparse.Namespace) -> int:
    """Do what was asked for."""
    workspace = find(Path.cwd())
    if args.what == FORGET:
        if len(args.clients) != 1:
            raise UsageError("Name one client, as in `practice-site log forget wren-01`.")
        from builder.commands.forget_client import forget_client

        return forget_client(workspace, args.clients[0], Path(args.out), input)
    if not (workspace.root / HIDDEN_FOLDER / FILE).is_file():
        raise UsageError(
            f"{workspace.root}: there is no log yet. `practice-site receive` makes it."
        )
    data = FORMS[args.form](_held(workspace, expanded(args.clients, str(workspace.root)))).encode()
    if not args.to:
        sys.stdout.buffer.write(data)
        sys.stdout.flush()
        return 0
    file = Path(args.to)
    require_private(file)
    write_private(file, data)
    print(f"{file}: written; it holds practice records, so keep it as you keep your own")
    return 0


def _held(workspace: Workspace, named: list[str]) -> Holdings:
    """What the log holds of the named clients, or of all. Raises UsageError for one who is nobody
    here."""
    with opened(workspace.hidden) as log:
        everyone = log.clients()
        for code in named:
            if code not in {*everyone.values(), *codes(workspace).values()}:
                raise UsageError(f"{code}: no client has this code.")
        chosen = {site: code for site, code in everyone.items() if not named or code in named}
        return Holdings(
            chosen,
            tuple(one for one in log.sittings() if one.site in chosen),
            tuple(one for one in log.papers() if one.site in chosen),
            tuple(one for one in log.apart() if not named or one.sitting.site in chosen),
            known(workspace, log).view,
            tuple(one for one in log.scores() if one.site in chosen),
            tuple(one for one in log.visit_notes() if one.site in chosen),
        )
