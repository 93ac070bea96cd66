"""The addresses of sites: 13 characters made of a client's code with the clinic's secret, which is
never made anew where sites were published with another."""

from __future__ import annotations

import hashlib
import hmac
import os
import secrets
import shlex
from contextlib import suppress
from pathlib import Path

from builder.problems import UsageError
from builder.workspace import stamps
from builder.workspace.folder import HIDDEN_FOLDER, SITE_MARK, Workspace
from builder.workspace.published import fingerprint_in, fingerprint_of
from builder.workspace.store import write_new

SLUG_ALPHABET = "0123456789abcdefghjkmnpqrstvwxyz"  # base32 without the look-alikes i l o u
SLUG_LENGTH = 13  # characters of 5 bits: 65 bits, too many to guess
SLUG_PATTERN = f"[{SLUG_ALPHABET}]{{{SLUG_LENGTH}}}"
KEY_BYTES = 32


def secret(workspace: Workspace, out: Path | None = None) -> bytes:
    """The key of all addresses, made once. Never made anew where sites were published with another.

    Raises UsageError when it is missing although `out` holds published sites, or when `out` was
    made with another one.
    """
    file = workspace.hidden / "secret"
    key = _found_or_made(file, workspace, out)
    known = fingerprint_in(out) if out else ""
    if known and known != fingerprint_of(key):
        raise UsageError(
            f"{out}: this folder was made with another secret than {file}, so every printed "
            "address would change. Restore the secret from your copy, or choose another folder."
        )
    return key


def _found_or_made(file: Path, workspace: Workspace, out: Path | None) -> bytes:
    if file.is_file():
        return _key(file)
    why = _why_not_made(workspace, out)
    # Another first build may have made it meanwhile, and published with it.
    if why and not file.is_file():
        raise UsageError(
            f"{file}: the secret is missing, but {why}; a new secret would change every printed "
            "address. Restore the file from your copy."
        )
    return _key(file) if why else _made(file)


def _why_not_made(workspace: Workspace, out: Path | None) -> str:
    """Why a missing secret must not be made, as a clause; "" when it may be."""
    if stamps.tell_of_a_build(str(workspace.root)):
        return "sites were built here before"
    published = [m.parent.name for m in out.glob(f"*/{SITE_MARK}")] if out and out.is_dir() else []
    if published or (out and fingerprint_in(out)):
        return f"{out} holds {len(published)} published site(s)"
    return ""


def _key(file: Path) -> bytes:
    try:
        key = bytes.fromhex(file.read_text("ascii").strip())
    except ValueError:
        key = b""
    if len(key) != KEY_BYTES:
        raise UsageError(f"{file}: the secret is damaged. Restore it from your copy.")
    return key


def _made(file: Path) -> bytes:
    """The key of a new secret, or of the one that another first build made at the same moment."""
    data = (secrets.token_bytes(KEY_BYTES).hex() + "\n").encode()
    with suppress(FileExistsError):
        write_new(file, data)
    return _key(file)


def readable_by_others(workspace: Workspace) -> str:
    """What to say of a secret that other users of this computer can read; "" when none can."""
    folder = workspace.root / HIDDEN_FOLDER
    file = folder / "secret"
    if os.name != "posix" or not file.is_file():
        return ""
    if not (folder.stat().st_mode & 0o011 and file.stat().st_mode & 0o044):
        return ""
    return (
        f"{file}: other users of this computer can read the secret of your addresses; type "
        f"`chmod 700 {shlex.quote(str(folder))}`"
    )


def slug(key: bytes, code: str) -> str:
    """The 13 characters that name a client's site: a keyed hash (HMAC-SHA-256) of the code."""
    number = int.from_bytes(hmac.digest(key, code.encode(), hashlib.sha256))
    return "".join(SLUG_ALPHABET[(number >> (5 * i)) & 31] for i in range(SLUG_LENGTH))
