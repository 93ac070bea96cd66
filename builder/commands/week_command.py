"""practice-site week: everything that is due until Friday, checked, built and printed."""

from __future__ import annotations

import argparse
import datetime
import os
import sys
from collections.abc import Sequence
from pathlib import Path

from builder import pipeline
from builder.caseload.facts import Facts
from builder.caseload.gather import gather
from builder.caseload.rows import Row, due_until, friday_of, is_past, rows, short
from builder.commands import options, print_command
from builder.commands.build_command import build_changed, tell_others
from builder.commands.clock import today
from builder.problems import ProgramError, SiteError, UsageError, counted, standing
from builder.program_file.load import clients
from builder.workspace import desk
from builder.workspace.folder import find

ABOUT = "check, build and print everything that is due until Friday"


def add_options(parser: argparse.ArgumentParser) -> None:
    """What may follow `week`."""
    options.out(parser)
    options.base_url(parser)
    options.to(parser, desk.FOLDER)
    options.one_sided(parser)


def run(args: argparse.Namespace) -> int:
    """Exit code 1 when a client who is due was left out; all others are done."""
    day = today()
    facts = gather(find(Path.cwd()), Path(args.out), day)
    friday = friday_of(day)
    unread = [one for one in facts if one.written.trouble]
    every = [row for row in rows(facts, day) if row.facts not in unread]
    due = [row for row in due_until(every, day, friday) if row.visit != day]
    told = f"{friday:%A, %B} {friday.day}"
    print(f"Due until {told}: {', '.join(row.code for row in due) or 'nobody'}")
    ready = [row.facts for row in due if _built(row.facts, args)]
    tell_others(args.out)
    printed = _printed(ready, args) if ready else True
    for one in unread:
        print(
            f"{one.written.code}: it cannot be read, so whether it is due is not known. "
            f"{one.written.trouble}",
            file=sys.stderr,
        )
    if now := [row.code for row in every if row.visit == day]:
        code = now[0] if len(now) == 1 else "CODE"
        print(
            f"Visit today, so left out: {', '.join(now)}. `practice-site visit {code}` writes the "
            "next one."
        )
    if past := [row for row in every if is_past(row, day)]:
        print(_told_past(past, day))
    return 0 if len(ready) == len(due) and printed and not unread else 1


def _told_past(past: Sequence[Row], day: datetime.date) -> str:
    """Whose visit is past, and what to do: nothing is made for them."""
    each = ", ".join(f"{one.code} ({short(one.visit, day)})" for one in past if one.visit)
    code = past[0].code if len(past) == 1 else "CODE"
    return (
        f"Visit past, so left out: {each}. `practice-site visit {code} --next DAY` writes the next "
        "one."
    )


def _built(one: Facts, args: argparse.Namespace) -> bool:
    """Check and build one client; whether that went well. What did not is told."""
    try:
        file = _file(one)
        (client,) = clients([file], args.base_url)
        findings = pipeline.check_client(client, today=today()).findings
        if faults := standing(findings):
            raise ProgramError(faults)
        print(f"{one.written.code}: {counted(findings)}")
        sites, code = build_changed([file], Path(args.out), args.base_url)
        for site in sites:
            print(f"nothing changed: {site}")
        return code == 0
    except (ProgramError, UsageError, SiteError, OSError) as problem:
        _tell(one, problem)
        return False


def _printed(ready: Sequence[Facts], args: argparse.Namespace) -> bool:
    """Print all of them at once; where that is not possible, one by one, so that whatever one
    sheet lacks keeps no other one back."""
    try:
        return _print(ready, args)
    except (ProgramError, OSError) as problem:
        if len(ready) == 1:
            _tell(ready[0], problem)
            return False
    done = [_printed([one], args) for one in ready]  # each of them, whatever became of the first
    return all(done)


def _print(ready: Sequence[Facts], args: argparse.Namespace) -> bool:
    wanted = {"files": [str(_file(one)) for one in ready], "also": ()}
    return print_command.run(argparse.Namespace(**(vars(args) | wanted))) == 0


def _file(one: Facts) -> Path:
    return Path(os.path.relpath(one.file))


def _tell(one: Facts, problem: Exception) -> None:
    print(problem, file=sys.stderr)
    print(f"{one.written.code}: left as it was", file=sys.stderr)
