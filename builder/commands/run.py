"""Finds the command's module, turns our errors into messages and exit codes."""

from __future__ import annotations

import argparse
import sys
from importlib import import_module

from builder.problems import ProgramError, SiteError, UsageError


def run(args: argparse.Namespace) -> int:
    """Run `args.command`; a mistake of the user shows no traceback."""
    module = import_module(f"builder.commands.{args.command}_command")
    try:
        return int(module.run(args))
    except BrokenPipeError:
        return 0
    except SiteError as problem:
        print(
            f"practice-site: a fault of this tool, nothing was changed: {problem}.", file=sys.stderr
        )
        return 3
    except ProgramError as problem:
        for found in problem.findings:
            print(found, file=sys.stderr)
        return 1
    except UsageError as problem:
        print(f"practice-site: {problem}", file=sys.stderr)
        return 2
    except OSError as problem:
        where = f"{problem.filename}: " if problem.filename else ""
        print(f"practice-site: {where}{problem.strerror or problem}.", file=sys.stderr)
        return 2
    except KeyboardInterrupt:
        return 130
