"""Runs a command and turns our errors into messages and exit codes."""

from __future__ import annotations

import argparse
import errno
import os
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager


def run(command: Callable[[argparse.Namespace], int], args: argparse.Namespace) -> int:
    """Run `command`; a mistake of the user shows no traceback."""
    from builder.problems import ProgramError, SiteError, UsageError

    try:
        if _finish_visit() and getattr(args, "is_visit", False):
            _say(
                "nothing else was done, since this may be the same visit typed again: `on` would "
                "move a second step. Look at what is there, and type what is missing."
            )
            return 2
        return command(args)
    except BrokenPipeError:
        return 0
    except SiteError as problem:
        _say(f"this is a fault in the tool; nothing was changed: {problem}.")
        return 3
    except ProgramError as problem:
        for found in problem.findings:
            print(found, file=sys.stderr)
        _say_notes(problem)
        return 1
    except UsageError as problem:
        _say(str(problem))
        _say_notes(problem)
        return 2
    except OSError as problem:
        _say(_told(problem))
        _say_notes(problem)
        return 2
    except UnicodeEncodeError as problem:  # of what was typed, and of names of files
        near = str(problem.object)[max(0, problem.start - 10) : problem.end + 10]
        _say(
            f"`{near}` holds a sign that is no UTF-8. Type it in a terminal that is set to UTF-8, "
            "or give the file another name."
        )
        return 2
    except KeyboardInterrupt:
        return 130


@contextmanager
def nothing_written() -> Iterator[None]:
    """For what comes before a command writes a program: faults there end with this word."""
    from builder.problems import ProgramError

    try:
        yield
    except ProgramError as problem:
        problem.add_note("Nothing was written.")
        raise


def _finish_visit() -> bool:
    """What a visit left undone that was stopped on the way; whether there was any."""
    from builder.workspace.stamps import JOURNAL, root_around

    root = root_around(os.getcwd())
    if not root or not os.path.isfile(os.path.join(root, JOURNAL)):
        return False
    from pathlib import Path

    from builder.practice.visit.written import finish
    from builder.problems import UsageError

    try:
        done = finish(Path(root))
    except OSError as problem:
        raise UsageError(
            "a visit was stopped while it was written, and the rest cannot be written yet: "
            f"{_told(problem)} Once that is mended, the next command writes it."
        ) from None
    if done:
        _say(
            f"{done.code}: a visit was stopped while it was written; "
            + (
                "it is written now."
                if done.file_too
                else f"its score or note is in the log now, and {done.file}, which was changed "
                "since, was left as it is. Type the rest of the visit again."
            )
        )
    return done is not None


def _told(problem: OSError) -> str:
    file = problem.filename
    if problem.errno in (errno.ENOSPC, errno.EDQUOT):
        # Of a copy both files are known; the disk of the second one is full.
        file = problem.filename2 or file
        what = "the disk is full; free some space and try again"
    else:
        what = problem.strerror or str(problem)
    return f"{file}: {what}." if file else f"{what}."


def _say(sentence: str) -> None:
    print(f"practice-site: {sentence}", file=sys.stderr)


def _say_notes(problem: BaseException) -> None:
    for note in getattr(problem, "__notes__", ()):
        print(note, file=sys.stderr)
