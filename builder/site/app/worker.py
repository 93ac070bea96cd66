"""The service worker of one site: which files it keeps on the tablet, and in which version.

W3C Service Workers, https://www.w3.org/TR/service-workers/; site_templates/worker/sw.js does it.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Collection, Iterator
from pathlib import Path

from builder.problems import SiteError
from builder.text.templates import folder
from builder.workspace.folder import SITE_MARK

WORKER_FILE = "sw.js"
DIGITS = 16  # of a file's SHA-256, in hex
SHOWN_CODE = "/site.svg"  # of each language: no other one is shown on a page
PLACES = ('const SITE = "";', "const FILES = new Map();")


def write_worker(site: Path, slug: str, gone: Collection[str]) -> None:
    """Write the worker of the finished folder `site`, after all else.

    gone: paths of pages that only lead on to today's. The same files give the same bytes.
    """
    files = {path: _digest(site / path) for path in sorted(_needed(site, gone))}
    text = (folder() / "worker" / WORKER_FILE).read_text("utf-8")
    listed = json.dumps(files, separators=(",", ":"))
    values = (
        f"const SITE = {json.dumps(slug)};",
        f"const FILES = new Map(Object.entries({listed}));",
    )
    for place, value in zip(PLACES, values, strict=True):
        if text.count(place) != 1:
            raise SiteError(f"the worker's template has no place for '{place}'")
        text = text.replace(place, value)
    (site / WORKER_FILE).write_text(text, "utf-8", newline="\n")


def _needed(site: Path, gone: Collection[str]) -> Iterator[str]:
    """What a page shows, plays, loads or links to: not what is there for the clinic alone."""
    for file in site.rglob("*"):
        path = file.relative_to(site).as_posix()
        clinics = path in (SITE_MARK, WORKER_FILE) or path.endswith("-licence.txt")
        code = path.startswith("codes/") and not path.endswith(SHOWN_CODE)
        if file.is_file() and not (clinics or code or path.rpartition("/")[0] in gone):
            yield path


def _digest(file: Path) -> str:
    return hashlib.sha256(file.read_bytes()).hexdigest()[:DIGITS]
