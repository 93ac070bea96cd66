"""All that cannot be made again, in one file: programs, pictures, recordings, the secret, kept
views and the log; and back from it into an empty folder, each file compared with its digest."""

from __future__ import annotations

import errno
import hashlib
import json
import os
import shutil
import sqlite3
import tempfile
import time
import zipfile
import zlib
from collections.abc import Callable, Iterable, Iterator
from contextlib import closing, contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path, PurePosixPath
from typing import IO, Any

from builder.practice.log import file as log_file
from builder.problems import UsageError
from builder.workspace import stamps
from builder.workspace.folder import HIDDEN_FOLDER, Workspace
from builder.workspace.network_share import is_on_share
from builder.workspace.program_files import PROGRAMS
from builder.workspace.store import move_new

FORM = 1
LIST = "backup.json"  # in the file: every other one's digest and size
LOG = f"{HIDDEN_FOLDER}/{log_file.FILE}"
ROOT_FILES = ("mkdocs.yml", ".gitignore")
# Of the hidden folder: what is made again, what belongs to this moment, former versions of the log.
LEFT_OUT = ("store", "index", Path(stamps.FILE).name, log_file.COPIES, log_file.FILE)
LEFT_OUT_BEGIN = (f"{log_file.FILE}-", log_file.OPENING, log_file.IN_USE, ".new-")
PACKED = {zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED}
CHUNK = 1 << 20
MOST_LISTED = 100_000_000  # bytes of the list; a file takes some 150


@dataclass(frozen=True)
class Kept:
    """Files of a backup: how many and how many bytes they have."""

    files: int
    size: int


def back_up(
    workspace: Workspace,
    to: Path,
    others: Iterable[Path] = (),
    on_share: Callable[[Path], bool] = is_on_share,
) -> Kept:
    """Write the backup file `to` (0600), restore it into an empty folder, compare, and only then
    let it appear. others: folders elsewhere in the practice folder that belong to the programs.

    Raises FileExistsError where the file is there already, UsageError where it cannot be restored.
    """
    with tempfile.TemporaryDirectory(dir=to.parent, prefix=".backup-") as space:
        made = Path(space) / "new.zip"
        made.touch(0o600)
        with zipfile.ZipFile(made, "w", zipfile.ZIP_DEFLATED) as archive:
            listed = dict(_written(archive, workspace, others, Path(space), on_share))
            archive.writestr(LIST, json.dumps({"backup": FORM, "files": listed}, indent=1))
        kept = restore(made, Path(space) / "restored")
        with made.open("rb") as stream:
            os.fsync(stream.fileno())
        move_new(made, to)
    return kept


def _written(
    archive: zipfile.ZipFile,
    workspace: Workspace,
    others: Iterable[Path],
    space: Path,
    on_share: Callable[[Path], bool],
) -> Iterator[tuple[str, dict[str, Any]]]:
    root = workspace.root
    for file in _files(root, others):
        yield _put(archive, file, file.relative_to(root).as_posix())
    hidden = root / HIDDEN_FOLDER
    if (hidden / log_file.FILE).is_file():
        copy = space / log_file.FILE
        log_file.copied(hidden, copy, on_share)
        try:
            _require_sound(copy)
        except _DamagedError:
            raise log_file.damaged(hidden / log_file.FILE, "parts of it cannot be read") from None
        yield _put(archive, copy, LOG)


def _files(root: Path, others: Iterable[Path]) -> list[Path]:
    found = {root / name for name in ROOT_FILES if (root / name).is_file()}
    for folder in (root / PROGRAMS, *others):
        found |= {*_below(folder)}
    hidden = root / HIDDEN_FOLDER
    for entry in hidden.iterdir() if hidden.is_dir() else ():
        if entry.name not in LEFT_OUT and not entry.name.startswith(LEFT_OUT_BEGIN):
            found |= {entry} if entry.is_file() else {*_below(entry)}
    return sorted(found)


def _below(folder: Path) -> Iterator[Path]:
    seen = set()
    for where, folders, names in os.walk(folder, followlinks=True):
        if (real := os.path.realpath(where)) in seen:  # a link that leads back
            folders.clear()
            continue
        seen.add(real)
        yield from (Path(where, name) for name in names if not name.startswith(".new-"))


def _put(archive: zipfile.ZipFile, file: Path, name: str) -> tuple[str, dict[str, Any]]:
    digest, size = hashlib.sha256(), 0
    moment = max(
        time.localtime(file.stat().st_mtime)[:6], (1980, 1, 1, 0, 0, 0)
    )  # as far back as ZIP goes
    entry = zipfile.ZipInfo(name, moment)
    entry.compress_type = zipfile.ZIP_DEFLATED
    with file.open("rb") as source, archive.open(entry, "w", force_zip64=True) as target:
        while chunk := source.read(CHUNK):
            digest.update(chunk)
            size += len(chunk)
            target.write(chunk)
    return name, {"sha256": digest.hexdigest(), "bytes": size}


def restore(file: Path, folder: Path) -> Kept:
    """Write all files of a backup into an empty folder, or one that is made, whole or not at all.

    Raises UsageError for a folder that holds something and for a file that is no whole backup.
    """
    folder = folder.resolve()
    if folder.exists() and not (folder.is_dir() and not any(folder.iterdir())):
        raise UsageError(f"{folder}: this is not an empty folder. Name a new one.")
    folder.parent.mkdir(parents=True, exist_ok=True)
    with _told_of(file), zipfile.ZipFile(file) as archive:
        listed = _listed(archive)
        made = Path(tempfile.mkdtemp(dir=folder.parent, prefix=f".{folder.name}-"))
        try:
            for name, (digest, size) in listed.items():
                _restored(archive, name, made, digest, size)
            _require_sound(made / LOG)
            if folder.exists():
                folder.rmdir()
            made.chmod(0o755)
            os.rename(made, folder)
        finally:
            shutil.rmtree(made, ignore_errors=True)
    return Kept(len(listed), sum(size for _, size in listed.values()))


class _DamagedError(Exception):
    """It is not as it was written; the sentence says how."""


DAMAGED = (
    _DamagedError,
    zipfile.BadZipFile,
    zlib.error,
    EOFError,
    ValueError,  # a name that is no text
    NotImplementedError,  # a way of packing that ZIP has and Python has not
    RuntimeError,  # locked by a password
)


@contextmanager
def _told_of(file: Path) -> Iterator[None]:
    try:
        yield
    except DAMAGED as why:
        raise _no_backup(file, why) from None
    except FileExistsError as why:
        raise _no_backup(file, f"it has two files at `{Path(why.filename).name}`") from None
    except OSError as why:
        if why.filename or why.errno == errno.ENOSPC:
            raise
        raise _no_backup(file, why) from None  # a place in it that is none


def _no_backup(file: Path, why: object) -> UsageError:
    return UsageError(
        f"{file}: this is no whole backup ({str(why).rstrip('.')}). Take another one."
    )


def _listed(archive: zipfile.ZipFile) -> dict[str, tuple[str, int]]:
    """Digest and size of each file. A backup comes from a disk that others may have had."""
    if not {entry.compress_type for entry in archive.infolist()} <= PACKED:
        raise _DamagedError("it is packed in another way")
    try:
        if archive.getinfo(LIST).file_size > MOST_LISTED:
            raise _DamagedError("its list is far too long")
        told = json.loads(archive.read(LIST))
        form, files = told["backup"], told["files"]
        listed = {name: (str(one["sha256"]), int(one["bytes"])) for name, one in files.items()}
    except (KeyError, TypeError, ValueError, AttributeError, OverflowError, RecursionError):
        raise _DamagedError("its list is missing") from None
    if form != FORM:
        raise _DamagedError(f"it has the form {form}, which this version does not know")
    names = archive.namelist()
    if sorted(names) != sorted([*listed, LIST]):
        raise _DamagedError("it holds other files than its list")
    for name, (_, size) in listed.items():
        parts = PurePosixPath(name).parts
        if (
            name.startswith("/")
            or ".." in parts
            or "\\" in name
            or ":" in name
            or not parts
            or size < 0
        ):
            raise _DamagedError(f"`{name}` is no name that it would have")
    return listed


def _restored(archive: zipfile.ZipFile, name: str, folder: Path, digest: str, size: int) -> None:
    target, secret = folder / name, name.startswith(f"{HIDDEN_FOLDER}/")
    for above in reversed(target.relative_to(folder).parents[:-1]):
        (folder / above).mkdir(mode=0o700 if secret else 0o755, exist_ok=True)
    entry = archive.getinfo(name)
    with archive.open(entry) as source, target.open("xb") as stream:
        target.chmod(0o600 if secret else 0o644)
        if _copied(source, stream, size) != digest:
            raise _DamagedError(f"`{name}` was changed")
    with suppress(ValueError, OverflowError):
        moment = time.mktime((*entry.date_time, 0, 0, -1))
        os.utime(target, (moment, moment))  # by it a kept view is known as that of its week


def _copied(source: IO[bytes], target: IO[bytes], size: int) -> str:
    """The digest of what was copied: no more than was listed, however much there is."""
    digest = hashlib.sha256()
    while chunk := source.read(min(CHUNK, size + 1)):
        size -= len(chunk)
        if size < 0:
            return ""
        digest.update(chunk)
        target.write(chunk)
    return digest.hexdigest()


def _require_sound(log: Path) -> None:
    if not log.is_file():
        return
    try:
        with closing(sqlite3.connect(log)) as sql:
            found = sql.execute("PRAGMA integrity_check").fetchone()
    except sqlite3.DatabaseError:
        found = ("damaged",)
    if found != ("ok",):
        raise _DamagedError("its log is damaged")
