"""practice-site build: publish the sites of the named clients; leave alone what did not change."""

from __future__ import annotations

import argparse
import os
import sys
from pathlib import Path

from builder import pipeline
from builder.commands.paths import bar, files_of
from builder.problems import UsageError, standing
from builder.program_file.load import clients
from builder.workspace.stamps import Stamps


def run(args: argparse.Namespace) -> int:
    """Build what changed, then say where each site is."""
    files = files_of(args)
    pipeline.workspace_of(files)
    for site in build_changed(files, Path(args.out), args.base_url):
        print(f"nothing changed: {site}")
    return 0


def build_changed(files: list[Path], out: Path, base_url: str = "") -> tuple[str, ...]:
    """Build the clients whose files changed; the sites of the others."""
    stamps = Stamps([str(file) for file in files], str(out), base_url)
    sites = {file: stamps.unchanged(str(file)) for file in files}
    if changed := [file for file, site in sites.items() if not site]:
        _build(changed, out, base_url, stamps)
    return tuple(dict.fromkeys(filter(None, sites.values())))


def _build(files: list[Path], out: Path, base_url: str, stamps: Stamps) -> None:
    """Build the clients of `files` and remember what they were made of."""
    before = {}
    for client in clients(files, base_url):
        folder = os.path.abspath(client.folder)
        if other := stamps.elsewhere(folder, client.code):
            raise UsageError(
                f"{client.code} was published from {other} too; keep a client in one folder."
            )
        takes = os.path.join(folder, client.clinic.takes)
        before[client.code] = (folder, stamps.before(folder, client.code, takes))
    with bar() as progress:
        built = pipeline.build(files, out, base_url, progress)
    advice = 0
    for one in built:
        folder, entry = before[one.plan.client]
        stamps.record(folder, one.plan.client, entry, one.plan.slug, one.plan.digest)
        told(one)
        assert not standing(one.findings), "a site with standing faults is never built"
        advice += sum(not found.accepted for found in one.findings)
    if advice:
        print(f"{advice} advice: see 'practice-site check'", file=sys.stderr)


def told(one: pipeline.Built) -> None:
    """Say where a site is, and how many of its clips are recordings."""
    print(
        f"{one.plan.client}: {one.folder}" + (f"  {one.plan.address}" if one.plan.address else "")
    )
    takes = sum(clip.voice == "recorded" for clip in one.plan.clips)
    if takes:
        print(f"    {takes} of {len(one.plan.clips)} clips are your own recordings")
