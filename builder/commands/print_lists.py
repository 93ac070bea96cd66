"""What the desk takes away: the sheets that wait, bound in one file, and a list of them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from pathlib import Path

from builder.commands.clock import today
from builder.commands.print_further import Lying
from builder.commands.print_made import TITLE, Made
from builder.text.several import several
from builder.workspace import desk
from builder.workspace.desk import BOUND, LIST, Sheet
from builder.workspace.store import Store, write_whole


def with_fresh(made: Made, before: Mapping[str, Sheet], there: Iterable[Lying]) -> Made:
    """With what was made on request and is still to be fetched: now, or since the last list."""
    old = before.get(made.plan.client)
    known = old.fresh if old else ()
    fresh = tuple(one.kind for one in there if one.is_new or one.kind in known)
    return replace(made, sheet=replace(made.sheet, fresh=fresh, asked=()))


def write_bound(folder: Path, waiting: list[Made], *, two_sided: bool) -> bool:
    """The bound file of the sheets that wait; whether one was there that no sheet needs now."""
    from builder.make import bound

    if not waiting:
        was_there = (folder / BOUND).is_file()
        (folder / BOUND).unlink(missing_ok=True)
        return was_there
    parts = [(one.plan.client, one.pdf) for one in waiting]
    write_whole(folder / BOUND, bound.bind(parts, TITLE, two_sided=two_sided))
    print(f"{folder / BOUND}: {several(len(waiting), 'sheet')}")
    return False


def write_list(folder: Path, listed: list[Made], store: Store) -> None:
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
