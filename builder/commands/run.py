"""Runs a command and turns our errors into messages and exit codes."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable


def run(command: Callable[[argparse.Namespace], int], args: argparse.Namespace) -> int:
    """Run `command`; a mistake of the user shows no traceback."""
    from builder.problems import ProgramError, SiteError, UsageError

    try:
        return command(args)
    except BrokenPipeError:
        return 0
    except SiteError as problem:
        _say(f"this is a fault in the tool; nothing was changed: {problem}.")
        return 3
    except ProgramError as problem:
        for found in problem.findings:
            print(found, file=sys.stderr)
        return 1
    except UsageError as problem:
        _say(str(problem))
        return 2
    except OSError as problem:
        where = f"{problem.filename}: " if problem.filename else ""
        _say(f"{where}{problem.strerror or problem}.")
        return 2
    except KeyboardInterrupt:
        return 130


def _say(sentence: str) -> None:
    print(f"practice-site: {sentence}", file=sys.stderr)
