"""Doubtful recordings that somebody heard and called right: a list beside the recordings. It goes
by the digest of the file, so one that is recorded again must be heard again."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from builder.workspace.store import digest_of, write_whole

HEARD_LIST = "heard.txt"
HEAD = (
    "# Doubtful recordings that were heard and are right, so they are used: digest, file.\n"
    "# Delete a line to take that back.\n"
)


def heard(folder: Path) -> frozenset[str]:
    """The digests of the list of a folder of recordings; none without a list."""
    return frozenset(line.split()[0] for line in _lines(folder))


def add_heard(folder: Path, files: Iterable[Path]) -> None:
    """These were heard and are right. Raises OSError."""
    known = heard(folder)
    found = {digest_of(file): file.relative_to(folder).as_posix() for file in files}
    new = [f"{digest}  {name}" for digest, name in found.items() if digest not in known]
    if new:
        text = HEAD + "".join(f"{line}\n" for line in (*_lines(folder), *new))
        write_whole(folder / HEARD_LIST, text.encode(), lasting=True)


def _lines(folder: Path) -> tuple[str, ...]:
    """The lines that name a recording, as they stand."""
    file = folder / HEARD_LIST
    text = file.read_text("utf-8", errors="replace") if file.is_file() else ""
    stripped = (line.strip() for line in text.splitlines())
    return tuple(line for line in stripped if line and not line.startswith("#"))
