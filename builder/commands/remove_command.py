"""practice-site remove: take a client's site out of the published folder."""

from __future__ import annotations

import argparse
import shutil
from pathlib import Path

from builder.commands import options
from builder.problems import UsageError
from builder.site.swap import exclusive, new_folder
from builder.workspace.addresses import secret, slug
from builder.workspace.folder import SITE_MARK, Workspace, find

ABOUT = "take a client's site out of the published folder"


def add_options(parser: argparse.ArgumentParser) -> None:
    """What may follow `remove`."""
    options.out(parser)
    parser.add_argument("code", metavar="CODE", help="whose site, as in heron-07")


def run(args: argparse.Namespace) -> int:
    """Move the site out of the way whole, then delete it; its address stays this client's."""
    out = Path(args.out).resolve()
    name = slug(secret(_workspace(out), out), args.code)
    site = out / name
    if not (site / SITE_MARK).is_file():
        raise UsageError(f"{out}: there is no site for {args.code} here.")
    with exclusive(out):
        old = new_folder(out) / name
        site.rename(old)
        shutil.rmtree(old)
    print(
        f"{args.code}: {site} has been deleted. Delete the folder {name} on the web host as well."
    )
    return 0


def _workspace(out: Path) -> Workspace:
    """The practice folder around the current one, as where a build is typed, else around `out`."""
    try:
        return find(Path.cwd())
    except UsageError:
        return find(out.parent)
