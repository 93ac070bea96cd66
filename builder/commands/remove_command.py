"""practice-site remove: take a client's site out of the published folder, and the sheets that lead
to it out of the desk's folder."""

from __future__ import annotations

import argparse
import os
import shutil
from pathlib import Path

from builder.commands import options
from builder.problems import UsageError
from builder.site.swap import exclusive, new_folder
from builder.workspace import desk
from builder.workspace.addresses import secret, slug
from builder.workspace.folder import SITE_MARK, Workspace, find
from builder.workspace.groups import groups_in
from builder.workspace.program_files import CLINIC, EXAMPLES, PROGRAMS, by_code
from builder.workspace.stamps import Stamps

ABOUT = "take a client's site out of the published folder"


def add_options(parser: argparse.ArgumentParser) -> None:
    """What may follow `remove`."""
    options.out(parser)
    parser.add_argument("code", metavar="CODE", help="whose site, as in heron-07")


def run(args: argparse.Namespace) -> int:
    """Move the site out of the way whole, then delete it; its address stays this client's."""
    out = Path(args.out).resolve()
    workspace = _workspace(out)
    name = slug(secret(workspace, out), args.code)
    site = out / name
    if not (site / SITE_MARK).is_file():
        raise UsageError(f"{out}: there is no site for {args.code} here.")
    with exclusive(out):
        old = new_folder(out) / name
        site.rename(old)
        shutil.rmtree(old)
        stamps = Stamps([str(workspace.root / PROGRAMS)], str(out), "")
        stamps.remove(args.code)
        stamps.save()
    print(
        f"{args.code}: {site} has been deleted. Delete the folder {name} on the web host as well."
    )
    _remove_sheets(workspace, args.code)
    _tell_programs(workspace, args.code)
    return 0


def _remove_sheets(workspace: Workspace, code: str) -> None:
    """Delete the client's sheets: their code leads to a page that is gone."""
    folder = workspace.root / desk.FOLDER
    if not folder.is_dir():
        return
    with exclusive(folder):
        sheets = desk.written(workspace, folder)
        sheet = sheets.pop(code, None)
        desk.keep(workspace, folder, sheets)
        for name in desk.remove_others(folder, {code: ()}):
            print(f"{folder / name}: deleted")
        for name, file in desk.group_lists(folder).items():
            if code in _codes(name, workspace):
                file.unlink()
                print(f"{file}: deleted")
    if sheet and sheet.waiting:
        print(
            f"{folder / desk.BOUND}: the sheet of {code} is still in this file. Take it out of "
            "what you print; the next `practice-site print` makes the file without it."
        )
    if sheet and (sheet.waiting or sheet.fresh) and (folder / desk.LIST).is_file():
        print(f"{folder / desk.LIST}: {code} is still on this list: cross it out.")


def _codes(group: str, workspace: Workspace) -> list[str]:
    """The clients of a group as the clinic files have it; whoever is there or not."""
    files = [workspace.root / one / CLINIC for one in (PROGRAMS, EXAMPLES)]
    return [c for f in files if f.is_file() for c in groups_in(str(f)).get(group, ())]


def _tell_programs(workspace: Workspace, code: str) -> None:
    """Say what would publish the site again."""
    folders = (workspace.root / PROGRAMS, workspace.root / EXAMPLES)
    files = [file for one in folders if one.is_dir() for file in by_code(str(one)).get(code, [])]
    for file in files:
        print(
            f"Its program is still {os.path.relpath(file)}: delete or move it, else the next build "
            "publishes it again."
        )


def _workspace(out: Path) -> Workspace:
    """The practice folder around the current one, as where a build is typed, else around `out`."""
    try:
        return find(Path.cwd())
    except UsageError:
        return find(out.parent)
