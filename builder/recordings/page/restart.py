"""What a recording page has in common with the one before it: its address and the secret of its
windows. So a window with a recording that was not kept goes on once the page is started again."""

from __future__ import annotations

import hashlib
import re
import secrets
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path

from builder.workspace.store import write_new

SESSION_FILE = "recording-session"  # in the hidden folder of the workspace
SESSION_BYTES = 24
SESSION_PATTERN = re.compile(r"[A-Za-z0-9_-]{32}")  # base64 of so many bytes
# Below the ports that systems give to outgoing connections: from 49152 (RFC 6335, 6), on Linux from
# 32768 (ip_local_port_range).
PORTS = range(20_000, 32_000)
USUAL_PORTS = 4


def usual_ports(folder: Path) -> Iterator[int]:
    """The ports at which recordings go into `folder`, always the same ones, the first one first."""
    digest = hashlib.sha256(str(folder.resolve()).encode()).digest()
    for i in range(USUAL_PORTS):
        yield PORTS[int.from_bytes(digest[4 * i : 4 * i + 4]) % len(PORTS)]


def session_secret(hidden: Path) -> str:
    """The secret of the windows, made once for the hidden folder of a workspace. Raises OSError.

    A damaged one is made anew: windows that are open then need the new address.
    """
    file, new = hidden / SESSION_FILE, secrets.token_urlsafe(SESSION_BYTES)
    if not _read(file):
        file.unlink(missing_ok=True)
        with suppress(FileExistsError):  # another page was quicker
            write_new(file, new.encode())
    return _read(file) or new


def _read(file: Path) -> str:
    """The secret; "" when it is missing or damaged."""
    try:
        text = file.read_text("ascii", errors="replace")
    except FileNotFoundError:
        return ""
    return text if SESSION_PATTERN.fullmatch(text) else ""
