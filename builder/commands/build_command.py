"""practice-site build: publish the sites of the named clients, or of all, where something changed.

Loads nothing heavy until there is something to build: a build with nothing changed is done sooner.
"""

from __future__ import annotations

import argparse
import os
import sys
from typing import TYPE_CHECKING

from builder.commands import options
from builder.workspace.groups import expanded
from builder.workspace.program_files import CLINIC, named
from builder.workspace.stamps import Stamps, root_around, root_of

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from builder.model.program import Client
    from builder.pipeline import Built

ABOUT = "publish the sites of the named clients, or of all"


def add_options(parser: argparse.ArgumentParser) -> None:
    """What may follow `build`."""
    options.programs(parser)
    options.out(parser)
    options.base_url(parser)


def run(args: argparse.Namespace) -> int:
    """Build what changed, then say where each site is; exit code 1 when a client was left out."""
    sites, code = _unchanged(args), 0
    if not sites:
        from pathlib import Path

        from builder import pipeline
        from builder.commands.paths import files_of

        files = files_of(args.files)
        pipeline.workspace_of(files)
        every = not args.files
        sites, code = build_changed(files, Path(args.out), args.base_url, every=every)
    for site in sites:
        print(f"nothing changed: {site}")
    tell_others(args.out)
    return code


def tell_others(out: str) -> None:
    """Warn of other files among the sites: a list of names there would be published."""
    from pathlib import Path

    from builder.workspace.published import told_others

    if told := told_others(Path(out)):
        print(told, file=sys.stderr)


def _unchanged(args: argparse.Namespace) -> tuple[str, ...]:
    """The sites of all named clients when none needs to be built, else ()."""
    try:
        root = root_around(os.getcwd())
        names = named(expanded(args.files, root), root)
        files = [name for name in names if os.path.basename(name) != CLINIC]
        if not files or not root_of(files[0]):
            return ()
        stamps = Stamps(files, args.out, args.base_url)
        sites = [stamps.unchanged(file) for file in files]
    except OSError:
        return ()  # the build itself says what is wrong
    return tuple(dict.fromkeys(sites)) if all(sites) else ()


def build_changed(
    files: list[Path], out: Path, base_url: str = "", *, every: bool = False
) -> tuple[tuple[str, ...], int]:
    """Build the clients whose files changed; the sites of the others, and the exit code.

    every: all clients are meant, so one with faults is told and left as it is; else it raises
    ProgramError, and none is built.
    """
    stamps = Stamps([str(file) for file in files], str(out), base_url)
    sites = {file: stamps.unchanged(str(file)) for file in files}
    changed = [file for file, site in sites.items() if not site]
    code = _build(changed, out, base_url, stamps, every) if changed else 0
    return tuple(dict.fromkeys(filter(None, sites.values()))), code


def _build(files: list[Path], out: Path, base_url: str, stamps: Stamps, every: bool) -> int:
    """Build the clients of `files` and remember what they were made of."""
    from builder import pipeline
    from builder.commands import stand_in
    from builder.commands.clock import today
    from builder.commands.paths import bar, tell_left
    from builder.model.practice_view import view_of
    from builder.program_file.load import clients, readable

    loaded, left = readable(files, base_url) if every else (clients(files, base_url), ())
    before = {client.code: _before(client, stamps) for client in loaded}
    stamps.try_to_write()
    with bar() as progress:
        if every:
            built, stopped = pipeline.build_sound(loaded, out, progress, today())
        else:
            built, stopped = pipeline.build(loaded, out, progress, today()), ()
    stand_in.tell(loaded)
    stand_in.tell_waiting([one.waiting for one in built if one.waiting])
    for one in built:
        folder, entry = before[one.plan.client]
        if one.waiting:
            entry = entry | {"inputs": ""}  # no state of the files: the next build asks again
        stamps.record(folder, one.plan.client, entry, one.plan.slug, view_of(one.plan).digest)
        _tell(one)
    stamps.save()
    _remark(files[0], built)
    return tell_left((*left, *stopped))


def _before(client: Client, stamps: Stamps) -> tuple[str, dict[str, str]]:
    """The folder of a client's programs and the state of its files, before they are read."""
    from builder.problems import UsageError

    folder = os.path.abspath(client.folder)
    if other := stamps.elsewhere(folder, client.code):
        raise UsageError(
            f"{client.code} was published from {other} as well. Keep all programs of a client "
            "in one folder."
        )
    takes = os.path.join(folder, client.clinic.takes)
    return folder, stamps.before(folder, client.code, takes)


def _remark(file: Path, built: Sequence[Built]) -> None:
    """Say what does not stop a build: a secret that others can read, advice."""
    from builder.problems import standing
    from builder.workspace.addresses import readable_by_others
    from builder.workspace.folder import find

    if remark := readable_by_others(find(file)):
        print(f"practice-site: {remark}.", file=sys.stderr)
    findings = tuple(found for one in built for found in one.findings)
    assert not standing(findings), "a site with standing faults is never built"
    if advice := sum(not found.accepted for found in findings):
        plural = "" if advice == 1 else "s"
        print(f"{advice} piece{plural} of advice: see `practice-site check`", file=sys.stderr)


def _tell(one: Built) -> None:
    """Say where a site is, and how many of its clips are recordings."""
    address = f"  {one.plan.address}" if one.plan.address else ""
    print(f"{one.plan.client}: {one.folder}{address}")
    clips = one.plan.practised
    takes = sum(clip.voice == "recorded" for clip in clips)
    if takes:
        print(f"    {takes} of {len(clips)} clips are your own recordings")
