"""The root of the published folder: a page that lists nobody, a word to robots, and
the way to today's page for addresses that are gone (a static host shows 404.html for those)."""

from __future__ import annotations

from pathlib import Path

from builder.text.templates import folder
from builder.workspace.published import FOLDER_MARK, written_by_us
from builder.workspace.store import write_whole


def write_root(out: Path) -> None:
    """Write what the root needs, where they are missing or old; a file of the clinic's own stays.

    In a folder from before there was a mark no file says whose it is: there all are replaced.
    """
    out.mkdir(parents=True, exist_ok=True)
    marked = (out / FOLDER_MARK).is_file()
    for source in sorted((folder() / "root").iterdir()):
        # A name that begins with a dot would be lost in some packages.
        target = out / (".nojekyll" if source.name == "nojekyll" else source.name)
        data = source.read_bytes()
        ours = not target.exists() or not marked or written_by_us(target)
        if ours and not (target.is_file() and target.read_bytes() == data):
            write_whole(target, data)
