"""Looks at the practice folder once for all clients: what is written, and what lies around it. No
program is checked, no page of a site is opened."""

from __future__ import annotations

import datetime
import os
from collections.abc import Callable
from functools import partial
from pathlib import Path

from builder.caseload import written as programs_read
from builder.caseload.facts import Facts, SheetState, Written
from builder.caseload.rows import LOOKED_BACK
from builder.model.clinic import Clinic
from builder.practice.figures.proposal.move import Proposal
from builder.practice.log.days import LogDays
from builder.practice.log.file import FILE
from builder.practice.log.rows import reading
from builder.practice.visit.days_lately import days_lately
from builder.practice.visit.proposed import proposals
from builder.problems import ProgramError
from builder.program_file.load import clinic_of
from builder.recordings import takes
from builder.recordings.file_names import NUMBER_SUFFIX
from builder.workspace import desk, former
from builder.workspace.addresses import secret, slug
from builder.workspace.folder import HIDDEN_FOLDER, PROGRESS, SITE_MARK, Workspace
from builder.workspace.program_files import PROGRAMS, by_code
from builder.workspace.stamps import Stamps

PROOFS = "proof"  # in the practice folder, unless told otherwise
NO_TAKES = ""  # recordings are looked at each time, so that a new one is no reason to read again


def gather(
    workspace: Workspace,
    out: Path,
    today: datetime.date,
    tell: Callable[[int, int], None] = lambda _done, _total: None,
) -> tuple[Facts, ...]:
    """The facts of all clients of the clinic's own programs, by code. out: the folder of published
    sites; tell: how many were looked at, of how many. Raises UsageError for a damaged log."""
    folder = workspace.root / PROGRAMS
    programs = by_code(str(folder)) if folder.is_dir() else {}
    if not programs:
        return ()
    root = str(workspace.root)
    stamps = Stamps([paths[0] for paths in programs.values()], str(out), "")
    found = _written(workspace, programs, stamps, tell)
    days, proposed = _of_log(workspace.root / HIDDEN_FOLDER, found, today)
    sheets = desk.written(workspace, workspace.root / desk.FOLDER)
    clinic = _clinic(folder)
    shared = _stems(folder / clinic.takes) if clinic else frozenset[str]()
    everyone = []
    for code in sorted(programs):
        file, sheet = programs[code][0], sheets.get(code)
        site = stamps.site(file)
        own = _stems(folder / code / takes.CLIENT_FOLDER)
        everyone.append(
            Facts(
                written=found[code],
                file=file,
                sheet=_sheet_state(os.path.join(root, desk.FOLDER), sheet, site, stamps, file),
                unspoken=_unspoken(found[code], shared | own if own else shared),
                practiced=days.practiced.get(code, frozenset()),
                came=days.came.get(code),
                sessions=days.sessions.get(code, frozenset()),
                hard=days.hard.get(code, frozenset()),
                last_practiced=days.last.get(code),
                scored=days.seen.get(code),
                proposals=proposed.get(code, ()),
                proof=_there(root, PROOFS, code, "index.html"),
                progress=_there(root, PROGRESS, f"{code}.html"),
                sheet_file=_there(root, desk.FOLDER, sheet.file) if sheet else "",
                site=_there(site, "index.html") if site else "",
                address=_address(clinic, site),
            )
        )
    return tuple(everyone)


def _written(
    workspace: Workspace,
    programs: dict[str, list[str]],
    stamps: Stamps,
    tell: Callable[[int, int], None],
) -> dict[str, Written]:
    folder = os.path.abspath(workspace.root / PROGRAMS)
    states = {code: stamps.before(folder, code, NO_TAKES)["inputs"] for code in programs}
    before = programs_read.kept(workspace.root / HIDDEN_FOLDER)
    found = programs_read.read_all(programs, states, before, tell, partial(_former, workspace))
    if found.keys() != before.keys():
        programs_read.keep(workspace.hidden, found)
    return {code: found[state] for code, state in states.items()}


def _former(workspace: Workspace, code: str) -> dict[str, list[str]]:
    """Former versions of a client's programs; no secret is made for a clinic that has kept none."""
    if not (workspace.root / HIDDEN_FOLDER / former.FOLDER).is_dir():
        return {}
    return former.befores(workspace, slug(secret(workspace), code))


def _of_log(
    folder: Path, found: dict[str, Written], today: datetime.date
) -> tuple[LogDays, dict[str, tuple[Proposal, ...]]]:
    """What the log in the hidden folder tells of days, and the proposals; nothing without one."""
    if not (folder / FILE).is_file():
        return LogDays(), {}
    since = today - datetime.timedelta(LOOKED_BACK)
    with reading(folder) as sql:
        days = days_lately(sql, {code: one.days for code, one in found.items()}, since)
        asked = {code: one.proposed_of for code, one in found.items()}
        return days, proposals(sql, asked, today)


def _clinic(folder: Path) -> Clinic | None:
    try:
        return clinic_of(folder)
    except ProgramError:  # every client's line says so
        return None


def _sheet_state(
    folder: str, sheet: desk.Sheet | None, site: str, stamps: Stamps, file: str
) -> SheetState:
    if not site:
        return "not published"
    if not stamps.of_files_as_they_are(file):
        return "sheet to check" if sheet else "site to build"
    built = os.stat(os.path.join(site, SITE_MARK)).st_mtime_ns
    if sheet is None or not os.path.isfile(os.path.join(folder, sheet.file)):
        return "no sheet"
    if sheet.checked < built:
        return "sheet to check"
    return "sheet to print" if sheet.waiting else ""


def _stems(folder: Path) -> frozenset[str]:
    """What the recordings of a folder may be of: their names, with and without a number."""
    if not folder.is_dir():
        return frozenset()
    stems = {takes.name_of(file) for file in takes.files_of(folder, "accepted")}
    return frozenset(stems | {NUMBER_SUFFIX.sub("", stem) for stem in stems})


def _unspoken(written: Written, recorded: frozenset[str]) -> int:
    """How many have no recording where others have; a client without any hears a voice."""
    missing = sum(stem not in recorded for stem in written.spoken)
    return missing if missing < len(written.spoken) else 0


def _there(*parts: str) -> str:
    file = os.path.join(*parts)
    return file if os.path.isfile(file) else ""


def _address(clinic: Clinic | None, site: str) -> str:
    base = clinic.base_url.rstrip("/") if clinic else ""
    return f"{base}/{os.path.basename(site)}/" if base and site else ""
