"""One process at a time, and what one makes for all: the workers of one run share a folder."""

from __future__ import annotations

import shutil
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

LONG = 120  # seconds after which whoever held the lock is taken for dead


@contextmanager
def only_one(lock: Path) -> Iterator[None]:
    """Wait for the others, then go on alone."""
    give_up = time.monotonic() + LONG
    while True:
        try:
            lock.mkdir()
            break
        except FileExistsError:
            if time.monotonic() > give_up:
                raise TimeoutError(f"{lock} is held") from None
            time.sleep(0.05)
    try:
        yield
    finally:
        lock.rmdir()


def made_once(folder: Path, make: Callable[[Path], object]) -> Path:
    """`folder`, filled by `make` for whoever comes first, and for the others as it is."""
    filled = folder.with_suffix(".filled")
    with only_one(folder.with_suffix(".lock")):
        if not filled.exists():
            shutil.rmtree(folder, ignore_errors=True)  # where somebody failed
            folder.mkdir()
            make(folder)
            filled.touch()
    return folder
