"""The practice view of each plan that was ever published, kept in the hidden folder by client and
digest, so that a record of any week is understood by the plan of that week."""

from __future__ import annotations

import datetime
from pathlib import Path

from pydantic import TypeAdapter, ValidationError

from builder.model.practice_view import PracticeView
from builder.workspace import stamps
from builder.workspace.folder import HIDDEN_FOLDER, Workspace
from builder.workspace.store import write_whole

FOLDER = stamps.VIEWS
_FORM: TypeAdapter[PracticeView] = TypeAdapter(PracticeView)


def keep(workspace: Workspace, site: str, view: PracticeView) -> None:
    """Keep what a record that names this plan refers to, before the plan is published."""
    file = workspace.hidden / FOLDER / site / f"{view.digest}.json"
    if not file.is_file():
        file.parent.mkdir(parents=True, exist_ok=True)
        write_whole(file, view.as_json().encode())


def find(workspace: Workspace, site: str, digest: str) -> PracticeView | None:
    """The view of a client's plan; None where none was kept or it cannot be read.

    Before views were kept by client they lay in one folder for all; these are still read.
    """
    folder = workspace.root / HIDDEN_FOLDER / FOLDER
    for file in (folder / site / f"{digest}.json", folder / f"{digest}.json"):
        if file.is_file():
            return _read(file)
    return None


def kept_on(workspace: Workspace, site: str, digest: str) -> datetime.date | None:
    """Since when the view of a client's plan is kept here: nobody practiced by it before. None
    where it is not kept by client."""
    file = workspace.root / HIDDEN_FOLDER / FOLDER / site / f"{digest}.json"
    return _kept_on(file).date() if file.is_file() else None


def any_of(workspace: Workspace, site: str) -> bool:
    """Whether a view of any plan of this client is kept by client."""
    return any((workspace.root / HIDDEN_FOLDER / FOLDER / site).glob("*.json"))


def of_day(workspace: Workspace, site: str, day: datetime.date) -> PracticeView | None:
    """The view that a client practiced by on a day: the last one that was kept by then, else the
    first; None where none was kept by client."""
    files = sorted((workspace.root / HIDDEN_FOLDER / FOLDER / site).glob("*.json"), key=_kept_on)
    by_then = [file for file in files if _kept_on(file).date() <= day]
    chosen = by_then[-1:] or files[:1]
    return _read(chosen[0]) if chosen else None


def _kept_on(file: Path) -> datetime.datetime:
    return datetime.datetime.fromtimestamp(file.stat().st_mtime)


def _read(file: Path) -> PracticeView | None:
    try:
        return _FORM.validate_json(file.read_bytes())
    except ValidationError:
        return None
