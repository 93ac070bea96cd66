"""Whether a folder lies on a network share, and a lock that holds there.

The locks of a file system are not to be relied on across a network, and SQLite's write-ahead log
never is (https://sqlite.org/wal.html, "does not work over a network filesystem"). That a file is
made only where none is holds on every share that is in use (NFS from version 3 on, SMB).
"""

from __future__ import annotations

import ctypes
import getpass
import hashlib
import os
import platform
import re
import subprocess
import sys
import tempfile
import time
import uuid
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path, PurePath, PurePosixPath

from filelock import FileLock

from builder.problems import UsageError
from builder.workspace.store import write_new

# Kinds of file systems that lie elsewhere: those of util-linux (mnt_fstype_is_netfs in libmount),
# Apple's, and the folders of its host that a virtual machine sees. What runs outside the kernel
# (fuse) may lie anywhere.
ELSEWHERE = re.compile(
    r"cifs|smb.*|nfs.*|afs|afpfs|ncpfs|ceph|glusterfs|lustre|9p.*|webdav|davfs.*|fuse(\..+)?"
    r"|vboxsf|virtiofs|prl_fs|vmhgfs"
)
DRIVE_REMOTE = 4  # GetDriveTypeW, fileapi.h
WAIT_S = 60.0
LOOK_AGAIN_S = 0.05


def is_on_share(folder: Path) -> bool:
    """Whether a folder lies on a network share, as far as this system tells."""
    whole = folder.resolve()
    if sys.platform == "win32":
        return _is_remote_drive(whole)
    return is_elsewhere(whole, _mounts())


def is_elsewhere(path: PurePath, mounts: Iterable[tuple[str, str]]) -> bool:
    """Whether the innermost mount around `path` is a share. mounts: (where, kind of file system),
    in the order in which they were made."""
    around = [(PurePosixPath(where), kind) for where, kind in mounts]
    inside = [(len(where.parts), n) for n, (where, _) in enumerate(around) if _holds(where, path)]
    return bool(inside) and ELSEWHERE.fullmatch(around[max(inside)[1]][1]) is not None


def _holds(where: PurePosixPath, path: PurePath) -> bool:
    return path == where or where in path.parents


def linux_mounts(text: str) -> Iterator[tuple[str, str]]:
    """(where, kind) of each line of /proc/self/mountinfo, see proc(5)."""
    for line in text.splitlines():
        before, _, after = line.partition(" - ")
        where, kind = before.split(" ")[4], after.split(" ")[0]
        yield re.sub(r"\\([0-7]{3})", lambda code: chr(int(code[1], 8)), where), kind


def mac_mounts(text: str) -> Iterator[tuple[str, str]]:
    """(where, kind) of each line of mount(8): `//server/practice on /Volumes/practice (smbfs)`."""
    for line in text.splitlines():
        if found := re.fullmatch(r".+? on (/.*) \(([a-z0-9]+)\b.*\)", line):
            yield found[1], found[2]


def _mounts() -> Iterator[tuple[str, str]]:
    try:
        if sys.platform == "darwin":
            told = subprocess.run(["/sbin/mount"], capture_output=True, text=True, check=False)
            return mac_mounts(told.stdout)
        return linux_mounts(Path("/proc/self/mountinfo").read_text("utf-8", "replace"))
    except OSError:
        return iter(())


def _is_remote_drive(folder: Path) -> bool:
    windows = getattr(ctypes, "windll", None)
    root = folder.anchor
    return root.startswith("\\\\") or (
        windows is not None and windows.kernel32.GetDriveTypeW(root) == DRIVE_REMOTE
    )


@contextmanager
def held(
    file: Path,
    *,
    owner: str = "",
    wait: float = WAIT_S,
    pause: Callable[[float], None] = time.sleep,
) -> Iterator[None]:
    """Hold the lock that is the file `file` while nobody else does, on any computer.

    owner: this computer and user. What a command of theirs left when it was killed is taken over:
    a lock of the system, which ends with its process, lets one command of an owner in at a time.
    Raises UsageError where another owner's lock does not end in `wait` seconds.
    """
    own = owner or _owner()
    name = hashlib.sha256(f"{own}\n{file}".encode()).hexdigest()[:16]
    with FileLock(Path(tempfile.gettempdir()) / f"practice-site-{name}.lock"):
        _taken(file, own, wait, pause)
        try:
            yield
        finally:
            _removed(file, pause)


def _taken(file: Path, own: str, wait: float, pause: Callable[[float], None]) -> None:
    waited = 0.0
    while not _made(file, own):
        other = _holder(file)
        if other == own:
            return
        if waited >= wait:
            raise UsageError(
                f"{file}: a command on another computer ({other or 'unknown'}) is using the log. "
                "Try again when it has ended; if none is running there, delete this file."
            )
        pause(LOOK_AGAIN_S)
        waited += LOOK_AGAIN_S


def _made(file: Path, own: str) -> bool:
    """Make the lock, whole with its owner, unless there is one."""
    try:
        write_new(file, own.encode())
    except FileExistsError:
        return False
    except PermissionError:
        if os.name != "nt":
            raise
        return False  # Windows says so of a file that is being deleted
    return True


def _removed(file: Path, pause: Callable[[float], None]) -> None:
    """Delete the lock; on Windows nobody can while another command just reads whose it is."""
    for _ in range(100 if os.name == "nt" else 0):
        try:
            return file.unlink(missing_ok=True)
        except PermissionError:
            pause(LOOK_AGAIN_S)
    return file.unlink(missing_ok=True)


def _holder(file: Path) -> str:
    """Whose lock it is; "" where it is gone, or just being made."""
    try:
        return file.read_text("utf-8", "replace")
    except OSError:
        return ""


def _owner() -> str:
    try:
        user = getpass.getuser()
    except (KeyError, OSError, ImportError):  # a user without a name
        user = str(Path.home())
    return f"{user} on {platform.node()}, {uuid.getnode():012x}"
