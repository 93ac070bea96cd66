"""Recordings into the folder of takes, whole or not at all; nothing that is there gets lost."""

from __future__ import annotations

from collections.abc import Iterable
from contextlib import suppress
from pathlib import Path
from tempfile import TemporaryDirectory

from builder.recordings.file_names import free_name, move_beside
from builder.workspace.store import move_new, write_whole

# Folder inside that of the takes, for those that were replaced: nothing reads it.
EARLIER_FOLDER = "earlier"


def save_take(folder: Path, stem: str, stems: Iterable[str], data: bytes) -> Path:
    """Write a WAV file as `stem`.wav, or beside others as `stem`-2.wav and so on; its path.

    stems: of everything that is to be recorded; a number that would be another's name is left out
    (`bus-7` may be a phrase). Raises OSError.
    """
    folder.mkdir(parents=True, exist_ok=True)
    asked = tuple(stems)
    with TemporaryDirectory(dir=folder, prefix=".new-") as made:
        new = Path(made) / "new.wav"
        write_whole(new, data, lasting=True)
        while True:  # until no other page was quicker
            file = folder / f"{free_name(folder, stem, asked)}.wav"
            with suppress(FileExistsError):
                move_new(new, file)
                return file


def set_aside(files: Iterable[Path]) -> None:
    """Move recordings into EARLIER_FOLDER beside them, numbered where a name is taken.

    One that another page has moved already is let be. Raises OSError.
    """
    for file in files:
        folder = file.parent / EARLIER_FOLDER
        folder.mkdir(exist_ok=True)
        move_beside(file, folder)
