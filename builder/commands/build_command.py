"""practice-site build: publish the sites of the named clients; leave alone what did not change."""

from __future__ import annotations

import argparse
import os
import sys
from pathlib import Path

from builder import pipeline
from builder.commands.paths import bar, files_of
from builder.load import clients
from builder.problems import UsageError, standing
from builder.stamp import Stamps


def run(args: argparse.Namespace) -> int:
    """Build what changed, then say where each site is."""
    files = files_of(args)
    pipeline.workspace_of(files)
    stamps = Stamps([str(f) for f in files], args.out, args.base_url)
    for site in dict.fromkeys(filter(None, (stamps.unchanged(str(f)) for f in files))):
        print(f"nothing changed: {site}")
    changed = [f for f in files if not stamps.unchanged(str(f))]
    if changed:
        build(changed, Path(args.out), args.base_url, stamps)
    return 0


def build(files: list[Path], out: Path, base_url: str, stamps: Stamps) -> None:
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
    takes = sum(clip.voice == "take" for clip in one.plan.clips)
    if takes:
        print(f"    {takes} of {len(one.plan.clips)} clips are your own recordings")
