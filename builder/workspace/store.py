"""Content key -> file. What was made once is found again; a file appears whole or not at all."""

from __future__ import annotations

import hashlib
import json
import os
import tempfile
from collections.abc import Callable
from pathlib import Path
from typing import Any


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
        """Whether every one of the endings is there."""
        return all(_filled(self.path(key, ending)) for ending in endings)

    def put(self, key: str, ending: str, data: bytes) -> Path:
        """Write `data` under `key`; whoever comes second overwrites with the same content."""
        target = self.path(key, ending)
        target.parent.mkdir(parents=True, exist_ok=True)
        write_whole(target, data)
        return target

    def bytes_of(self, key: str, ending: str, make: Callable[[], bytes]) -> bytes:
        """The stored bytes, made by `make` when they are missing."""
        if self.has(key, ending):
            return self.path(key, ending).read_bytes()
        data = make()
        self.put(key, ending, data)
        return data


def _filled(file: Path) -> bool:
    """Whether there is a file with something in it: a disk once full leaves empty ones."""
    return file.is_file() and file.stat().st_size > 0


def write_whole(target: Path, data: bytes, lasting: bool = False) -> None:
    """Write a file so that a reader sees all of it or nothing: temporary name, then moved.

    lasting: wait until the disk has it, so that not even a power cut leaves it empty.
    """
    handle, name = tempfile.mkstemp(dir=target.parent, prefix=".new-")
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.write(data)
            if lasting:
                stream.flush()
                os.fsync(stream.fileno())
        os.chmod(name, 0o644)
        os.replace(name, target)
    except BaseException:
        Path(name).unlink(missing_ok=True)
        raise
