"""What stands at the root of the published folder: a word to robots, and the way to today's page
for addresses that are gone. A static host shows 404.html where it finds nothing."""

from __future__ import annotations

from pathlib import Path

from builder.store import write_whole
from builder.templates import folder


def write_root(out: Path) -> None:
    """Write robots.txt, 404.html and .nojekyll where they are missing or old."""
    out.mkdir(parents=True, exist_ok=True)
    for source in sorted((folder() / "root").iterdir()):
        # A name that begins with a dot would be lost in some packages.
        target = out / (".nojekyll" if source.name == "nojekyll" else source.name)
        data = source.read_bytes()
        if not target.is_file() or target.read_bytes() != data:
            write_whole(target, data)
