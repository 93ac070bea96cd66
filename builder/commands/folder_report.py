"""practice-site alone: how the practice folder stands, and what is next."""

from __future__ import annotations

import argparse
import datetime
import os
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from builder.commands.clock import today
from builder.commands.known_clients import codes
from builder.drafting.copy_program import blanks_in
from builder.model.clinic import Clinic
from builder.practice.former_sheets import dates_in
from builder.practice.log.file import FILE
from builder.practice.log.rows import opened
from builder.problems import ProgramError
from builder.program_file.load import clinic_of
from builder.text.several import several
from builder.workspace import desk
from builder.workspace.desk import Sheet
from builder.workspace.folder import HIDDEN_FOLDER, Workspace
from builder.workspace.program_files import CLINIC, EXAMPLES, PROGRAMS, by_code
from builder.workspace.stamps import Stamps, root_around

NEW = "practice-site new wren-01 --sound k --position initial --age 4"
NO_FOLDER = (
    "This is no practice folder. Type `practice-site start my-clinic` to make one, or "
    "`practice-site --help` to see all commands."
)
OF_NOBODY = "a client unknown here"
SHOWN = 12  # of the clients that need something so many are named


@dataclass(frozen=True)
class Standing:
    """A client: the first program file, how many blanks are still to be filled in, whether there
    is a site, whether it is of the files as they are, and whether its sheets are of it or newer;
    over: the visit that is written, where that is past or today, so that no sheet is made."""

    code: str
    file: str
    blanks: int
    published: bool
    unchanged: bool
    printed: bool
    over: datetime.date | None

    def __str__(self) -> str:
        if self.blanks:
            return f"{self.code}: {self.blanks} still to be filled in ({self.file})"
        if self.over:
            return (
                f"{self.code}: the visit of {self.over} is over, so no sheet is made: "
                f"`practice-site visit {self.code} --next DAY`"
            )
        return f"{self.code}: " + (
            "its files, the pictures or the recordings changed since it was published"
            if self.published
            else "not published yet"
        )


def run(_args: argparse.Namespace) -> int:
    """Print it; nothing is made."""
    root = root_around(os.getcwd())
    print("\n".join(_report(Path(root))) if root else NO_FOLDER)
    return 0


def _report(root: Path) -> Iterator[str]:
    here = Path(os.path.relpath(root))
    programs = here / PROGRAMS
    yield f"Practice folder: {root}"
    if not (programs / CLINIC).is_file():
        yield from _examples(here)
        yield f"There is no clinic file. Next: `practice-site start{_named(here)}`"
        return
    try:
        clinic = clinic_of(programs)
    except ProgramError as problem:
        yield from map(str, problem.findings)
        yield f"Next: open {programs / CLINIC} in a text editor and mend that"
        return
    yield _clinic(clinic)
    clients = list(_standings(root, programs))
    yield from _clients(clients)
    yield from _kept_apart(root)
    yield from _examples(here)
    yield f"Next: {_next(clients)}"


def _named(here: Path) -> str:
    return "" if here == Path() else f" {here}"


def _clinic(clinic: Clinic) -> str:
    where = clinic.base_url or "no web address yet: printed codes need `base_url` in clinic.yaml"
    return f"Clinic: {clinic.contact.clinic}; {where}"


def _standings(root: Path, programs: Path) -> Iterator[Standing]:
    found = by_code(str(programs))
    if not found:
        return
    folder = root / desk.FOLDER
    sheets = desk.written(Workspace(root), folder)
    stamps = Stamps([files[0] for files in found.values()], str(root / "public"), "")
    for code, files in sorted(found.items()):
        contents = [Path(file).read_bytes() for file in files]
        blanks = sum(map(blanks_in, contents))
        visits = [dates_in(one.decode("utf-8", "replace"))[1] for one in contents]
        visit = min(filter(None, visits), default=None)
        over = visit if visit and visit <= today() else None
        site = stamps.unchanged(files[0])
        printed = bool(site) and _is_printed(folder, sheets.get(code), Path(site))
        published = stamps.published(files[0])
        yield Standing(code, files[0], blanks, published, bool(site), printed, over)


def _is_printed(folder: Path, sheet: Sheet | None, site: Path) -> bool:
    """Whether there is a sheet that was made or looked at since the site was built."""
    built = (site / "practice.json").stat().st_mtime_ns
    return sheet is not None and sheet.checked >= built and (folder / sheet.file).is_file()


def _clients(clients: list[Standing]) -> Iterator[str]:
    done = sum(not one.blanks and one.unchanged for one in clients)
    told = f", {done} of them published as they stand" if clients else ""
    asking = [one for one in clients if one.blanks or one.over or not one.unchanged]
    yield f"Clients: {len(clients) or 'none yet'}{told}"
    yield from (f"    {one}" for one in asking[:SHOWN])
    if len(asking) > SHOWN:
        yield f"    and {len(asking) - SHOWN} more"


def _kept_apart(root: Path) -> Iterator[str]:
    """What `receive` could not take for true, by client; the sites of nobody here together."""
    hidden = root / HIDDEN_FOLDER
    if not (hidden / FILE).is_file():
        return
    workspace = Workspace(root)
    with opened(hidden) as log:
        apart = log.apart()
        named = {**codes(workspace), **log.clients()} if apart else {}
    found = Counter((named.get(one.sitting.site, OF_NOBODY), one.why) for one in apart)
    for (whose, why), number in sorted(found.items()):
        sittings = several(number, "sitting")
        yield f"Kept apart by `receive`, counted nowhere: {sittings} of {whose}: {why}"


def _examples(here: Path) -> Iterator[str]:
    folder = here / EXAMPLES
    if folder.is_dir():
        yield f"Invented examples, published only when named: {', '.join(by_code(str(folder)))}"


def _next(clients: list[Standing]) -> str:
    if not clients:
        return f"`{NEW}`, with your client's code, sound, position and age"
    if blank := next((one for one in clients if one.blanks), None):
        return (
            f"open {blank.file} in a text editor, replace each `fill-in`, then "
            f"`practice-site check {blank.code}`"
        )
    if over := next((one for one in clients if one.over), None):
        return (
            f"`practice-site visit {over.code} --next DAY`, with the day of the next visit; with "
            "`--make` it also builds and prints"
        )
    if asking := next((one for one in clients if not one.unchanged), None):
        return (
            f"`practice-site check {asking.code}`, then `practice-site proof {asking.code}` to see "
            "and hear it, then `practice-site build` for all that changed"
        )
    copy = "copy the folder `public` to your web host"
    if all(one.printed for one in clients):
        return copy
    return f"`practice-site print` for the sheets; {copy}"
