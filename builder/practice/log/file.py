"""The log's file: made private, brought to the newest version after a copy, opened so that two
commands at once lose nothing, on this computer or, by a lock of our own, on a network share."""

from __future__ import annotations

import os
import sqlite3
import time
from collections.abc import Callable, Iterator
from contextlib import ExitStack, closing, contextmanager
from pathlib import Path
from urllib.parse import quote

from filelock import FileLock

from builder.practice.log.schema import MIGRATIONS
from builder.problems import UsageError
from builder.workspace.network_share import held, is_on_share

FILE = "log.sqlite"
OPENING = "log.lock"  # held while the log is opened
IN_USE = "log in use"  # on a share: held as long as the log is open
COPIES = "log copies"  # of the file as it was before each migration
WAIT_S = 60.0  # for another command that writes
# How SQLite calls what is amiss with a disk or its rights, https://sqlite.org/rescode.html
NOT_WRITTEN = ("SQLITE_FULL", "SQLITE_IOERR", "SQLITE_READONLY", "SQLITE_CANTOPEN", "SQLITE_PERM")
STUMBLED = (ValueError, TypeError, LookupError)  # over what nobody wrote into a log, perhaps
WAL = 2  # the byte 18 of a file with a write-ahead log, https://sqlite.org/fileformat.html


@contextmanager
def connected(
    folder: Path,
    on_share: Callable[[Path], bool] = is_on_share,
    migrations: tuple[tuple[str, ...], ...] = MIGRATIONS,
) -> Iterator[sqlite3.Connection]:
    """The log in the hidden folder `folder`, of the newest version; made where there is none.

    A log that was once on a share keeps the way that holds there, since others may still reach it
    so. Raises UsageError where it is damaged, of a later version or in use too long.
    """
    file = folder / FILE
    with _plainly_told(file), ExitStack() as stack:
        shared = on_share(folder) or _write_ahead(file) is False
        if shared:
            stack.enter_context(held(folder / IN_USE))
            connection = _opened(file, migrations, shared=True)
        else:
            with FileLock(folder / OPENING):
                connection = _opened(file, migrations, shared=False)
        yield stack.enter_context(closing(connection))


def _opened(
    file: Path, migrations: tuple[tuple[str, ...], ...], *, shared: bool
) -> sqlite3.Connection:
    _make_private(file)
    if shared and _write_ahead(file):  # it was moved to the share
        with closing(_connect(file)) as before:
            before.execute("PRAGMA locking_mode = EXCLUSIVE")
            before.execute("PRAGMA journal_mode = DELETE")
    options = "?nolock=1" if shared else ""
    connection = _connect(file, options)
    try:
        connection.execute(f"PRAGMA journal_mode = {'DELETE' if shared else 'WAL'}")
        connection.execute("PRAGMA synchronous = FULL")  # what was told as kept is on the disk
        connection.execute("PRAGMA foreign_keys = ON")
        connection.execute("PRAGMA secure_delete = ON")  # what is forgotten is overwritten
        _migrate(connection, file, migrations, options)
    except UnicodeDecodeError:  # what SQLite says of a scratched name
        connection.close()
        raise damaged(file, "its tables have no names") from None
    except BaseException:
        connection.close()
        raise
    return connection


def _connect(file: Path, options: str = "") -> sqlite3.Connection:
    path = file.resolve().as_posix()
    address = f"file://{'' if path.startswith('/') else '/'}{quote(path)}{options}"
    return sqlite3.connect(address, uri=True, timeout=WAIT_S, isolation_level=None)


def _make_private(file: Path) -> None:
    """0600 before anything stands in it; its companions (-wal, -shm, -journal) get the same."""
    os.close(os.open(file, os.O_RDWR | os.O_CREAT, 0o600))
    if file.stat().st_mode & 0o077:
        file.chmod(0o600)


def _write_ahead(file: Path) -> bool | None:
    """Whether the file has a write-ahead log; None where nothing stands in it yet."""
    try:
        with file.open("rb") as stream:
            head = stream.read(20)
    except FileNotFoundError:
        return None
    return head[18] == WAL if len(head) == 20 else None


def _migrate(
    connection: sqlite3.Connection,
    file: Path,
    migrations: tuple[tuple[str, ...], ...],
    options: str,
) -> None:
    """Bring the log to the newest version, whole or not at all, after a copy of what it was."""
    if _version(connection) == len(migrations):
        return
    with transaction(connection):
        version = _version(connection)  # another command may have been first
        if version > len(migrations):
            raise UsageError(
                f"{file}: this log was written by a newer version of practice-site. Install the "
                "newest one."
            )
        if 0 < version < len(migrations):
            with closing(_connect(file, options)) as before:  # this one is in a transaction
                _copy(before, _name_of_copy(file, version))
        for statements in migrations[version:]:
            for statement in statements:
                connection.execute(statement)
        connection.execute(f"PRAGMA user_version = {len(migrations)}")


def _version(connection: sqlite3.Connection) -> int:
    (version,) = connection.execute("PRAGMA user_version").fetchone()
    return int(version)


def _name_of_copy(file: Path, version: int) -> Path:
    folder = file.parent / COPIES
    folder.mkdir(mode=0o700, exist_ok=True)
    return folder / f"version {version}, {time.time_ns() // 1_000_000}.sqlite"


def copied(folder: Path, to: Path, on_share: Callable[[Path], bool] = is_on_share) -> None:
    """A copy of the log in `folder` as it stands, whole, in one file, 0600. Raises as
    `connected`."""
    with connected(folder, on_share) as source:
        _copy(source, to)


def _copy(source: sqlite3.Connection, to: Path) -> None:
    _make_private(to)
    with closing(_connect(to)) as target:
        source.backup(target)
        target.execute("PRAGMA journal_mode = DELETE")


@contextmanager
def transaction(connection: sqlite3.Connection) -> Iterator[None]:
    """All of it or nothing; another command that writes is waited for."""
    connection.execute("BEGIN IMMEDIATE")
    try:
        yield
    except BaseException:
        if connection.in_transaction:
            connection.execute("ROLLBACK")
        raise
    connection.execute("COMMIT")


@contextmanager
def _plainly_told(file: Path) -> Iterator[None]:
    try:
        yield
    except sqlite3.DatabaseError as problem:
        name = getattr(problem, "sqlite_errorname", "")
        if "locked" in str(problem):
            raise UsageError(f"{file}: another command is using the log. Try again.") from None
        if name.startswith(NOT_WRITTEN):
            raise UsageError(
                f"{file}: the log cannot be written ({problem}). See whether the disk is full and "
                "whether you may write there, and try again."
            ) from None
        raise damaged(file, str(problem).partition("\n")[0]) from None  # it may quote a table


def damaged(file: Path, why: str) -> UsageError:
    """What is said of a log that cannot be read, and why, in a clause."""
    return UsageError(f"{file}: the log is damaged ({why}). Restore it from your backup.")
