"""Recordings into the folder of takes, whole or not at all; nothing that is there gets lost."""

from __future__ import annotations

import os
from collections.abc import Iterable
from pathlib import Path

from builder.recordings.takes import free_name
from builder.text.slugs import numbered
from builder.workspace.store import write_whole

EARLIER_FOLDER = (
    "earlier"  # folder inside that of the takes, of those that were replaced; never used
)


def save_take(folder: Path, stem: str, stems: Iterable[str], data: bytes) -> Path:
    """Write a WAV file as `stem`.wav, or beside others as `stem`-2.wav and so on; its path.

    stems: of everything that is to be recorded; a number that would be another's name is left out
    (`bus-7` may be a phrase). Raises OSError.
    """
    folder.mkdir(parents=True, exist_ok=True)
    file = folder / f"{free_name(folder, stem, stems)}.wav"
    write_whole(file, data, lasting=True)
    return file


def set_aside(files: Iterable[Path]) -> None:
    """Move recordings into EARLIER_FOLDER beside them, numbered where a name is taken; OSError."""
    for file in files:
        folder = file.parent / EARLIER_FOLDER
        folder.mkdir(exist_ok=True)
        places = (folder / (name + file.suffix) for name in numbered(file.stem))
        os.rename(file, next(place for place in places if not place.exists()))
