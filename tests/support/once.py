"""One process at a time: a folder that only one can make."""

from __future__ import annotations

import time
from collections.abc import Iterator
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
