"""practice-site print: the sheet of each client, those that changed in one file, and a list of
them, into the front desk's folder."""

from __future__ import annotations

import argparse
import datetime
import os
import sys
import time
from collections.abc import Collection, Iterable, Mapping
from dataclasses import replace
from pathlib import Path

from builder import pipeline
from builder.commands import options
from builder.commands.built_sites import Built
from builder.commands.clock import today
from builder.commands.paths import files_of, sound_of, tell_left
from builder.commands.print_further import Wanted, kinds, write_further
from builder.commands.print_group import asked_groups, write_lists
from builder.commands.print_lists import with_fresh, write_bound, write_list
from builder.commands.print_made import Made, again, all_made
from builder.commands.print_waiting import also_waiting, apart, tell_unbuilt, without_program
from builder.pipeline import Checked
from builder.problems import Finding, UsageError
from builder.text.several import several
from builder.workspace import desk
from builder.workspace.desk import FURTHER, LIST, Further, Sheet
from builder.workspace.folder import Workspace
from builder.workspace.stamps import root_around
from builder.workspace.store import Store, write_whole

ABOUT = "make the sheets for the front desk, those that changed in one file, and a list of them"


def add_options(parser: argparse.ArgumentParser) -> None:
    """What may follow `print`."""
    options.programs(parser)
    options.out(parser)
    options.base_url(parser)
    options.to(parser, desk.FOLDER)
    parser.add_argument(
        "--also",
        type=kinds,
        default=(),
        metavar="KIND",
        help="also guide (for the helper), cards (picture cards), score (score sheet for the "
        "therapist), school (for a teacher or a second home), group (of a group: its clients in "
        "turn, for the adult who runs the sitting), or several, as in guide,cards; what lies in "
        "the folder already is kept up to date without it",
    )
    options.one_sided(parser)


def run(args: argparse.Namespace) -> int:
    """Make what changed; exit code 1 when a client who was meant was left out."""
    from builder.site.swap import exclusive

    folder, out = Path(args.to), Path(args.out)
    if folder.resolve().is_relative_to(out.resolve()):
        raise UsageError(
            f"{folder}: sheets have dates on them, so they must not lie where the sites do. Choose "
            f"another folder, as in `--to {desk.FOLDER}`."
        )
    day = today()
    if "group" in args.also:
        asked_groups(args.files, root_around(os.getcwd()))
    workspace = pipeline.workspace_of(files_of(args.files))
    everyone, left = sound_of(args, args.base_url, day)
    built = Built(out, args.base_url)
    if not args.files:
        everyone = _without_removed(everyone, built)
    with exclusive(folder):
        before = desk.written(workspace, folder)
        also, unsound = also_waiting(before, everyone, args.base_url, day)
        checked = sorted([*everyone, *also], key=lambda one: one.client.code)
        over = {one.client.code for one in checked if _past(one) or _is_today(one, day)}
        current = [one for one in checked if one.client.code not in over]
        named = {one.client.code for one in everyone}
        made, held = apart(all_made(current, workspace, out, before, day.isoformat()), built, named)
        _write(args, workspace, made, before, over, named)
    tell_unbuilt(made, built)
    _tell_held(held)
    some_over = _tell_over(everyone, day)
    tell_left([*left, *unsound])
    return 1 if left or some_over else 0


def _tell_held(codes: Iterable[str]) -> None:
    for code in codes:
        print(
            f"{code}: changed since its site was built: `practice-site build {code}`, then "
            f"`practice-site print {code}`; its old sheet is on no list",
            file=sys.stderr,
        )


def _tell_over(everyone: Iterable[Checked], day: datetime.date) -> bool:
    """Say of whom all days of a sheet are over, so that none is made; whether there is anybody."""
    checked = list(everyone)
    past = [found for one in checked for found in _past(one)]
    for found in past:
        print(found, file=sys.stderr)
    now = [one.client.code for one in checked if _is_today(one, day)]
    for code in now:
        print(
            f"{code}: the visit is today, so all days of its sheet are over: `practice-site visit "
            f"{code} --next DAY`, then print it",
            file=sys.stderr,
        )
    return bool(past or now)


def _without_removed(everyone: Iterable[Checked], built: Built) -> list[Checked]:
    """Who was taken off the web on purpose is to be named."""
    found = []
    for one in everyone:
        if built.removed(one.client):
            print(f"{one.client.code}: its site was removed; name it to print its sheet")
        else:
            found.append(one)
    return found


def _is_today(one: Checked, day: datetime.date) -> bool:
    """Whether nothing is left to practice before the visit that is written."""
    return any(program.written.practice.visit == day for program in one.client.programs)


def _past(one: Checked) -> list[Finding]:
    return [found for found in one.findings if found.rule == "visit-past"]


def _write(
    args: argparse.Namespace,
    workspace: Workspace,
    made: list[Made],
    before: Mapping[str, Sheet],
    over: set[str],
    named: set[str],
) -> None:
    """Bring the folder up to date; what was written is remembered last. over: the codes of those
    whose visit is past or today, so that no sheet is right."""
    folder = Path(args.to)
    stale = over | without_program(before)
    folder.mkdir(parents=True, exist_ok=True)
    changed = [one if desk.is_whole(folder, one.sheet) else again(one) for one in made]
    now = time.time_ns()
    _write_sheets(folder, changed)
    current = {one.plan.client: one.sheet.file for one in changed}
    further = write_further(folder, _wanted(changed, folder, args.also, named, before), workspace)
    lay = {code: _asked(folder, code, before) for code in over & before.keys()}
    files = {code: (file, *(one.file for one in further[code])) for code, file in current.items()}
    for name in desk.remove_others(folder, {**dict.fromkeys(stale, ()), **files}):
        print(f"{folder / name}: deleted, since it is out of date")
    write_lists(
        folder,
        asked_groups(args.files, str(workspace.root)) if "group" in args.also else (),
        {one.plan.client: one.plan for one in changed},
        [one.plan.client for one in changed if one.is_new],
        workspace,
        today().isoformat(),
    )
    changed = [with_fresh(one, before, further[one.plan.client]) for one in changed]
    _write_for_the_desk(folder, changed, Store(workspace.store), two_sided=not args.one_sided)
    rest = {code: sheet for code, sheet in before.items() if code not in {*stale, *current}}
    sheets = {one.plan.client: replace(one.sheet, checked=now) for one in changed}
    gone = {
        code: replace(before[code], waiting=False, fresh=(), asked=kinds)
        for code, kinds in lay.items()
    }
    desk.keep(workspace, folder, {**rest, **gone, **sheets})
    same = sum(not one.is_new for one in changed)
    if same:
        print(f"as before: {several(same, 'sheet')}")


def _write_sheets(folder: Path, made: Iterable[Made]) -> None:
    for one in made:
        if one.is_new:
            write_whole(folder / one.sheet.file, one.pdf)
            print(folder / one.sheet.file)
            if not one.plan.code:
                print("    without a code: the clinic file gives no `base_url`")


def _write_for_the_desk(folder: Path, made: list[Made], store: Store, *, two_sided: bool) -> None:
    """What waits, bound in one file, and the list of it and of what was made on request."""
    waiting = [one for one in made if one.sheet.waiting]
    listed = [one for one in made if one.sheet.waiting or one.sheet.fresh]
    is_over = write_bound(folder, waiting, two_sided=two_sided)
    if listed:
        write_list(folder, listed, store)
    elif is_over:
        (folder / LIST).unlink(missing_ok=True)


def _wanted(
    made: Iterable[Made],
    folder: Path,
    also: Collection[str],
    named: set[str],
    before: Mapping[str, Sheet],
) -> list[Wanted]:
    """What is to lie in the folder on request: what is asked for now, and what was before."""
    return [
        Wanted(one.client, one.plan, one.first_day, tuple(dict.fromkeys((*asked, *there))))
        for one in made
        for asked in [[kind for kind in FURTHER if kind in also and one.plan.client in named]]
        for there in [_asked(folder, one.plan.client, before)]
    ]


def _asked(folder: Path, code: str, before: Mapping[str, Sheet]) -> tuple[Further, ...]:
    """What lies there on request, or did until a visit was over."""
    known = before[code].asked if code in before else ()
    return tuple(dict.fromkeys((*desk.kinds_of(folder, code), *known)))
