"""The page's own files, by the paths at which they are served: those of site_templates/ as they
lie there, so that modules find each other, and the two faces cut down to what the page shows."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from builder.make import fonts
from builder.text import templates
from builder.workspace.store import Store

TYPES = {
    ".html": "text/html; charset=utf-8",
    ".css": "text/css; charset=utf-8",
    ".js": "text/javascript; charset=utf-8",
    ".svg": "image/svg+xml",
}
BORROWED = (
    "theme/assets/tokens.css",
    "theme/assets/practice.css",
    "theme/assets/favicon.svg",
    "theme/assets/js/dom.js",
)


@dataclass(frozen=True)
class Served:
    """The bytes of a file and their media type."""

    data: bytes
    media: str


def served(texts: Iterable[str], store: Store) -> dict[str, Served]:
    """All files by path; `/` is the page. texts: everything that the page will show."""
    root = templates.folder()
    own = sorted(f for f in (root / "booth").rglob("*") if f.suffix in TYPES)
    files = {f"/{f.relative_to(root).as_posix()}": _read(f) for f in own}
    files |= {f"/{name}": _read(root / name) for name in BORROWED}
    files["/"] = files.pop("/booth/index.html")
    everything = tuple(texts)
    for name, face in (("letters", fonts.letters), ("text", fonts.text_face)):
        path = f"/theme/assets/fonts/{name}.woff2"
        files[path] = Served(face(everything, store), "font/woff2")
    return files


def _read(file: Path) -> Served:
    return Served(file.read_bytes(), TYPES[file.suffix])
