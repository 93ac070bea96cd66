"""The command line. Only here and in commands/ is anything printed, exited or read from the
environment; each command is a module with its own help (ABOUT) and options, imported when asked
for."""

from __future__ import annotations

import argparse
import io
import os
import sys
from importlib import import_module
from typing import Any

PROGRAM = "practice-site"
COMMANDS = (
    "start",
    "caseload",
    "week",
    "check",
    "rules",
    "proof",
    "pictures",
    "record",
    "clips",
    "split",
    "build",
    "print",
    "serve",
    "remove",
    "visit",
    "progress",
    "receive",
    "log",
    "backup",
    "restore",
    "new",
    "extend",
    "syllables",
    "where",
    "schema",
    "pairs",
    "words",
)  # as the help lists them


def main(argv: list[str] | None = None) -> int:
    """Run one command; the exit code: 0 done, 1 faults inside a file, 2 file or command amiss,
    130 stopped by Ctrl-C."""
    try:
        return _main(argv)
    except KeyboardInterrupt:  # while a command is being loaded
        return 130


def _main(argv: list[str] | None) -> int:
    _print_utf8()
    sys.stdin = sys.stdin or io.TextIOWrapper(io.BytesIO())  # closed: nobody can be asked
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # small products: threads only wait
    words = sys.argv[1:] if argv is None else argv
    if words and words[0] not in COMMANDS:
        _overview().parse_args(words)  # ends with the help or with what is wrong
        return 2
    from builder.commands.run import run

    if not words:
        return run(import_module("builder.commands.folder_report").run, argparse.Namespace())
    command = _command(words[0])
    # Options may stand anywhere, between a program and its recording too.
    return run(command.run, _parser(words[0], command).parse_intermixed_args(words[1:]))


def _command(name: str) -> Any:
    """The module of a command: ABOUT, add_options(parser) and run(args)."""
    return import_module(f"builder.commands.{name}_command")


def _parser(name: str, command: Any) -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog=f"{PROGRAM} {name}", description=f"{name}: {command.ABOUT}."
    )
    command.add_options(parser)
    return parser


def _overview() -> argparse.ArgumentParser:
    """All commands with a line each."""
    top = argparse.ArgumentParser(
        prog=PROGRAM,
        description="Publishes home practice programs. You decide; the tool checks and compiles.",
    )
    commands = top.add_subparsers(dest="command", required=True, metavar="COMMAND")
    for name in COMMANDS:
        commands.add_parser(name, help=_command(name).ABOUT)
    return top


def _print_utf8() -> None:
    """IPA must not fail on a console that speaks an old code page."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(encoding="utf-8", errors="replace")


if __name__ == "__main__":
    sys.exit(main())
