"""practice-site print: the sheet of each client, those that changed in one file, and a list of
them, into the front desk's folder."""

from __future__ import annotations

import argparse
import datetime
import os
import sys
import time
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from builder import pipeline
from builder.commands import options
from builder.commands.built_sites import Built
from builder.commands.clock import today
from builder.commands.paths import files_of, sound_of, tell_left
from builder.commands.print_further import Lying, Wanted, kinds, write_further
from builder.commands.print_group import asked_groups, write_lists
from builder.model.plan import Plan
from builder.model.program import Client
from builder.pipeline import Checked
from builder.problems import Finding, UsageError, standing
from builder.program_file.load import readable
from builder.workspace import desk
from builder.workspace.desk import BOUND, FURTHER, LIST, Sheet
from builder.workspace.folder import Workspace
from builder.workspace.program_files import named
from builder.workspace.stamps import root_around
from builder.workspace.store import Store, write_whole

ABOUT = "make the sheets for the front desk, those that changed in one file, and a list of them"
TITLE = "Sheets to print"


@dataclass(frozen=True)
class Made:
    """A client's sheet as it is now."""

    client: Client
    plan: Plan
    pdf: bytes
    first_day: str
    sheet: Sheet
    is_new: bool


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
    parser.add_argument(
        "--one-sided",
        action="store_true",
        help="for a printer that prints one side only: no empty backs between two clients",
    )


def run(args: argparse.Namespace) -> int:
    """Make what changed; exit code 1 when a client who was meant was left out."""
    from builder.site.swap import exclusive

    folder, out = Path(args.to), Path(args.out)
    if folder.resolve().is_relative_to(out.resolve()):
        raise UsageError(f"{folder}: sheets have dates on them, so they must not go into {out}.")
    day = today()
    if "group" in args.also:
        asked_groups(args.files, root_around(os.getcwd()))
    workspace = pipeline.workspace_of(files_of(args))
    everyone, left = sound_of(args, args.base_url, day)
    with exclusive(folder):
        before = desk.written(workspace, folder)
        also, unsound = _also_waiting(before, everyone, args.base_url, day)
        checked = sorted([*everyone, *also], key=lambda one: one.client.code)
        over = {one.client.code for one in checked if _past(one)}
        current = [one for one in checked if one.client.code not in over]
        named = {one.client.code for one in everyone}
        made, held = _apart(
            _all_made(current, workspace, out, before, day.isoformat()),
            Built(out, args.base_url),
            named,
        )
        _write(args, workspace, made, before, over | _without_program(before), named)
    _tell_unbuilt(made, Built(out, args.base_url))
    for one in held:
        print(
            f"{one}: changed since its site was built: `practice-site build {one}`, then "
            f"`practice-site print {one}`; its old sheet is on no list",
            file=sys.stderr,
        )
    past = [found for one in everyone for found in _past(one)]
    for found in past:
        print(found, file=sys.stderr)
    tell_left([*left, *unsound])
    return 1 if left or past else 0


def _apart(made: list[Made], built: Built, named: Collection[str]) -> tuple[list[Made], list[str]]:
    """What is printed, and the codes of those whom nobody named and whose new sheet would ask for
    other practice than their site still gives: their visit is under way."""
    held = {
        one.plan.client
        for one in made
        if one.plan.client not in named
        and one.is_new
        and built.site(one.client)
        and not built.is_of_now(one.client, one.plan)
    }
    return [one for one in made if one.plan.client not in held], sorted(held)


def _tell_unbuilt(made: Iterable[Made], built: Built) -> None:
    """Advise to build where a sheet's code leads nowhere yet, or to what is older than it."""
    for one in made:
        code, site = one.client.code, built.site(one.client)
        if not site and one.plan.code:
            print(f"{code}: not published here yet: build it first", file=sys.stderr)
        elif site and not built.is_of_now(one.client, one.plan):
            print(f"{code}: the site is older than this sheet: build it first", file=sys.stderr)


def _past(one: Checked) -> list[Finding]:
    return [found for found in one.findings if found.rule == "visit-past"]


def _also_waiting(
    before: Mapping[str, Sheet], everyone: Iterable[Checked], base_url: str, day: datetime.date
) -> tuple[list[Checked], list[Finding]]:
    """Clients who were not named but are on the list, which is made anew; and what keeps some of
    them off it."""
    known = {one.client.code for one in everyone}
    codes = [
        code
        for code, sheet in before.items()
        if (sheet.waiting or sheet.fresh) and code not in known
    ]
    files = [Path(file) for code in codes for file in _programs_of(code)]
    loaded, findings = readable(files, base_url)
    also = [pipeline.check_client(client, today=day) for client in loaded]
    faulty = [one for one in also if standing(one.findings)]
    stopped = [*findings, *(found for one in faulty for found in standing(one.findings))]
    return [one for one in also if one not in faulty], stopped


def _without_program(before: Mapping[str, Sheet]) -> set[str]:
    return {code for code in before if not _programs_of(code)}


def _programs_of(code: str) -> list[str]:
    return [file for file in named([code], root_around(os.getcwd())) if os.path.isfile(file)]


def _all_made(
    everyone: Iterable[Checked],
    workspace: Workspace,
    out: Path,
    before: Mapping[str, Sheet],
    day: str,
) -> list[Made]:
    store = Store(workspace.store)
    plans = [(one.client, pipeline.plan_of(one, workspace, out)) for one in everyone]
    return [_made(client, plan, store, before.get(plan.client), day) for client, plan in plans]


def _made(client: Client, plan: Plan, store: Store, old: Sheet | None, day: str) -> Made:
    """The sheet of a client. It is the old one where only the day of printing would differ."""
    if old and (pdf := _pdf(plan, store, old.made)) and desk.digest(pdf) == old.digest:
        return Made(client, plan, pdf, plan.first_day(old.made), old, False)
    pdf, first = _pdf(plan, store, day), plan.first_day(day)
    sheet = Sheet(desk.file_of(plan.client, first), desk.digest(pdf), day, 0, True)
    return Made(client, plan, pdf, first, sheet, True)


def _pdf(plan: Plan, store: Store, day: str) -> bytes:
    """A sheet for each of those who listen and each language, in one file."""
    from builder.make import bound, pictures, sheets

    shown = {p.key: pictures.make(p, store) for p in plan.pictures}
    each = [
        (
            f"{role}, {language}",
            sheets.handout(
                plan, shown, store, dated=True, printed=day, role=role, language=language
            ),
        )
        for role, language in plan.sheets
    ]
    return bound.bind(each, TITLE) if len(each) > 1 else each[0][1]


def _again(made: Made) -> Made:
    """A sheet whose file is gone, or is not what was written: it counts as changed."""
    return replace(made, sheet=replace(made.sheet, waiting=True), is_new=True)


def _write(
    args: argparse.Namespace,
    workspace: Workspace,
    made: list[Made],
    before: Mapping[str, Sheet],
    stale: set[str],
    named: set[str],
) -> None:
    """Bring the folder up to date; what was written is remembered last."""
    folder, store = Path(args.to), Store(workspace.store)
    folder.mkdir(parents=True, exist_ok=True)
    changed = [one if desk.is_whole(folder, one.sheet) else _again(one) for one in made]
    now = time.time_ns()
    for one in changed:
        if one.is_new:
            write_whole(folder / one.sheet.file, one.pdf)
            print(folder / one.sheet.file)
            if not one.plan.code:
                print("    without a code: the clinic file gives no `base_url`")
    current = {one.plan.client: one.sheet.file for one in changed}
    further = write_further(folder, _wanted(changed, folder, args.also, named), workspace)
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
    changed = [_with_fresh(one, before, further[one.plan.client]) for one in changed]
    waiting = [one for one in changed if one.sheet.waiting]
    listed = [one for one in changed if one.sheet.waiting or one.sheet.fresh]
    is_over = _write_bound(folder, waiting, two_sided=not args.one_sided)
    if listed:
        _write_list(folder, listed, store)
    elif is_over:
        (folder / LIST).unlink(missing_ok=True)
    rest = {code: sheet for code, sheet in before.items() if code not in {*stale, *current}}
    sheets = {one.plan.client: replace(one.sheet, checked=now) for one in changed}
    desk.keep(workspace, folder, {**rest, **sheets})
    same = sum(not one.is_new for one in changed)
    if same:
        print(f"as before: {same} sheet{'' if same == 1 else 's'}")


def _wanted(
    made: Iterable[Made], folder: Path, also: Collection[str], named: set[str]
) -> list[Wanted]:
    """What is to lie in the folder on request: what is asked for now, and what lies there."""
    return [
        Wanted(one.client, one.plan, one.first_day, tuple(dict.fromkeys((*asked, *there))))
        for one in made
        for asked in [[kind for kind in FURTHER if kind in also and one.plan.client in named]]
        for there in [desk.kinds_of(folder, one.plan.client)]
    ]


def _with_fresh(made: Made, before: Mapping[str, Sheet], there: Iterable[Lying]) -> Made:
    """With what was made on request and is still to be fetched: now, or since the last list."""
    old = before.get(made.plan.client)
    known = old.fresh if old else ()
    fresh = tuple(one.kind for one in there if one.is_new or one.kind in known)
    return replace(made, sheet=replace(made.sheet, fresh=fresh))


def _write_bound(folder: Path, waiting: list[Made], *, two_sided: bool) -> bool:
    """The bound file of the sheets that wait; whether one was there that no sheet needs now."""
    from builder.make import bound

    if not waiting:
        was_there = (folder / BOUND).is_file()
        (folder / BOUND).unlink(missing_ok=True)
        return was_there
    parts = [(one.plan.client, one.pdf) for one in waiting]
    write_whole(folder / BOUND, bound.bind(parts, TITLE, two_sided=two_sided))
    print(f"{folder / BOUND}: {len(waiting)} sheet{'' if len(waiting) == 1 else 's'}")
    return False


def _write_list(folder: Path, listed: list[Made], store: Store) -> None:
    """The list of what is to be handed over, by code."""
    from builder.make import bound, pictures
    from builder.make.desk_list import Entry, desk_list

    entries = [
        Entry(
            one.plan,
            one.first_day,
            bound.pages_of(one.pdf) if one.sheet.waiting else 0,
            desk.kinds_of(folder, one.plan.client) if one.sheet.waiting else one.sheet.fresh,
        )
        for one in listed
    ]
    shown = {p.key: pictures.make(p, store) for one in listed for p in one.plan.pictures}
    write_whole(folder / LIST, desk_list(entries, shown, store, today().isoformat()))
    print(folder / LIST)
