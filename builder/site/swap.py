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
from pathlib import Path

from builder.store import write_whole

JOURNAL = "journal.json"
EXCHANGE = 2  # RENAME_EXCHANGE, linux/fs.h
HERE = -100  # AT_FDCWD, fcntl.h


def staging(out: Path) -> Path:
    """The folder beside `out` in which sites are made ready: same disk, never published."""
    return out.parent / f".{out.name}-staged"


def new_folder(out: Path) -> Path:
    """A fresh folder for one site to be made in."""
    folder = staging(out) / uuid.uuid4().hex
    folder.mkdir(parents=True)
    return folder


def publish(made: Path, target: Path) -> None:
    """Put the folder `made` at `target`; what was there is deleted. Both on one disk."""
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
    done: int = libc.renameat2(HERE, os.fsencode(made), HERE, os.fsencode(target), EXCHANGE)
    if done == 0:
        return True
    code = ctypes.get_errno()
    if code in (errno.EINVAL, errno.ENOSYS, errno.ENOTSUP):
        return False  # this file system cannot exchange
    raise OSError(code, os.strerror(code), str(target))


def _two_steps(made: Path, target: Path) -> None:
    old = made.with_name(made.name + "-old")
    journal = made.with_name(f"{made.name}-{JOURNAL}")
    entry = {"made": str(made), "target": str(target), "old": str(old)}
    write_whole(journal, json.dumps(entry).encode())
    os.rename(target, old)
    os.rename(made, target)
    journal.unlink()
    shutil.rmtree(old, ignore_errors=True)


def recover(out: Path) -> None:
    """Complete what a killed run left half done and clear away what it left lying."""
    folder = staging(out)
    if not folder.is_dir():
        return
    for journal in sorted(folder.glob(f"*-{JOURNAL}")):
        entry = {name: Path(path) for name, path in json.loads(journal.read_text()).items()}
        if not entry["target"].exists():
            os.rename(entry["made"] if entry["made"].exists() else entry["old"], entry["target"])
        journal.unlink()
    shutil.rmtree(folder, ignore_errors=True)
