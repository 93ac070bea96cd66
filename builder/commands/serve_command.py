"""practice-site serve: build, show on this computer, build again on every save."""

from __future__ import annotations

import argparse
import sys
import threading
from pathlib import Path

from builder import pipeline
from builder.commands import options
from builder.commands.build_command import build_changed
from builder.commands.paths import files_of
from builder.problems import ProgramError, SiteError, UsageError
from builder.site import serve
from builder.workspace.addresses import secret, slug
from builder.workspace.program_files import code_of
from builder.workspace.stamps import Stamps

ABOUT = "build, show on this computer, build again on every save"


def add_options(parser: argparse.ArgumentParser) -> None:
    """What may follow `serve`."""
    options.programs(parser)
    options.out(parser)
    options.port(parser, 8000)


def run(args: argparse.Namespace) -> int:
    """Until Ctrl-C. A program with faults keeps the site as it was and says what is wrong."""
    files, out = files_of(args.files), Path(args.out)
    if not args.files:
        files = _without_removed(files, out)
    workspace = pipeline.workspace_of(files)
    every = not args.files
    build_changed(files, out, every=every)
    try:
        server = serve.server(out, args.port)
    except OSError as problem:
        raise UsageError(f"port {args.port}: {problem.strerror}. Try another `--port`.") from None
    stop = threading.Event()
    eye = threading.Thread(
        target=serve.watch, args=(lambda: _state(files), lambda: _again(files, out, every), stop)
    )
    eye.start()
    host, port = server.server_address[:2]
    key = secret(workspace, out)
    for code in filter(None, dict.fromkeys(code_of(str(file)) for file in files)):
        print(f"{code}: http://{host!s}:{port}/{slug(key, code)}/")
    print("Press Ctrl+C to stop.", flush=True)
    try:
        server.serve_forever()
    finally:
        stop.set()
        eye.join()
        server.server_close()
    return 0


def _state(files: list[Path]) -> object:
    seen = []
    for folder in dict.fromkeys(file.parent for file in files):
        seen += [_time(file) for file in sorted(folder.rglob("*"))]
    return seen


def _time(file: Path) -> tuple[str, int]:
    try:
        return str(file), file.stat().st_mtime_ns
    except OSError:  # an editor is just putting a new one in its place
        return str(file), 0


def _without_removed(files: list[Path], out: Path) -> list[Path]:
    """Without those whose site was taken away on purpose: these are named to be shown again."""
    stamps = Stamps([str(file) for file in files], str(out), "")
    left = {code_of(str(file)) for file in files if stamps.removed(str(file))}
    for code in sorted(left):
        print(f"{code}: its site was removed; `practice-site serve {code}` publishes it again")
    if found := [file for file in files if code_of(str(file)) not in left]:
        return found
    raise UsageError("all sites were removed. Name the client who is to be published again.")


def _again(files: list[Path], out: Path, every: bool) -> None:
    stamps = Stamps([str(file) for file in files], str(out), "")
    there = [file for file in files if not stamps.removed(str(file))]
    try:
        if there:
            build_changed(there, out, every=every)
    except (ProgramError, UsageError, SiteError, OSError) as problem:
        print(problem, file=sys.stderr, flush=True)
