"""All of a client out of the log, out of its former versions, and out of the kept views."""

from __future__ import annotations

import shutil
import sqlite3
from collections.abc import Callable
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path

from builder.practice import kept_views
from builder.practice.log.file import COPIES, connected, transaction
from builder.practice.log.schema import NAMING
from builder.workspace import former
from builder.workspace.network_share import is_on_share


@dataclass(frozen=True)
class Forgotten:
    """What was removed: sittings, boxes of paper, sittings kept apart, kept plans, of how many
    former versions of the log, scores and notes of visits."""

    sittings: int
    papers: int
    apart: int
    plans: int
    versions: int
    scores: int = 0
    notes: int = 0


def forget(hidden: Path, site: str, on_share: Callable[[Path], bool] = is_on_share) -> Forgotten:
    """Remove a site from all that the hidden folder keeps of records; nothing of it is left in the
    free space of the log's file either."""
    with connected(hidden, on_share) as sql:
        plans = {
            plan for (plan,) in sql.execute("SELECT plan FROM sitting WHERE site = ?", (site,))
        }
        removed = _removed(sql, site)
        others = {plan for (plan,) in sql.execute("SELECT plan FROM sitting")}
        versions = sum(_forgotten_in(copy, site) for copy in (hidden / COPIES).glob("*.sqlite"))
    kept = _remove_views(hidden / kept_views.FOLDER, site, plans - others)
    shutil.rmtree(hidden / former.FOLDER / site, ignore_errors=True)
    sittings, papers, apart = removed["sitting"], removed["paper"], removed["apart"]
    scores, notes = removed["score"], removed["visit_note"]
    return Forgotten(sittings, papers, apart, kept, versions, scores, notes)


def _removed(sql: sqlite3.Connection, site: str) -> dict[str, int]:
    """Remove a site from every table that is there; how many rows of each went."""
    there = {name for (name,) in sql.execute("SELECT name FROM sqlite_master WHERE type = 'table'")}
    removed = dict.fromkeys(NAMING, 0)
    with transaction(sql):
        for table in NAMING:
            if table in there:
                removed[table] = sql.execute(
                    f"DELETE FROM {table} WHERE site = ?", (site,)
                ).rowcount
    sql.execute("VACUUM")
    sql.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    return removed


def _forgotten_in(copy: Path, site: str) -> bool:
    """Remove a site from a former version; whether it held some. One that cannot be read goes
    whole, since nobody can tell what it holds."""
    try:
        with closing(sqlite3.connect(copy, isolation_level=None)) as sql:
            sql.execute("PRAGMA foreign_keys = ON")
            sql.execute("PRAGMA secure_delete = ON")
            return any(_removed(sql, site).values())
    except sqlite3.DatabaseError:
        copy.unlink()
        return True


def _remove_views(folder: Path, site: str, plans: set[str]) -> int:
    """Remove the kept views of a site, and of those from before they were kept by site such as
    nobody else's sittings name; how many."""
    own = list((folder / site).glob("*.json"))
    older = [file for plan in plans if (file := folder / f"{plan}.json").is_file()]
    for file in older:
        file.unlink()
    if (folder / site).is_dir():
        shutil.rmtree(folder / site)
    return len(own) + len(older)
