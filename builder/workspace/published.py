"""The folder of published sites, ours alone, says so of itself: a file at its root holds a
fingerprint of the secret that its addresses were made with, from which nobody can tell the secret;
every other file that is written there says who writes it."""

from __future__ import annotations

import hashlib
import hmac
import json
from collections.abc import Iterable
from contextlib import suppress
from pathlib import Path

from builder.problems import UsageError
from builder.workspace.folder import HIDDEN_FOLDER, SITE_MARK, Workspace
from builder.workspace.program_files import PROGRAMS
from builder.workspace.store import write_whole

FOLDER_MARK = "practice-site.json"  # the file at the root of the published folder
WRITTEN_BY_US = b"practice-site writes this file"  # stands in every file of ours at the root
# What hosts and systems put into a folder by themselves, beside all names that begin with a dot.
NOBODYS = ("CNAME", "Thumbs.db", "desktop.ini", "lost+found", "System Volume Information")
NAMED = 3  # of the files that are in the way so many are named
PURPOSE = b"the folder of published sites"  # no client's code: a code has no blanks


def fingerprint_of(key: bytes) -> str:
    """What tells one secret from another and tells nothing else: 32 hex digits."""
    return hmac.digest(key, PURPOSE, hashlib.sha256).hex()[:32]


def fingerprint_in(out: Path) -> str:
    """The fingerprint of the secret that `out` was made with; "" for a folder without a mark.

    Raises UsageError for a mark that cannot be read.
    """
    file = out / FOLDER_MARK
    if not file.is_file():
        return ""
    try:
        found = json.loads(file.read_text("utf-8"))["secret"]
    except (ValueError, KeyError, TypeError, RecursionError):
        found = None
    if not isinstance(found, str) or not found:
        raise UsageError(
            f"{file}: this file is damaged; it tells with which secret the folder was made. "
            "Restore it from your copy."
        )
    return found


def mark(out: Path, key: bytes) -> None:
    """Mark `out` as a folder of published sites, made with the secret `key`."""
    text = json.dumps({"form": 1, "secret": fingerprint_of(key)}, sort_keys=True) + "\n"
    file = out / FOLDER_MARK
    if not file.is_file() or file.read_text("utf-8") != text:
        out.mkdir(parents=True, exist_ok=True)
        write_whole(file, text.encode())


def require_public(out: Path, workspace: Workspace, programs: Iterable[Path]) -> None:
    """UsageError when sites in `out` would lie with what must never be published.

    programs: the folders of the programs.
    """
    out, root = out.resolve(), workspace.root.resolve()
    folders = [folder.resolve() for folder in (workspace.root / PROGRAMS, *programs)]
    around = any(folder.is_relative_to(out) for folder in (root, *folders))
    inside = any(out.is_relative_to(f) for f in (root / HIDDEN_FOLDER, *folders) if f != root)
    if around or inside:
        raise UsageError(
            f"{out}: this folder holds your programs or the secret of the addresses, which must "
            "not be published. Choose a folder for the sites alone, as in `--out public`."
        )


def require_own(out: Path) -> None:
    """UsageError when `out` holds files of somebody else and is not known as ours."""
    if not out.is_dir() or (out / FOLDER_MARK).is_file():
        return
    if any(map(_is_site, out.iterdir())):  # a folder from before there was a mark
        return
    if foreign := others(out):
        raise UsageError(
            f"{out}: this folder holds something else ({_first(foreign)}). Choose a folder for the "
            "sites alone, or, where this is it, move the rest elsewhere."
        )


def others(out: Path) -> list[str]:
    """The names in `out` of what neither this tool nor a host or system puts there, sorted."""
    if not out.is_dir():
        return []
    there = sorted(entry for entry in out.iterdir() if not _nobodys(entry))
    own = (entry for entry in there if _is_site(entry) or written_by_us(entry))
    names = {FOLDER_MARK, *(entry.name for entry in own)}
    return [entry.name for entry in there if entry.name not in names]


def told_others(out: Path) -> str:
    """A sentence on what lies among the sites and is published with them; "" where nothing does."""
    found = others(out)
    what = f"what lies among the sites is published with them ({_first(found)})"
    return f"{out}: {what}. Move it elsewhere, unless your host needs it." if found else ""


def _first(names: list[str]) -> str:
    more = len(names) - NAMED
    named = ", ".join(f"`{name}`" for name in names[:NAMED])
    return f"{named} and {more} more" if more > 0 else named


def written_by_us(file: Path) -> bool:
    """Whether a file at the root says that this tool writes it."""
    return file.is_file() and WRITTEN_BY_US in file.read_bytes()


def languages(out: Path) -> tuple[str, ...]:
    """Those of the pages of all sites in `out`, as in ("en", "es"), sorted; none of a site from
    before its mark said so."""
    found: set[str] = set()
    for file in out.glob(f"*/{SITE_MARK}"):
        with suppress(OSError, ValueError, KeyError, TypeError, RecursionError):
            found.update(map(str, json.loads(file.read_text("utf-8"))["languages"]))
    return tuple(sorted(found))


def _nobodys(entry: Path) -> bool:
    return entry.name.startswith(".") or entry.name in NOBODYS


def _is_site(folder: Path) -> bool:
    try:
        return bool(json.loads((folder / SITE_MARK).read_text("utf-8"))["site"] == folder.name)
    except (OSError, ValueError, KeyError, TypeError, RecursionError):
        return False
