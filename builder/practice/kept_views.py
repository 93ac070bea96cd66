"""The practice view of each plan that was ever published, kept in the hidden folder by client and
digest, so that a record of any week is understood by the plan of that week; and from which day on
each of them was practiced, since a sheet of paper does not name its plan."""

from __future__ import annotations

import datetime
import re
from collections.abc import Iterable
from pathlib import Path

from pydantic import TypeAdapter, ValidationError

from builder.model.practice_view import PracticeView
from builder.workspace import stamps
from builder.workspace.folder import HIDDEN_FOLDER, Workspace
from builder.workspace.store import write_whole

FOLDER = stamps.VIEWS
ORDER = "days.txt"  # beside a client's views: a line for each plan, the day and the digest
LINE = re.compile(r"(\d{4}-\d\d-\d\d) ([0-9a-f]{32})", re.ASCII)
_FORM: TypeAdapter[PracticeView] = TypeAdapter(PracticeView)


def keep(
    workspace: Workspace, site: str, view: PracticeView, since: datetime.date | None = None
) -> None:
    """Keep what a record that names this plan refers to, before the plan is published. since: the
    day from which on it is practiced, whatever was before; None where nobody knows."""
    folder = workspace.hidden / FOLDER / site
    folder.mkdir(parents=True, exist_ok=True)
    before = _order(folder)
    file = folder / f"{view.digest}.json"
    if not file.is_file():
        write_whole(file, view.as_json().encode())
    if since:
        order = [(day, digest) for day, digest in before if day < since]
        if not order or order[-1][1] != view.digest:
            order.append((since, view.digest))
        lines = (f"{day} {digest}\n" for day, digest in order)
        write_whole(folder / ORDER, "".join(lines).encode())


def first_day(starts: Iterable[datetime.date | None], today: datetime.date) -> datetime.date:
    """Since when a plan that is published today is practiced: from the first day of the next sheet
    on, where a program begins later. Until then the family has the sheet of before. starts: the
    `from` of each program."""
    return min((day for day in starts if day and day >= today), default=today)


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
    """The view that a client practiced by on a day: the last one that began by then, else the
    first; None where none was kept by client."""
    folder = workspace.root / HIDDEN_FOLDER / FOLDER / site
    order = _order(folder)
    by_then = [digest for since, digest in order if since <= day]
    chosen = by_then[-1:] or [digest for _, digest in order[:1]]
    return _read(folder / f"{chosen[0]}.json") if chosen else None


def _order(folder: Path) -> list[tuple[datetime.date, str]]:
    """From which day on which plan of a client was practiced, by digest, oldest first. Where that
    was not kept, or cannot be read, it is by when each view was written first."""
    try:
        lines = [LINE.fullmatch(one) for one in (folder / ORDER).read_text("utf-8").splitlines()]
        told = [(datetime.date.fromisoformat(one[1]), one[2]) for one in lines if one]
    except (OSError, ValueError):
        lines, told = [], []
    if not told or len(told) < len(lines):
        files = sorted(folder.glob("*.json"), key=_kept_on)
        told = [(_kept_on(file).date(), file.stem) for file in files]
    return [(day, digest) for day, digest in told if (folder / f"{digest}.json").is_file()]


def _kept_on(file: Path) -> datetime.datetime:
    return datetime.datetime.fromtimestamp(file.stat().st_mtime)


def _read(file: Path) -> PracticeView | None:
    try:
        return _FORM.validate_json(file.read_bytes())
    except ValidationError:
        return None
