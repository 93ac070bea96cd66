"""Whether a visit is to be written: asked, and said where it is not."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Literal

from builder.commands.visit_change import Change
from builder.model.program import Client
from builder.problems import standing

YES = ("y", "yes")

Outcome = Literal["written", "nothing", "declined", "fault"]
"""nothing: that would change; fault: it is written, and a fault stands in the program."""


@contextmanager
def stopped_before_writing(client: Client) -> Iterator[None]:
    """Ctrl-C up to here leaves all as it was, and says so."""
    try:
        yield
    except KeyboardInterrupt:
        print(f"\n{client.code}: nothing was written.", file=sys.stderr)
        raise


def may_write(args: argparse.Namespace, change: Change) -> bool:
    """Whether she agrees, now or beforehand."""
    new = "A new fault stands in it, to be mended before it is built. "
    question = f"Write this into {change.file}? [y/N] "
    if standing(change.fresh):
        question = f"{new}{question}"
    if args.yes or agreed(question):
        return True
    print("Nothing was written.")
    return False


def agreed(question: str) -> bool:
    """Whether yes is typed; nothing, or the end of the input, is no."""
    try:
        return input(question).strip().lower() in YES
    except EOFError:
        print()
        return False
