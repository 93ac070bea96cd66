"""practice-site caseload: every client on one line, by the next visit, and what waits."""

from __future__ import annotations

import argparse
import json
import os
import sys
import webbrowser
from collections.abc import Sequence
from datetime import date
from pathlib import Path
from typing import Any

from builder.caseload.gather import gather
from builder.caseload.lines import HEADINGS, cells
from builder.caseload.page import PAGE, caseload_page
from builder.caseload.rows import LOOKED_BACK, Row, chosen, rows
from builder.commands import options
from builder.commands.clock import today
from builder.commands.paths import bar
from builder.commands.sounds import sound_of
from builder.text.several import several
from builder.workspace.folder import Workspace, find
from builder.workspace.groups import codes_of_group
from builder.workspace.store import write_private

ABOUT = "list every client on one line: sounds, step, visits, practice, and what waits"
MAY_WRAP = ("sounds", "step", "waits")  # on a narrow terminal
LEFT_OUT, NARROW = "since", 100  # columns of a terminal on which this one is left out


def add_options(parser: argparse.ArgumentParser) -> None:
    """What may follow `caseload`."""
    parser.add_argument(
        "--due",
        type=options.whole(0, 366, "a number of days"),
        metavar="DAYS",
        help="only clients whose next visit is in at most so many days (0: today)",
    )
    parser.add_argument(
        "--sound", default="", metavar="SOUND", help=f"only who practices it, {options.SOUND}"
    )
    parser.add_argument(
        "--group",
        default="",
        metavar="NAME",
        help="only clients of this group of the clinic file, in its order",
    )
    parser.add_argument("--waits", action="store_true", help="only where something waits")
    form = parser.add_mutually_exclusive_group()
    options.as_json(form)
    form.add_argument(
        "--page", action="store_true", help="one local page with a search box, never published"
    )
    options.out(parser)
    options.quiet(parser)


def run(args: argparse.Namespace) -> int:
    """Print a line for each client; nothing is checked or made."""
    day, workspace = today(), find(Path.cwd())
    group = codes_of_group(args.group, str(workspace.root)) if args.group else []
    sound = sound_of(args.sound).spelled if args.sound else ""
    with bar() as progress:
        facts = gather(
            workspace, Path(args.out), day, lambda done, all_: progress("programs", done, all_)
        )
    found = chosen(rows(facts, day), day, args.due, sound, args.waits)
    if args.group:  # in its own order, as the visits and the list of a group are
        shown = {row.code: row for row in found}
        found = tuple(shown[code] for code in group if code in shown)
    if args.json:
        print(json.dumps([_record(row) for row in found], ensure_ascii=False, indent=1))
    elif args.page:
        _open_page(caseload_page(found, day), workspace, args.quiet)
    elif not facts:
        print("Clients: none yet")
    elif not found:
        print(_nobody(args, len(facts)))
    else:
        _print_table(found, day)
        print(_summary(found, len(facts)))
    return 0


def _open_page(html: str, workspace: Workspace, quiet: bool) -> None:
    """Write the page where nothing is published, for its owner only."""
    file = workspace.hidden / PAGE
    write_private(file, html.encode())
    print(file)
    if sys.stdout.isatty() and not quiet:
        webbrowser.open(file.resolve().as_uri())


def _record(row: Row) -> dict[str, Any]:
    """A line with all that stands behind it; days in ISO form, null where nothing is known."""
    facts, written, done = row.facts, row.facts.written, row.practiced
    return {
        "client": row.code,
        "sounds": written.sounds,
        "steps": written.steps,
        "since": _iso(row.since),
        "last_visit": _iso(row.last),
        "next_visit": _iso(row.next),
        "planned_visit": _iso(row.visit),
        "practiced": done
        and {"days": done.practiced, "planned": done.planned, "other_days": done.besides},
        "last_practiced": _iso(facts.last_practiced),
        "proposals": [
            {
                "step": name,
                "move": one.move,
                "ready": one.ready,
                "schedule": one.schedule or None,
                "sentence": one.sentence,
            }
            for name, one in zip(written.steps, facts.proposals, strict=False)
        ],
        "waits": row.waits,
        "trouble": written.trouble,
        "without_picture": written.bare,
        "file": os.path.relpath(facts.file),
        "address": facts.address,
    }


def _iso(day: date | None) -> str | None:
    return day.isoformat() if day else None


def _print_table(found: Sequence[Row], day: date) -> None:
    """On a terminal a table as wide as it is; in a pipe a line each, never wrapped or cut."""
    lines = [cells(row, day) for row in found]
    if not sys.stdout.isatty():
        wide = [max(map(len, column)) for column in zip(HEADINGS, *lines, strict=True)]
        for line in (HEADINGS, *lines):
            padded = (cell.ljust(width) for cell, width in zip(line, wide, strict=True))
            print("  ".join(padded).rstrip())
        return
    from rich.console import Console
    from rich.table import Table
    from rich.text import Text

    console, table = Console(), Table(box=None, pad_edge=False, padding=(0, 2, 0, 0))
    shown = [n for n, one in enumerate(HEADINGS) if one != LEFT_OUT or console.width >= NARROW]
    for heading in (HEADINGS[n] for n in shown):
        table.add_column(heading, no_wrap=heading not in MAY_WRAP, overflow="fold")
    for line in lines:
        table.add_row(*(Text(line[n]) for n in shown))  # a step's name is text, not markup
    console.print(table)


def _nobody(args: argparse.Namespace, everyone: int) -> str:
    """Where the filters leave nobody, what was looked for."""
    asked = []
    if args.due is not None:
        due = f"within {several(args.due, 'day')}" if args.due else "today"
        asked.append(f"whose next visit is {due}")
    if args.sound:
        asked.append(f"who practices {args.sound}")
    if args.waits:
        asked.append("for whom something waits")
    where = f" in the group {args.group}" if args.group else ""
    return (
        f"There is no client{where} {' and '.join(asked)} ({several(everyone, 'client')} in all)."
    )


def _summary(found: Sequence[Row], everyone: int) -> str:
    waiting = sum(bool(row.waits) for row in found)
    clients = several(everyone, "client")
    shown = f"{len(found)} of {clients}" if len(found) < everyone else clients
    return f"{shown}; something waits for {waiting}. Practiced: the last {LOOKED_BACK} days."
