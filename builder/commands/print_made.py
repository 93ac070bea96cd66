"""The sheet of each client as it is now: made anew, or the one that lies there."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from builder import pipeline
from builder.model.plan import Plan
from builder.model.program import Client
from builder.pipeline import Checked
from builder.workspace import desk
from builder.workspace.desk import Sheet
from builder.workspace.folder import Workspace
from builder.workspace.store import Store

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


def all_made(
    everyone: Iterable[Checked],
    workspace: Workspace,
    out: Path,
    before: Mapping[str, Sheet],
    day: str,
) -> list[Made]:
    """The sheets of clients on `day`, in ISO form. before: what was written into the folder, by
    client."""
    store = Store(workspace.store)
    plans = [(one.client, pipeline.plan_of(one, workspace, out)) for one in everyone]
    return [_made(client, plan, store, before.get(plan.client), day) for client, plan in plans]


def again(made: Made) -> Made:
    """A sheet whose file is gone, or is not what was written: it counts as changed."""
    return replace(made, sheet=replace(made.sheet, waiting=True), is_new=True)


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
