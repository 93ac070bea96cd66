"""What `print` makes of a group: the list for the adult who runs its sitting, kept while it is
right, deleted when it is not."""

from __future__ import annotations

import sys
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path

from builder.model.plan import Plan
from builder.problems import UsageError
from builder.workspace import desk
from builder.workspace.folder import Workspace
from builder.workspace.groups import members
from builder.workspace.store import Store, write_whole


def asked_groups(names: Iterable[str], root: str) -> tuple[str, ...]:
    """The groups among what was named. Raises UsageError where there is none."""
    found = tuple(name for name in dict.fromkeys(names) if members(name, root))
    if not found:
        raise UsageError(
            "Name the group whose list is asked for, as in `practice-site print tuesday --also "
            "group`. Groups stand in `clinic.yaml`."
        )
    return found


def write_lists(
    folder: Path,
    asked: Sequence[str],
    plans: Mapping[str, Plan],
    changed: Iterable[str],
    workspace: Workspace,
    day: str,
) -> None:
    """Make the lists that are asked for, and those in the folder anew of whose clients a sheet
    changed; a list that cannot be made whole any more is deleted.

    plans: of the clients of this run, by code; changed: those whose sheet is new.
    """
    new, there = set(changed), desk.group_lists(folder)
    for name in dict.fromkeys((*asked, *there)):
        codes = _members(name, workspace)
        if name in asked:
            _write(folder, name, codes, plans, workspace, day)
        elif not codes or (new & set(codes) and not set(codes) <= set(plans)):
            there[name].unlink()
            print(f"{there[name]}: deleted, since it is out of date")
        elif new & set(codes):
            _write(folder, name, codes, plans, workspace, day)


def _members(name: str, workspace: Workspace) -> list[str]:
    try:
        return members(name, str(workspace.root))
    except UsageError:
        return []  # a list that lies there names a client who is gone


def _write(
    folder: Path,
    name: str,
    codes: Sequence[str],
    plans: Mapping[str, Plan],
    workspace: Workspace,
    day: str,
) -> None:
    from builder.make import pictures
    from builder.make.further.group import group_list

    own = [plans[code] for code in codes if code in plans]
    missing = [code for code in codes if code not in plans]
    if missing:
        left_out = ", ".join(missing)
        print(f"{name}: not on its list, as no sheet is made: {left_out}", file=sys.stderr)
    if not own:
        return
    store = Store(workspace.store)
    shown = {p.key: pictures.make(p, store) for plan in own for p in plan.pictures}
    file = folder / desk.group_file(name)
    write_whole(file, group_list(name, own, shown, store, day))
    print(file)
