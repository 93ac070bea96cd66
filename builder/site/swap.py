"""A finished site takes the place of the old one in one step, so that a reader always finds one.

Where the system can exchange two folders (Linux, renameat2) it does. Elsewhere two renames and a
journal: what a killed run left half done, the next one completes.
"""

from __future__ import annotations

import ctypes
import errno
import json
import os
import shutil
import sys
import uuid
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from filelock import FileLock

from builder.problems import UsageError
from builder.workspace.store import write_whole

JOURNAL = ".journal"
RENAME_EXCHANGE = 2  # RENAME_EXCHANGE, linux/fs.h
AT_FDCWD = -100  # AT_FDCWD, fcntl.h


def staging(out: Path) -> Path:
    """The folder beside `out` in which sites are made ready: same disk, never published.

    Inside it where `out` is a disk of its own (a USB stick), since folders are exchanged only
    within a disk.
    """
    return out / ".staged" if out.is_mount() else out.parent / f".{out.name}-staged"


def new_folder(out: Path) -> Path:
    """A fresh folder for one site to be made in."""
    folder = staging(out) / uuid.uuid4().hex
    folder.mkdir(parents=True)
    return folder


def publish(made: Path, target: Path, mark: str) -> None:
    """Put the folder `made` at `target`; what was there is deleted. Both on one disk.

    mark: a file that every folder of this kind holds. Raises UsageError, and deletes nothing,
    where the folder at `target` does not hold it.
    """
    if target.exists() and not (target / mark).is_file() and any(target.iterdir()):
        raise UsageError(f"{target}: this folder holds something else; choose another one.")
    target.parent.mkdir(parents=True, exist_ok=True)
    if not target.exists():
        os.rename(made, target)
    elif _exchanged(made, target):
        shutil.rmtree(made, ignore_errors=True)
    else:
        _two_steps(made, target)


def _exchanged(made: Path, target: Path) -> bool:
    if sys.platform != "linux":
        return False
    libc = ctypes.CDLL(None, use_errno=True)
    if not hasattr(libc, "renameat2"):
        return False
    done: int = libc.renameat2(
        AT_FDCWD, os.fsencode(made), AT_FDCWD, os.fsencode(target), RENAME_EXCHANGE
    )
    if done == 0:
        return True
    code = ctypes.get_errno()
    if code in (errno.EINVAL, errno.ENOSYS, errno.ENOTSUP):
        return False  # this file system cannot exchange
    raise OSError(code, os.strerror(code), str(target))


def _two_steps(made: Path, target: Path) -> None:
    # Both wait outside the maker's own folder, which it clears away whatever happens.
    name = staging(target.parent) / uuid.uuid4().hex
    new, old = name.with_suffix(".new"), name.with_suffix(".old")
    os.rename(made, new)
    journal = name.with_suffix(JOURNAL)
    entry = {"new": str(new), "target": str(target), "old": str(old)}
    write_whole(journal, json.dumps(entry).encode())
    os.rename(target, old)
    os.rename(new, target)
    journal.unlink()
    shutil.rmtree(old, ignore_errors=True)


@contextmanager
def exclusive(out: Path) -> Iterator[None]:
    """Publish into `out` while no other run does; what a killed one left half done comes first."""
    if out.exists() and not out.is_dir():
        raise UsageError(f"{out}: this is a file; choose a folder.")
    folder = staging(out)
    folder.mkdir(parents=True, exist_ok=True)
    with FileLock(folder / "lock"):  # waits; the system frees it however a process ends
        _recover(folder)
        yield
        _recover(folder)


def _recover(folder: Path) -> None:
    for journal in sorted(folder.glob(f"*{JOURNAL}")):
        entry = {name: Path(path) for name, path in json.loads(journal.read_text("utf-8")).items()}
        if not entry["target"].exists():
            os.rename(entry["new"] if entry["new"].exists() else entry["old"], entry["target"])
        journal.unlink()
    for left in folder.iterdir():
        if left.is_dir():
            shutil.rmtree(left, ignore_errors=True)
