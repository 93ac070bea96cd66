"""The clinic's log: what came from home, and what of it is kept apart, as rows of its tables."""

from __future__ import annotations

import datetime
import sqlite3
from collections.abc import Callable, Iterable, Iterator
from contextlib import AbstractContextManager, contextmanager
from dataclasses import dataclass, fields
from pathlib import Path
from typing import Any

from pydantic import BaseModel

from builder.model.clinic import TIMES, Time
from builder.model.record import Sitting, Tally, Trial
from builder.practice.log.days import last_came
from builder.practice.log.file import FILE, STUMBLED, connected, damaged, transaction
from builder.practice.log.paper import PaperCount
from builder.practice.log.schema import NAMING
from builder.practice.log.scores import VisitNote, VisitScore
from builder.workspace.network_share import is_on_share

LISTS: dict[str, type[BaseModel]] = {"trials": Trial, "tallies": Tally}
TABLES = {"trials": "trial", "tallies": "tally"}
SITTING = tuple(name for name in Sitting.model_fields if name not in LISTS)


@dataclass(frozen=True)
class Apart:
    """A sitting that is kept apart, and why, in a clause."""

    sitting: Sitting
    why: str


@contextmanager
def opened(folder: Path, on_share: Callable[[Path], bool] = is_on_share) -> Iterator[Log]:
    """The log in the hidden folder `folder`; made where there is none. Raises UsageError as
    `connected`."""
    with reading(folder, on_share) as connection:
        yield Log(connection)


@contextmanager
def reading(
    folder: Path, on_share: Callable[[Path], bool] = is_on_share
) -> Iterator[sqlite3.Connection]:
    """`connected`, for whoever takes what the log holds at its word: who stumbles over it is told
    that the log is damaged, where it is."""
    with connected(folder, on_share) as connection:
        try:
            yield connection
        except STUMBLED:
            _require_sound(connection, folder)
            raise


def _require_sound(connection: sqlite3.Connection, folder: Path) -> None:
    """Raises UsageError where the log in `folder` holds what nobody wrote there. It reads all of
    it."""
    log = Log(connection)
    try:
        for table in (*TABLES.values(), *NAMING):
            _require_kinds(connection, table)
        for read in (log.sittings, log.apart, log.papers, log.scores, log.visit_notes):
            read()
        for site in log.clients():
            log.came(site)
    except STUMBLED:
        raise damaged(folder / FILE, "it holds what nobody wrote there") from None


def _require_kinds(connection: sqlite3.Connection, table: str) -> None:
    """Raises ValueError where a column holds a value of another kind than its own."""
    for _, name, kind, *_ in connection.execute(f"PRAGMA table_info({table})").fetchall():
        wrong = f"SELECT 1 FROM {table} WHERE typeof(\"{name}\") NOT IN (?, 'null') LIMIT 1"
        if connection.execute(wrong, (kind.lower(),)).fetchone():
            raise ValueError(name)


class Log:
    """Reads and writes rows; whoever writes does it in a `writing`."""

    def __init__(self, connection: sqlite3.Connection) -> None:
        self._sql = connection

    def writing(self) -> AbstractContextManager[None]:
        """All that is written meanwhile is kept, or nothing is."""
        return transaction(self._sql)

    def clients(self) -> dict[str, str]:
        """The codes of all clients in the log by their sites."""
        return dict(self._sql.execute("SELECT site, code FROM client ORDER BY code"))

    def add_client(self, site: str, code: str) -> None:
        """Know a client."""
        self._sql.execute("INSERT OR IGNORE INTO client (site, code) VALUES (?, ?)", (site, code))

    def sittings(self, site: str = "") -> tuple[Sitting, ...]:
        """A client's sittings, or everybody's, oldest first."""
        where = "WHERE site = ?" if site else ""
        found = self._sitting_rows(where, (site,) if site else ())
        return tuple(sorted(found, key=lambda one: (one.started, one.id)))

    def sitting(self, id_: str) -> Sitting | None:
        """The sitting with this id."""
        return next(iter(self._sitting_rows("WHERE id = ?", (id_,))), None)

    def came(self, site: str) -> datetime.date | None:
        """The day on which the last record of a client came, from a tablet or paper."""
        return last_came(self._sql, site)

    def came_again(self, sitting: Sitting, received: str) -> None:
        """A sitting that is there came once more. received: the day, in ISO form."""
        self._sql.execute("UPDATE sitting SET received = ? WHERE id = ?", (received, sitting.id))

    def put(self, sitting: Sitting, received: str) -> None:
        """Keep a sitting in the place of an earlier copy. received: the day, in ISO form."""
        self._sql.execute("DELETE FROM sitting WHERE id = ?", (sitting.id,))
        values = sitting.model_dump()
        row = {name: values[name] for name in SITTING} | {"received": received}
        self._insert("sitting", [row])
        for name, model in LISTS.items():
            rows = (
                {"sitting": sitting.id, "number": number}
                | {field: getattr(one, field) for field in model.model_fields}
                for number, one in enumerate(getattr(sitting, name), 1)
            )
            self._insert(TABLES[name], rows)

    def apart(self, site: str = "") -> tuple[Apart, ...]:
        """What is kept apart of a site, or all of it."""
        where, values = ("WHERE site = ?", (site,)) if site else ("", ())
        rows = self._sql.execute(f"SELECT sitting, why FROM apart {where} ORDER BY rowid", values)
        return tuple(Apart(Sitting.model_validate_json(text), why) for text, why in rows)

    def put_apart(self, one: Apart, received: str) -> None:
        """Keep a sitting apart, in the place of an earlier copy."""
        sitting = one.sitting
        self._sql.execute(
            "INSERT OR REPLACE INTO apart (id, site, plan, why, sitting, received) "
            "VALUES (?, ?, ?, ?, ?, ?)",
            (
                sitting.id,
                sitting.site,
                sitting.plan,
                one.why,
                sitting.model_dump_json(),
                received,
            ),
        )

    def no_longer_apart(self, sitting: Sitting) -> None:
        """Forget that a sitting was kept apart."""
        key = (sitting.id, sitting.site, sitting.plan)
        self._sql.execute("DELETE FROM apart WHERE id = ? AND site = ? AND plan = ?", key)

    def papers(self, site: str = "") -> tuple[PaperCount, ...]:
        """A client's counts on paper, or everybody's, in the order of time."""
        names = [field.name for field in fields(PaperCount)]
        where, values = ("WHERE site = ?", (site,)) if site else ("", ())
        rows = self._sql.execute(f"SELECT {', '.join(names)} FROM paper {where}", values)
        found = [PaperCount(**dict(zip(names, row, strict=True)) | _day(row[1])) for row in rows]
        order = lambda one: (one.site, one.day, TIMES.index(one.time), one.helper)  # noqa: E731
        return tuple(sorted(found, key=order))

    def put_paper(self, one: PaperCount, entered: str) -> None:
        """Keep a count on paper in the place of what was entered for that box before."""
        self.remove_paper(one.site, one.day, one.time, one.helper)
        self._insert("paper", [vars(one) | {"day": one.day.isoformat(), "entered": entered}])

    def remove_paper(self, site: str, day: datetime.date, time: Time, helper: str = "") -> None:
        """Take out what was entered for a box of somebody's sheet."""
        self._sql.execute(
            "DELETE FROM paper WHERE site = ? AND day = ? AND time = ? AND helper = ?",
            (site, day.isoformat(), time, helper),
        )

    def scores(self, site: str = "") -> tuple[VisitScore, ...]:
        """What was heard of a client in the room, or of everybody, in the order of time."""
        names = [field.name for field in fields(VisitScore)]
        chosen = ", ".join(f'"{name}"' for name in names)
        where, values = ("WHERE site = ?", (site,)) if site else ("", ())
        rows = self._sql.execute(f"SELECT {chosen} FROM score {where}", values)
        found = (dict(zip(names, row, strict=True)) for row in rows)
        made = [
            VisitScore(
                **row
                | {"date": datetime.date.fromisoformat(row["date"]), "probe": bool(row["probe"])}
            )
            for row in found
        ]
        return tuple(sorted(made, key=lambda one: (one.site, one.date, one.sound, one.step)))

    def put_score(self, one: VisitScore, entered: str) -> None:
        """Keep a score in the place of what was entered of the same that day."""
        self.remove_score(one)
        self._insert("score", [vars(one) | {"date": one.date.isoformat(), "entered": entered}])

    def remove_score(self, one: VisitScore) -> None:
        """Take a score out."""
        key = (one.site, one.date.isoformat(), one.sound, one.step, one.support, one.probe)
        self._sql.execute(
            "DELETE FROM score WHERE site = ? AND date = ? AND sound = ? AND step = ? "
            "AND support = ? AND probe = ?",
            key,
        )

    def visit_notes(self, site: str = "") -> tuple[VisitNote, ...]:
        """What was written of a client's visits without a score, or of everybody's, in the order of
        time."""
        where, values = ("WHERE site = ?", (site,)) if site else ("", ())
        rows = self._sql.execute(
            f"SELECT site, date, note FROM visit_note {where} ORDER BY site, date, note", values
        )
        return tuple(
            VisitNote(site, datetime.date.fromisoformat(day), note) for site, day, note in rows
        )

    def put_visit_note(self, one: VisitNote, entered: str) -> None:
        """Keep a note; the same text of the same day stands once."""
        self.remove_visit_note(one)
        self._insert("visit_note", [vars(one) | {"date": str(one.date), "entered": entered}])

    def remove_visit_note(self, one: VisitNote) -> None:
        """Take a note out."""
        key = (one.site, one.date.isoformat(), one.note)
        self._sql.execute("DELETE FROM visit_note WHERE site = ? AND date = ? AND note = ?", key)

    def _sitting_rows(self, where: str, values: tuple[str, ...]) -> list[Sitting]:
        chosen = ", ".join(f'"{name}"' for name in SITTING)
        rows = self._sql.execute(f"SELECT {chosen} FROM sitting {where}", values).fetchall()
        lists = {name: self._list_rows(name, where, values) for name in LISTS}
        return [
            Sitting.model_validate(
                dict(zip(SITTING, row, strict=True))
                | {name: lists[name].get(row[SITTING.index("id")], ()) for name in LISTS}
            )
            for row in rows
        ]

    def _list_rows(
        self, name: str, where: str, values: tuple[str, ...]
    ) -> dict[str, list[dict[str, Any]]]:
        """The trials or tallies of the sittings that `where` chooses, by the sitting's id."""
        fields = tuple(LISTS[name].model_fields)
        chosen = ", ".join(f'"{field}"' for field in fields)
        found: dict[str, list[dict[str, Any]]] = {}
        for sitting, *row in self._sql.execute(
            f"SELECT sitting, {chosen} FROM {TABLES[name]} WHERE sitting IN "
            f"(SELECT id FROM sitting {where}) ORDER BY sitting, number",
            values,
        ):
            found.setdefault(sitting, []).append(_as_written(dict(zip(fields, row, strict=True))))
        return found

    def _insert(self, table: str, rows: Iterable[dict[str, Any]]) -> None:
        for row in rows:
            names = ", ".join(f'"{name}"' for name in row)
            places = ", ".join("?" * len(row))
            self._sql.execute(
                f"INSERT INTO {table} ({names}) VALUES ({places})", tuple(row.values())
            )


def _day(text: str) -> dict[str, datetime.date]:
    return {"day": datetime.date.fromisoformat(text)}


def _as_written(row: dict[str, Any]) -> dict[str, Any]:
    """SQLite knows no truth values."""
    truths = ("repeat", "later")
    return {
        name: bool(value) if name in truths and value is not None else value
        for name, value in row.items()
    }
