"""Former versions of program files, kept before a command writes them anew, by site and file."""

from __future__ import annotations

import hashlib
import json
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from builder.workspace.folder import HIDDEN_FOLDER, Workspace
from builder.workspace.store import write_private

FOLDER = "former programs"  # in the hidden folder
MOST = 20  # kept of a file


@dataclass(frozen=True)
class Former:
    """A file as it was. after: digest of what was written in its place; told: what else belongs to
    that change, as the command that wrote it says."""

    before: bytes
    after: str
    told: Any
    kept: Path


def digest(data: bytes) -> str:
    """The SHA-256 of a file's bytes, in hex digits."""
    return hashlib.sha256(data).hexdigest()


def keep(workspace: Workspace, site: str, file: Path, data: bytes, told: Any) -> Path:
    """Keep `file` as it stands, before `data` is written in its place; where it is kept."""
    folder = workspace.hidden / FOLDER / site
    folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    there = _all(folder, file)
    number = int(there[-1].stem.rpartition(" ")[2]) + 1 if there else 1
    before = file.read_bytes().decode("utf-8")
    text = json.dumps({"before": before, "after": digest(data), "told": told}, ensure_ascii=False)
    kept = folder / f"{file.name} {number:06}.json"
    write_private(kept, text.encode())
    for old in there[: len(there) + 1 - MOST]:
        old.unlink()
    return kept


def find(workspace: Workspace, site: str, file: Path) -> Former | None:
    """What stood in `file` before the change that made it what it is now; None where it was changed
    since, or where nothing is kept."""
    return find_after(workspace, site, file, file.read_bytes())


def find_after(workspace: Workspace, site: str, file: Path, data: bytes) -> Former | None:
    """The newest former version of `file` in whose place `data` was to come; None without one."""
    now = digest(data)
    for kept in reversed(_all(workspace.hidden / FOLDER / site, file)):
        try:
            found = json.loads(kept.read_bytes())
            before = str(found["before"]).encode()
            if found["after"] == now:
                return Former(before, now, found["told"], kept)
        except (ValueError, KeyError, TypeError):
            continue
    return None


def newest(workspace: Workspace, site: str, file: Path) -> Path | None:
    """The newest former version of a file."""
    return next(reversed(_all(workspace.hidden / FOLDER / site, file)), None)


def befores(workspace: Workspace, site: str) -> dict[str, list[str]]:
    """The texts of all former versions of a site's files, by the file's name, oldest first; what
    cannot be read is left out."""
    found: dict[str, list[str]] = {}
    folder = workspace.root / HIDDEN_FOLDER / FOLDER / site
    for kept in sorted(folder.glob("*.json")):
        with suppress(OSError, ValueError, KeyError, TypeError):
            before = str(json.loads(kept.read_bytes())["before"])
            found.setdefault(kept.stem.rpartition(" ")[0], []).append(before)
    return found


def _all(folder: Path, file: Path) -> list[Path]:
    """All former versions of a file, oldest first."""
    return sorted(folder.glob(f"{file.name} [0-9][0-9][0-9][0-9][0-9][0-9].json"))
