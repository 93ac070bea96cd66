"""practice-site serve: build, show on this machine, build again on every save."""

from __future__ import annotations

import argparse
import sys
import threading
from pathlib import Path

from builder import serve
from builder.commands.build_command import build
from builder.commands.paths import files_of
from builder.problems import ProgramError, SiteError, UsageError
from builder.stamp import Stamps, code_of
from builder.workspace import find, secret, slug


def run(args: argparse.Namespace) -> int:
    """Until Ctrl-C. A program with faults keeps the site as it was and says what is wrong."""
    files, out = files_of(args), Path(args.out)
    _again(files, out)
    try:
        server = serve.server(out, args.port)
    except OSError as problem:
        raise UsageError(f"port {args.port}: {problem.strerror}. Try another --port.") from None
    stop = threading.Event()
    eye = threading.Thread(
        target=serve.watch, args=(lambda: _state(files), lambda: _again(files, out), stop)
    )
    eye.start()
    host, port = server.server_address[:2]
    key = secret(find(files[0]), out)
    for code in dict.fromkeys(code_of(str(file)) for file in files):
        print(f"{code}: http://{host!s}:{port}/{slug(key, code)}/")
    print("Ctrl-C ends this.", flush=True)
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
        seen += [(str(f), f.stat().st_mtime_ns) for f in sorted(folder.rglob("*")) if f.is_file()]
    return seen


def _again(files: list[Path], out: Path) -> None:
    names = [str(f) for f in files]
    stamps = Stamps(names, str(out), "")
    changed = [f for f in files if not stamps.unchanged(str(f))]
    if not changed:
        return
    try:
        build(changed, out, "", stamps)
    except (ProgramError, UsageError, SiteError, OSError) as problem:
        print(problem, file=sys.stderr, flush=True)
