"""Content key -> file. What was made once is found again; a file appears whole or not at all.

Beside each file stands its digest, so that one which a disk or another program damaged counts as
missing and is made again.
"""

from __future__ import annotations

import hashlib
import json
import os
import stat
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

DIGEST = ".sha256"  # ending of the file that holds another one's digest


def key_of(**parts: Any) -> str:
    """The content key of all that decides a result: 32 hex digits of SHA-256."""
    text = json.dumps(parts, sort_keys=True, ensure_ascii=False, separators=(",", ":"))
    return hashlib.sha256(text.encode()).hexdigest()[:32]


def digest_of(file: Path) -> str:
    """The first 32 hex digits of the SHA-256 of a file."""
    with file.open("rb") as stream:
        return hashlib.file_digest(stream, "sha256").hexdigest()[:32]


class Store:
    """A folder of results by key. Safe for several processes: files are moved in whole."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder

    def path(self, key: str, ending: str) -> Path:
        """Where the file of `key` is or will be; `ending` with its dot, as in ".mp3"."""
        return self.folder / key[:2] / (key + ending)

    def has(self, key: str, *endings: str) -> bool:
        """Whether every one of the endings is there, as it was put."""
        return all(self._whole(key, ending) is not None for ending in endings)

    def put(self, key: str, ending: str, data: bytes) -> Path:
        """Write `data` under `key`; whoever comes second overwrites with the same content."""
        target = self.path(key, ending)
        target.parent.mkdir(parents=True, exist_ok=True)
        write_whole(target, data)
        write_whole(self.path(key, ending + DIGEST), _digest(data))
        return target

    def bytes_of(self, key: str, ending: str, make: Callable[[], bytes]) -> bytes:
        """The stored bytes, made by `make` when they are missing or damaged."""
        data = self._whole(key, ending)
        if data is None:
            data = make()
            self.put(key, ending, data)
        return data

    def _whole(self, key: str, ending: str) -> bytes | None:
        """The stored bytes; None when they are missing or not those that were put."""
        try:
            data = self.path(key, ending).read_bytes()
            kept = self.path(key, ending + DIGEST).read_bytes()
        except OSError:
            return None
        return data if kept == _digest(data) else None


def _digest(data: bytes) -> bytes:
    return hashlib.sha256(data).hexdigest().encode()


def write_whole(target: Path, data: bytes, lasting: bool = False) -> None:
    """Write a file so that a reader sees all of it or nothing: temporary name, then moved.

    lasting: wait until the disk has it, so that not even a power cut leaves it empty.
    """
    with _written(target, data, lasting) as name:
        os.chmod(name, 0o644)
        os.replace(name, target)


def write_private(target: Path, data: bytes) -> None:
    """Write a file that only its owner reads (0600), whole, in the place of what was there."""
    with _written(target, data, lasting=True) as name:
        os.replace(name, target)


def rewrite(file: Path, data: bytes) -> None:
    """Write a file of the therapist's own anew, whole: where a link leads, and readable by nobody
    who could not read it before. Raises OSError for one that is write-protected."""
    there = file.resolve()
    with there.open("r+b") as stream:  # a mere exchange would not mind the protection
        mode = os.fstat(stream.fileno()).st_mode
    with _written(there, data, lasting=True) as name:
        os.chmod(name, stat.S_IMODE(mode))
        os.replace(name, there)


def require_room_for(file: Path, data: bytes) -> None:
    """Raises OSError where `rewrite` could not write."""
    there = file.resolve()
    with there.open("r+b"), _written(there, data, lasting=False):
        pass


def write_new(target: Path, data: bytes) -> None:
    """Write a private file (0600) that nobody has written yet, whole; the disk has it on return.

    Raises FileExistsError, and leaves the file as it is, where somebody was first.
    """
    with _written(target, data, lasting=True) as name:
        move_new(Path(name), target)


@contextmanager
def _written(target: Path, data: bytes, lasting: bool) -> Iterator[str]:
    """The temporary file beside `target`, 0600, gone in the end unless it was moved."""
    try:
        handle, name = tempfile.mkstemp(dir=target.parent, prefix=".new-")
    except OSError as problem:
        problem.filename = str(target)
        raise
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.write(data)
            if lasting:
                stream.flush()
                os.fsync(stream.fileno())
        yield name
    except OSError as problem:  # a full disk names no file
        problem.filename = problem.filename or str(target)
        raise
    finally:
        Path(name).unlink(missing_ok=True)


def move_new(source: Path, target: Path) -> None:
    """Move a file to a name that nothing has. Raises FileExistsError when it is taken, however
    lately: two programs that move at once never overwrite one another's file."""
    try:
        os.link(source, target)
    except (FileExistsError, FileNotFoundError):
        raise
    except OSError:  # this disk cannot link
        _move_in_two_steps(source, target)
    else:
        source.unlink()


def _move_in_two_steps(source: Path, target: Path) -> None:
    target.open("xb").close()  # an empty file holds the name meanwhile
    try:
        os.replace(source, target)
    except BaseException:
        target.unlink()
        raise
