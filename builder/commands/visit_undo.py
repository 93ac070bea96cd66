"""The last visit of a client taken back."""

from __future__ import annotations

import argparse
from pathlib import Path

from builder.commands.clock import today
from builder.commands.run import nothing_written
from builder.commands.visit_agreed import Outcome, agreed, stopped_before_writing
from builder.commands.visit_checked import file_of, program_at, with_text
from builder.commands.visit_heard import in_log, score_in_words
from builder.drafting.visit.difference import in_words
from builder.model.program import Client
from builder.practice.visit.written import Writing, heard_in, write
from builder.problems import UsageError
from builder.workspace import former
from builder.workspace.addresses import secret, slug
from builder.workspace.folder import find


def undo(args: argparse.Namespace) -> Outcome:
    """Take the last visit back, once she agrees. Raises UsageError where there is none, or the file
    was changed."""
    with nothing_written():
        file, client = file_of(args)
    workspace = find(file)
    site = slug(secret(workspace), client.code)
    found = former.find(workspace, site, file)
    if found is None:
        kept = former.newest(workspace, site, file)
        where = f" It was changed since; what it was then is kept in {kept}." if kept else ""
        raise UsageError(f"{file}: there is no visit to take back.{where}")
    try:
        heard = heard_in(found.told, site)
    except (ValueError, KeyError, TypeError):
        raise UsageError(f"{found.kept}: it is damaged, so this visit stays.") from None
    back = Writing(
        code=client.code,
        site=site,
        file=file,
        heard=heard,
        day=str(today()),
        kept=found.kept,
        before=file.read_bytes().decode(),
        after=found.before.decode(),
    )
    with stopped_before_writing(client):
        print(f"{client.code}: {_taken_back(client, file, back)}")
        if not args.yes and not agreed(f"Take this visit back in {file}? [y/N] "):
            print("Nothing was written.")
            return "declined"
    write(workspace, back)
    print(f"{file}: as it was before the visit.")
    return "written"


def _taken_back(client: Client, file: Path, back: Writing) -> str:
    """What changes with it, in a line."""
    parts = []
    if back.before != back.after:
        now = program_at(client, file)
        with nothing_written():
            then, whole = with_text(client, now, back.after)
        parts.append(in_words(now, then, whole))
    if back.heard:
        parts.append(f"out of the log: {', '.join(in_log(back.heard))}")
    if back.heard.replaced:
        parts.append(f"in it again: {', '.join(map(score_in_words, back.heard.replaced))}")
    return "; ".join(parts)
