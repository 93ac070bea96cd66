"""Where a file with practice records may be written."""

from __future__ import annotations

import os
from pathlib import Path

from builder.problems import UsageError
from builder.workspace.published import FOLDER_MARK


def require_private(file: Path) -> None:
    """UsageError where there is no folder for the file, or it would be published."""
    folder = file.resolve().parent
    if not folder.is_dir():
        raise UsageError(f"{folder}: there is no such folder.")
    if any((one / FOLDER_MARK).is_file() for one in (folder, *folder.parents)):
        raise UsageError(
            f"{file}: this folder is published. Choose a place outside it, as in "
            f"`{os.path.join('..', file.name)}`."
        )
