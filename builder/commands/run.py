"""Finds the command's module, turns our errors into messages and exit codes."""

from __future__ import annotations

import argparse
import sys
from importlib import import_module

from builder.problems import ProgramError, UsageError


def run(args: argparse.Namespace) -> int:
    """Run `args.command`; a mistake of the user shows no traceback."""
    module = import_module(f"builder.commands.{args.command}_command")
    try:
        return int(module.run(args))
    except ProgramError as problem:
        for found in problem.findings:
            print(found, file=sys.stderr)
        return 1
    except UsageError as problem:
        print(f"practice-site: {problem}", file=sys.stderr)
        return 2
    except KeyboardInterrupt:
        return 130
    except BrokenPipeError:
        return 0
