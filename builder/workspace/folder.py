"""The folder in which a clinic works: found upwards from a program, by its mkdocs.yml.

It holds programs/ with the clinic file and, hidden in .practice/ (0700, never in version control),
the secret that makes the sites' addresses, that of the recording page's windows, the clinic's log
and the plans that its records name, the store of what was made, and stamps.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from builder.problems import UsageError

HIDDEN_FOLDER = ".practice"
PROGRESS = "progress"  # the therapist's own pages and PDFs of clients, by code; never published
SITE_MARK = "practice.json"  # stands in every published site; by it a site is known as ours


@dataclass(frozen=True)
class Workspace:
    """A clinic's working folder."""

    root: Path

    @property
    def hidden(self) -> Path:
        """The folder of the secret, the store and the stamps; made when it is missing."""
        folder = self.root / HIDDEN_FOLDER
        folder.mkdir(mode=0o700, exist_ok=True)
        return folder

    @property
    def begun(self) -> bool:
        """Whether the hidden folder is there: something was made here before."""
        return (self.root / HIDDEN_FOLDER).is_dir()

    @property
    def index(self) -> Path:
        """The folder of the index of words; looked for only, made by the index itself."""
        return self.root / HIDDEN_FOLDER / "index"

    @property
    def store(self) -> Path:
        """The folder of everything that was made once."""
        return self.hidden / "store"


def find(start: Path) -> Workspace:
    """The workspace around a file or folder. Raises UsageError when there is none."""
    for folder in (start.resolve(), *start.resolve().parents):
        if (folder / "mkdocs.yml").is_file():
            return Workspace(folder)
    raise UsageError(
        f"{start}: this is not inside a practice folder (one with mkdocs.yml and programs/ in it). "
        "`practice-site start` makes one."
    )
