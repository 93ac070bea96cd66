"""The addresses of sites: 13 letters made of a client's code with the clinic's secret, which is
never made anew where sites were published with another."""

from __future__ import annotations

import hashlib
import hmac
import os
import secrets
from pathlib import Path

from builder.problems import UsageError
from builder.workspace import stamps
from builder.workspace.folder import SITE_MARK, Workspace
from builder.workspace.store import write_whole

SLUG_ALPHABET = "0123456789abcdefghjkmnpqrstvwxyz"  # base32 without the look-alikes i l o u
SLUG_LENGTH = 13  # letters of 5 bits: 65 bits, too many to guess
SLUG_PATTERN = f"[{SLUG_ALPHABET}]{{{SLUG_LENGTH}}}"
KEY_BYTES = 32


def secret(workspace: Workspace, out: Path | None = None) -> bytes:
    """The key of all addresses, made once. Never made anew where sites were published with another.

    Raises UsageError when it is missing although `out` holds published sites.
    """
    file = workspace.hidden / "secret"
    if file.is_file():
        return _key(file)
    if (workspace.root / stamps.FILE).is_file():
        raise UsageError(
            f"{file}: the secret is missing, but sites were built here before; a new secret would "
            "change every printed address. Restore the file from your copy."
        )
    published = [m.parent.name for m in out.glob(f"*/{SITE_MARK}")] if out and out.is_dir() else []
    if published:
        raise UsageError(
            f"{file}: the secret is missing, but {out} holds {len(published)} published site(s); "
            "a new secret would change every printed address. Restore the file from your copy."
        )
    return _made(file)


def _key(file: Path) -> bytes:
    try:
        key = bytes.fromhex(file.read_text("ascii").strip())
    except ValueError:
        key = b""
    if len(key) != KEY_BYTES:
        raise UsageError(f"{file}: the secret is damaged. Restore it from your copy.")
    return key


def _made(file: Path) -> bytes:
    key = secrets.token_bytes(KEY_BYTES)
    write_whole(file, (key.hex() + "\n").encode(), lasting=True)
    os.chmod(file, 0o600)
    return _key(file)


def slug(key: bytes, code: str) -> str:
    """The 13 letters that name a client's site: a keyed hash (HMAC-SHA-256) of the code."""
    number = int.from_bytes(hmac.digest(key, code.encode(), hashlib.sha256))
    return "".join(SLUG_ALPHABET[(number >> (5 * i)) & 31] for i in range(SLUG_LENGTH))
