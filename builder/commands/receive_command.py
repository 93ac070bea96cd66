"""practice-site receive: what families hand over, into the clinic's log."""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import IO, get_args

from builder.commands.known_clients import known
from builder.commands.receive_told import lines, tell_apart, tell_too_early
from builder.model.program import Role
from builder.model.record import Sitting
from builder.practice.handed_over import read_codes, read_file
from builder.practice.log.receive import receive
from builder.practice.log.rows import opened
from builder.practice.parts import PartMissingError, beginning
from builder.practice.photos import by_message, codes_in, is_picture
from builder.practice.unpack import site_of
from builder.problems import UsageError
from builder.workspace.folder import find
from builder.workspace.groups import expanded
from builder.workspace.stamps import root_around

ABOUT = "take practice records from home into the log"

LISTENERS = tuple(role for role in get_args(Role) if role != "self")
WHOSE = "home, other-home or school"
PASTED = "-"
MOST_BYTES = 60_000_000  # of a file; a photograph of 200 million dots has some 40,000,000
ALL_AGAIN = "Take what is missing, too, and name all of its pictures in one command."
PASTE = "Paste the message, then press Enter and {keys}."


def add_options(parser: argparse.ArgumentParser) -> None:
    """What may follow `receive`."""
    parser.add_argument(
        "files",
        nargs="*",
        metavar="FILE",
        help="a file that a tablet saved, a saved message, or pictures of its codes in any order; "
        "- or nothing: text that you paste",
    )
    parser.add_argument(
        "--paper",
        metavar="CLIENT",
        help="ask for the counts of this client's paper sheet instead, or of a "
        "group's, one after another",
    )
    parser.add_argument(
        "--helper",
        type=_role,
        metavar="WHO",
        help=f"with --paper: whose sheet it is, {WHOSE}, where each has its own",
    )
    parser.add_argument(
        "--from",
        dest="first",
        default="",
        metavar="DAY",
        help="of a sheet before the program's: its first day, as in 2026-12-07",
    )


def _role(text: str) -> str:
    """The reader of who listened, as in `other-home`."""
    role = text.lower().replace("-", " ")
    if role not in LISTENERS:
        raise argparse.ArgumentTypeError(f"`{text}` is none of them: write {WHOSE}")
    return role


def run(args: argparse.Namespace) -> int:
    """Take each file in, and each message of which all codes are there, whole or not at all, and
    say what came; exit code 1 when something was kept apart, 2 when a file held no record."""
    if args.paper:
        return _paper(args)
    if args.helper:
        raise UsageError("`--helper` says whose sheet of paper it is: type it after `--paper`.")
    workspace = find(Path.cwd())
    handed_over = _Read([], [], 0)
    for name in args.files or [PASTED]:
        handed_over.add(name)
    with opened(workspace.hidden) as log:
        against = known(workspace, log)
        handed_over.add_codes(against.codes)
        code = handed_over.code
        for sittings in handed_over.messages:
            came = receive(log, sittings, against)
            for line in lines(came, against.codes):
                print(line)
            tell_too_early(came, against)
            code = max(code, tell_apart(came, against.codes))
    return code


def _paper(args: argparse.Namespace) -> int:
    """The counts of one client, or of each of a group, of whom one without a sheet stops no
    other."""
    from builder.commands.paper_counts import enter

    if args.files:
        raise UsageError("Type `--paper` with a client alone; name files in a second command.")
    names, code = expanded([args.paper], root_around(os.getcwd())), 0
    for name in names:
        try:
            enter(name, args.first, input, print, args.helper or "")
        except UsageError as problem:
            if names == [args.paper]:
                raise
            print(f"practice-site: {problem}", file=sys.stderr)
            code = 2
    return code


@dataclass
class _Read:
    """What files held: the sittings of each message, codes still to be put together, each with
    its file, the exit code."""

    messages: list[tuple[Sitting, ...]]
    codes: list[tuple[str, str]]
    code: int

    def add(self, name: str) -> None:
        """Read one file, or complain of it."""
        with self._complaining("" if name == PASTED else f"{name}: "):
            data = _data(name)
            if is_picture(data):
                self.codes += [(code, name) for code in codes_in(data)]
            else:
                self.messages.append(read_file(data))

    def add_codes(self, clients: Mapping[str, str]) -> None:
        """Put the codes of all pictures together, or complain of those that lack a part: in which
        files the others are, and whose they are. clients: codes of clients by site."""
        for codes in by_message(code for code, _ in self.codes):
            files = dict.fromkeys(name for code, name in self.codes if code in codes)
            with self._complaining(f"{', '.join(files)}: "):
                try:
                    self.messages.append(read_codes(codes))
                except PartMissingError as problem:
                    raise UsageError(f"{problem} {_whose(codes, clients)} {ALL_AGAIN}") from None

    @contextmanager
    def _complaining(self, place: str) -> Iterator[None]:
        try:
            yield
        except (UsageError, OSError) as problem:
            told = f"{problem.strerror}." if isinstance(problem, OSError) else str(problem)
            print(f"practice-site: {place}{told}", file=sys.stderr)
            self.code = 2


def _whose(codes: Sequence[str], clients: Mapping[str, str]) -> str:
    """Whose a message is of which a part is missing: the first part tells it."""
    site = site_of(beginning(codes))
    if not site:
        return "Whose it is stands in part 1."
    return f"It is from {clients.get(site, 'no client of this practice folder')}."


def _data(name: str) -> bytes:
    if name != PASTED:
        with Path(name).open("rb") as stream:
            return _bounded(stream)
    if sys.stdin.isatty():
        keys = "Ctrl+Z, Enter" if sys.platform == "win32" else "Ctrl+D"
        print(PASTE.format(keys=keys), file=sys.stderr)
    return _bounded(sys.stdin.buffer)


def _bounded(stream: IO[bytes]) -> bytes:
    data = stream.read(MOST_BYTES + 1)
    if len(data) > MOST_BYTES:
        raise UsageError("This is far too large for a practice record or a picture of one.")
    return data
