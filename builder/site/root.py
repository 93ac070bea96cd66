"""What stands at the root of the published folder: a page that lists nobody, a word to robots, and
the way to today's page for addresses that are gone (a static host shows 404.html for those)."""

from __future__ import annotations

from pathlib import Path

from builder.text.templates import folder
from builder.workspace.store import write_whole


def write_root(out: Path) -> None:
    """Write what the root needs, where they are missing or old."""
    out.mkdir(parents=True, exist_ok=True)
    for source in sorted((folder() / "root").iterdir()):
        # A name that begins with a dot would be lost in some packages.
        target = out / (".nojekyll" if source.name == "nojekyll" else source.name)
        data = source.read_bytes()
        if not target.is_file() or target.read_bytes() != data:
            write_whole(target, data)
