"""The folder of published sites says of itself whose it is: a file at its root holds a fingerprint
of the secret that its addresses were made with, from which nobody can tell the secret."""

from __future__ import annotations

import hashlib
import hmac
import json
from pathlib import Path

from builder.problems import UsageError
from builder.workspace.store import write_whole

FOLDER_MARK = "practice-site.json"  # the file at the root of the published folder
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
