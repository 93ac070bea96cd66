"""Removes a client from the log once its code was typed again, and says what is left elsewhere."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from pathlib import Path

from builder.caseload.gather import PROOFS
from builder.caseload.page import PAGE
from builder.caseload.written import KEPT
from builder.commands.known_clients import codes
from builder.commands.progress_command import ENDINGS as PROGRESS_ENDINGS
from builder.practice import kept_views
from builder.practice.log.file import FILE
from builder.practice.log.forget import Forgotten, forget
from builder.practice.log.rows import opened
from builder.practice.stored import take_out
from builder.problems import UsageError
from builder.text.several import several
from builder.workspace import desk, stamps
from builder.workspace.addresses import secret, slug
from builder.workspace.folder import HIDDEN_FOLDER, PROGRESS, Workspace
from builder.workspace.program_files import EXAMPLES, PROGRAMS, by_code

UNSEEN = (
    "sheets and pages of progress that you printed, and what you wrote into your own records",
    "the record on the family's tablet: they remove it by clearing the site's data there",
    "messages and files that the family sent; backups and exports that you made before",
)


def forget_client(workspace: Workspace, code: str, out: Path, ask: Callable[[str], str]) -> int:
    """Remove all of a client. out: the folder of published sites. Exit code 2 where the code was
    not typed again. Raises UsageError for a code that is nobody's."""
    site = slug(secret(workspace), code)
    hidden = workspace.root / HIDDEN_FOLDER
    if not _is_known(workspace, site, code):
        raise UsageError(f"{code}: no client has this code, and nothing of one is kept.")
    try:
        again = ask(f"All records of {code} will be removed for good. Type {code} again: ")
    except EOFError:
        again = ""
    if again.strip() != code:
        raise UsageError(f"{code}: nothing was removed.")
    gone, made = forget(hidden, site), take_out(workspace.store, code, site)
    stored = several(made, "stored sheet or code", "stored sheets, lists and codes")
    print(f"{code}: removed: {_told(gone)}; {stored}")
    desk.forget(workspace, code)
    stamps.forget(str(workspace.root), code)
    for of_all in (PAGE, KEPT):
        (hidden / of_all).unlink(missing_ok=True)  # made anew
    for ending in PROGRESS_ENDINGS:
        (workspace.root / PROGRESS / f"{code}{ending}").unlink(missing_ok=True)
    _tell("What remains elsewhere:", tuple(_left(workspace, code, site, out)))
    _tell("What cannot be seen from here, if there is any:", UNSEEN)
    return 0


def _tell(head: str, lines: Sequence[str]) -> None:
    for line in (head, *(f"    {line}" for line in lines)) if lines else ():
        print(line)


def _is_known(workspace: Workspace, site: str, code: str) -> bool:
    hidden = workspace.root / HIDDEN_FOLDER
    if code in codes(workspace).values() or (hidden / kept_views.FOLDER / site).is_dir():
        return True
    if not (hidden / FILE).is_file():
        return False
    with opened(hidden) as log:
        return site in log.clients() or bool(log.apart(site))


def _told(gone: Forgotten) -> str:
    parts = [
        several(gone.sittings, "sitting"),
        several(gone.papers, "box of paper", "boxes of paper"),
        several(gone.scores, "score of a visit", "scores of visits"),
        several(gone.notes, "note of a visit", "notes of visits"),
        several(gone.apart, "sitting kept apart", "sittings kept apart"),
        several(gone.plans, "kept plan"),
    ]
    former = several(gone.versions, "former version of the log", "former versions of the log")
    return ", ".join(parts) + (f", and all of it in {former}" if gone.versions else "")


def _left(workspace: Workspace, code: str, site: str, out: Path) -> Iterator[str]:
    """Where something of a client is that this command does not remove."""
    for folder in (workspace.root / PROGRAMS, workspace.root / EXAMPLES):
        if folder.is_dir():
            yield from (f"the program {file}" for file in by_code(str(folder)).get(code, []))
            if (folder / code).is_dir():
                yield f"its pictures and recordings in {folder / code}"
    if (out / site).is_dir():
        yield (
            f"the published site {out / site}, here and on the web host: `practice-site remove "
            f"{code}`; what its tablet sends from now on is kept apart, until a build keeps its "
            "plan again"
        )
    sheets = sorted((workspace.root / desk.FOLDER).glob(f"{code}*.pdf"))
    yield from (f"the sheet {file}" for file in sheets if _is_of(file.name, code))
    if (workspace.root / PROOFS / code).is_dir():
        yield f"the proof {workspace.root / PROOFS / code}"
    folder = workspace.root / desk.FOLDER
    every = (folder / desk.BOUND, folder / desk.LIST, *desk.group_lists(folder).values())
    lists = [file for file in every if file.is_file()]
    yield from (f"perhaps {file}: see whether this client is on it" for file in lists)


def _is_of(name: str, code: str) -> bool:
    found = desk.SHEET.fullmatch(name)
    return found is not None and found["code"] == code
