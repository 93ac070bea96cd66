"""The page's own files, by the paths at which they are served: those of site_templates/ as they
lie there, so that modules find each other, and the two faces cut down to what the page shows."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from builder.make import fonts
from builder.text import templates
from builder.workspace.store import Store

MEDIA_TYPES = {
    ".html": "text/html; charset=utf-8",
    ".css": "text/css; charset=utf-8",
    ".js": "text/javascript; charset=utf-8",
    ".svg": "image/svg+xml",
}
SHARED_FILES = (
    "theme/assets/tokens.css",
    "theme/assets/practice.css",
    "theme/assets/favicon.svg",
    "theme/assets/js/dom.js",
    "theme/assets/js/microphone.js",
    "theme/assets/worklets/tap.js",
)


@dataclass(frozen=True)
class ServedFile:
    """The bytes of a file and their media type."""

    data: bytes
    media: str


def page_files(texts: Iterable[str], store: Store) -> dict[str, ServedFile]:
    """All files by path; `/` is the page. texts: everything that the page will show."""
    root = templates.folder()
    own = sorted(f for f in (root / "recording_page").rglob("*") if f.suffix in MEDIA_TYPES)
    files = {f"/{f.relative_to(root).as_posix()}": _read(f) for f in own}
    files |= {f"/{name}": _read(root / name) for name in SHARED_FILES}
    files["/"] = files.pop("/recording_page/index.html")
    everything = tuple(texts)
    faces = {"letters": fonts.letters, "text": fonts.text_face, "phonetic": fonts.phonetic_face}
    for name, face in faces.items():
        path = f"/theme/assets/fonts/{name}.woff2"
        files[path] = ServedFile(face(everything, store), "font/woff2")
    return files


def _read(file: Path) -> ServedFile:
    return ServedFile(file.read_bytes(), MEDIA_TYPES[file.suffix])
